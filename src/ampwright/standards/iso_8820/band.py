"""Times between which a fuse opens at a given current.

The standard binds only at its tabulated multiples. Between them nothing is interpolated: a fuse is never
slower at more current, so the point below bounds the longest time and the point above the shortest.
"""

from __future__ import annotations

from ampwright.errors import TableError
from ampwright.records import record
from ampwright.sources import Source
from ampwright.standards.csv_table import weakest_standing
from ampwright.standards.iso_8820.limits import FuseLimits, OpeningPoint

__all__ = ["OpeningBand", "must_open_factor", "opening_band"]


@record
class OpeningBand:
    """Bounds on the time of opening at one current."""

    opening_min_s: float
    """It stays closed at least so long; 0 = nothing is promised."""
    opening_max_s: float | None
    """It is open after so long; None = it need not open at this current."""
    source: Source
    """Where the times come from; the standing is that of the weaker one."""


def opening_band(limits: FuseLimits, *, rating_a: float, current_a: float) -> OpeningBand | None:
    """Return the bounds of the opening time, or None when the table does not speak of this rating.

    Examples
    --------
    >>> from ampwright.standards.iso_8820.limits import opening_limits
    >>> band = opening_band(opening_limits("iso-8820-3-e"), rating_a=50.0, current_a=120.0)
    >>> band.opening_min_s, band.opening_max_s
    (0.2, 60.0)
    """
    points = _points_for(limits, rating_a)
    if not points:
        return None
    factor = current_a / rating_a
    below = [
        (p.opening_max_s, p) for p in points if p.opening_max_s is not None and p.current_factor <= factor
    ]
    above = [
        (p.opening_min_s, p) for p in points if p.opening_min_s is not None and p.current_factor >= factor
    ]
    longest = min(below, key=_by_time, default=None)
    shortest = max(above, key=_by_time, default=None)
    used = [bound[1].source for bound in (longest, shortest) if bound is not None]
    first = used[0] if used else points[0].source
    return OpeningBand(
        opening_min_s=shortest[0] if shortest else 0.0,
        opening_max_s=longest[0] if longest else None,
        source=Source(
            document=first.document,
            edition=first.edition,
            place=first.place,
            standing=weakest_standing(*(source.standing for source in used or [first])),
        ),
    )


def must_open_factor(limits: FuseLimits, *, rating_a: float) -> float | None:
    """Return the smallest multiple of the rated current at which the fuse must open; None if not held.

    Serves as the conventional factor of the overload conditions in `iec_60364_4_43`.

    Examples
    --------
    >>> from ampwright.standards.iso_8820.limits import opening_limits
    >>> must_open_factor(opening_limits("iso-8820-3-c"), rating_a=15.0)
    1.35
    """
    factors = [p.current_factor for p in _points_for(limits, rating_a) if p.opening_max_s is not None]
    return min(factors, default=None)


def _points_for(limits: FuseLimits, rating_a: float) -> list[OpeningPoint]:
    """Points that speak of this rating; none outside the family's range."""
    if rating_a <= 0.0:
        raise TableError(f"fuse rating {rating_a:g} A: give a rating above 0")
    if limits.rating_max_a is not None and rating_a > limits.rating_max_a:
        return []
    if limits.rating_min_a is not None and rating_a < limits.rating_min_a:
        return []
    return [point for point in limits.points if point.holds_for(rating_a)]


def _by_time(bound: tuple[float, OpeningPoint]) -> float:
    """Sort key."""
    return bound[0]
