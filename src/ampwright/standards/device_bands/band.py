"""Times between which a device opens at a given current, over a range of air temperatures.

Nothing is interpolated between the points of a table and nothing is carried beyond it: below the lowest
point a device need not open, above the highest one the longest time stays and no shortest is promised.
The air only ever widens the band: heat brings the early edge down, cold moves the late edge out.
"""

from __future__ import annotations

from functools import lru_cache

from ampwright.errors import TableError
from ampwright.records import record
from ampwright.sources import Source
from ampwright.standards.csv_table import weakest_standing
from ampwright.standards.device_bands.classes import device_limits, reference_degc
from ampwright.standards.device_bands.rerating import rerating
from ampwright.standards.iso_8820.band import OpeningBand, opening_band
from ampwright.standards.iso_8820.limits import FuseLimits, OpeningPoint

__all__ = ["RatedDevice", "band_steps_a", "device_band", "least_square_a2s"]


@record
class RatedDevice:
    """A protective device by its class, its rating and the air it sits in."""

    device_class: str
    """One of `DEVICE_CLASSES`: a fuse family or a breaker's principle."""
    rating_a: float
    """Rated current."""
    coldest_degc: float | None = None
    """Coldest air around it; None = reference temperature."""
    hottest_degc: float | None = None
    """Hottest air around it; None = reference temperature."""
    points: tuple[OpeningPoint, ...] | None = None
    """Result of `load_points`; None = the shipped points."""


@record
class _Scale:
    """Factors on the rating for the two edges of the band."""

    early_factor: float | None
    """Early edge: never above 1; None = not held for this heat."""
    late_factor: float | None
    """Late edge: never below 1; None = not held for this cold."""
    standings: tuple[str, ...]
    """Standings of what was used."""


@lru_cache(maxsize=8192)
def device_band(device: RatedDevice, *, current_a: float) -> OpeningBand | None:
    """Return the bounds of a device's opening time, or None when no point speaks of its rating.

    Examples
    --------
    >>> band = device_band(RatedDevice(device_class="thermal", rating_a=20.0), current_a=100.0)
    >>> band.opening_min_s, band.opening_max_s
    (0.3, 5.0)
    """
    if current_a < 0.0:
        raise TableError(f"current of {current_a:g} A: may not be negative")
    limits = device_limits(device.device_class, points=device.points)
    scale = _scale(device)
    rating_a = device.rating_a
    plain = opening_band(limits, rating_a=rating_a, current_a=current_a)
    if plain is None:
        return None
    early, late = (
        None
        if factor is None
        else plain
        if factor == 1.0
        else opening_band(limits, rating_a=rating_a, current_a=current_a / factor)
        for factor in (scale.early_factor, scale.late_factor)
    )
    used = [band.source.standing for band in (early, late) if band is not None]
    return OpeningBand(
        opening_min_s=early.opening_min_s if early is not None else 0.0,
        opening_max_s=late.opening_max_s if late is not None else None,
        source=Source(
            document=plain.source.document,
            edition=plain.source.edition,
            place=plain.source.place,
            standing=weakest_standing(*(used or [plain.source.standing]), *scale.standings),
        ),
    )


def band_steps_a(device: RatedDevice) -> tuple[float, ...]:
    """Return the currents at which a device's bounds change, ascending.

    The longest time falls at such a current, the shortest just above it.

    Examples
    --------
    >>> band_steps_a(RatedDevice(device_class="iso-8820-5-sf30", rating_a=100.0))
    (200.0, 350.0, 600.0)
    """
    limits, scale = device_limits(device.device_class, points=device.points), _scale(device)
    found: set[float] = set()
    for point in _held(limits, device.rating_a):
        nominal_a = point.current_factor * device.rating_a
        if point.opening_min_s is not None and scale.early_factor is not None:
            found.add(nominal_a * scale.early_factor)
        if point.opening_max_s is not None and scale.late_factor is not None:
            found.add(nominal_a * scale.late_factor)
    return tuple(sorted(found))


def least_square_a2s(device: RatedDevice) -> float | None:
    """Return current² times shortest opening time where that is smallest among the points held; None without one.

    Notes
    -----
    What opens a device in a pulse much shorter than its times is the integral of the current's square. At the highest
    points of a table melting is all but adiabatic and that integral all but constant; at lower points it is larger.

    Examples
    --------
    >>> least_square_a2s(RatedDevice(device_class="iso-8820-3-f", rating_a=10.0))
    60.0
    """
    limits, scale = device_limits(device.device_class, points=device.points), _scale(device)
    if scale.early_factor is None:
        return None
    found = [
        (point.current_factor * device.rating_a * scale.early_factor) ** 2 * point.opening_min_s
        for point in _held(limits, device.rating_a)
        if point.opening_min_s is not None
    ]
    return min(found, default=None)


def _held(limits: FuseLimits, rating_a: float) -> tuple[OpeningPoint, ...]:
    lowest_a = 0.0 if limits.rating_min_a is None else limits.rating_min_a
    if rating_a < lowest_a or (limits.rating_max_a is not None and rating_a > limits.rating_max_a):
        return ()
    return tuple(point for point in limits.points if point.holds_for(rating_a))


@lru_cache(maxsize=1024)
def _scale(device: RatedDevice) -> _Scale:
    usual_degc = reference_degc(device.device_class)
    hottest_degc = usual_degc if device.hottest_degc is None else device.hottest_degc
    coldest_degc = usual_degc if device.coldest_degc is None else device.coldest_degc
    if coldest_degc > hottest_degc:
        raise TableError(
            f"coldest air {coldest_degc:g} degC is above the hottest, {hottest_degc:g} degC: exchange them"
        )
    hot = rerating(device.device_class, ambient_degc=hottest_degc) if hottest_degc > usual_degc else None
    cold = rerating(device.device_class, ambient_degc=coldest_degc) if coldest_degc < usual_degc else None
    early = min(hot.rating_factor, 1.0) if hot else 1.0 if hottest_degc <= usual_degc else None
    late = max(cold.rating_factor, 1.0) if cold else 1.0 if coldest_degc >= usual_degc else None
    used = tuple(
        found.source.standing for found in (hot, cold) if found is not None and found.rating_factor != 1.0
    )
    return _Scale(early_factor=early, late_factor=late, standings=used)
