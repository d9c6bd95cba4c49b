"""The kinetic battery model's figures for a lead-acid battery: how much of its charge is at hand, how fast the rest comes.

The step is in `kernel`; here the figures are fitted to capacities at several discharge times, stated by the part or
else from Peukert's law with the usual exponent of its build.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cache
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from ampwright.errors import TableError
from ampwright.parts.battery import Battery, RatePoint
from ampwright.records import record

__all__ = ["Kinetic", "kinetic_capacity_frac", "kinetic_of", "peukert_capacity_frac"]

Array = NDArray[np.float64]

RATED_H = 20.0  # lead-acid is rated at this discharge time (BCI and IEC 60095-1, from memory)
PEUKERT_EXPONENTS = MappingProxyType({"agm": 1.10, "gel": 1.15, "flooded": 1.25})  # docs/choices.md#peukert
PEUKERT_HOURS = (1.0, 2.0, 5.0, 10.0, 20.0)  # docs/choices.md#peukert
EXCHANGE_PER_H = (0.01, 30.0)
GRID_COUNT = 61
REFINEMENTS = 8


@record
class Kinetic:
    """Figures of the kinetic model of one battery."""

    available_frac: float
    """Share of the charge that is available at once (c)."""
    exchange_per_h: float
    """Rate at which the rest becomes available (k)."""
    total_factor: float
    """Charge of an endlessly slow discharge over the rated capacity."""


ALL_AT_ONCE = Kinetic(available_frac=1.0, exchange_per_h=0.0, total_factor=1.0)


def kinetic_capacity_frac(duration_h: float, *, available_frac: float, exchange_per_h: float) -> float:
    """Return the charge a constant current takes in `duration_h` over the whole charge.

    J. F. Manwell and J. G. McGowan, Solar Energy 50 (1993) 399, capacity against time of discharge.

    Examples
    --------
    >>> round(kinetic_capacity_frac(10.0, available_frac=0.25, exchange_per_h=0.5), 6)
    0.626583
    """
    return 1.0 / (
        1.0 + (1.0 / available_frac - 1.0) * float(_lag_share(np.array(exchange_per_h * duration_h)))
    )


def peukert_capacity_frac(duration_h: float, exponent: float) -> float:
    """Return the capacity at a discharge time over that at 20 h: I^n t is the same for both (W. Peukert 1897).

    Examples
    --------
    >>> round(peukert_capacity_frac(5.0, 1.2), 4)
    0.7937
    """
    return math.pow(duration_h / RATED_H, (exponent - 1.0) / exponent)


def kinetic_of(part: Battery) -> Kinetic:
    """Return the kinetic figures of a battery; lithium gives all its charge at once."""
    if part.chemistry == "lfp":
        return ALL_AT_ONCE
    return _fitted(
        part.capacity_at_rates or _usual_points(part.chemistry, part.capacity_ah), part.capacity_ah
    )


def _usual_points(chemistry: str, capacity_ah: float) -> tuple[RatePoint, ...]:
    exponent = PEUKERT_EXPONENTS[chemistry]
    return tuple(
        RatePoint(duration_h=hours, capacity_ah=capacity_ah * peukert_capacity_frac(hours, exponent))
        for hours in PEUKERT_HOURS
    )


@cache
def _fitted(points: Sequence[RatePoint], capacity_ah: float) -> Kinetic:
    """Return the figures with the least squares of the relative misses.

    For a given rate the inverse of the capacity is linear in two numbers, so that only the rate is searched for.
    """
    hours = np.array([point.duration_h for point in points])
    wanted = np.array([point.capacity_ah for point in points]) / capacity_ah
    low, high = EXCHANGE_PER_H
    rates = np.geomspace(low, high, GRID_COUNT)
    for _ in range(REFINEMENTS):
        misses = [_at_rate(rate, hours, wanted)[0] for rate in rates]
        best = int(np.argmin(misses))
        low, high = rates[max(best - 1, 0)], rates[min(best + 1, rates.size - 1)]
        rates = np.geomspace(low, high, GRID_COUNT)
    rate = float(rates[GRID_COUNT // 2])
    miss, total, share = _at_rate(rate, hours, wanted)
    if not math.isfinite(miss):
        raise TableError("no kinetic model fits capacities that do not rise with the discharge time")
    return Kinetic(available_frac=share, exchange_per_h=rate, total_factor=total)


def _at_rate(rate_per_h: float, hours: Array, wanted: Array) -> tuple[float, float, float]:
    """Return the sum of squares, the whole charge over the rated one, and the share available; infinite if none fits."""
    lag = _lag_share(rate_per_h * hours)
    (level, slope), *_ = np.linalg.lstsq(
        np.column_stack([wanted, wanted * lag]), np.ones_like(wanted), rcond=None
    )
    if level <= 0.0 or slope <= 0.0:
        return math.inf, 0.0, 0.0
    found = 1.0 / (level + slope * lag)
    return float(np.sum((found / wanted - 1.0) ** 2)), float(1.0 / level), float(level / (level + slope))


def _lag_share(span: Array) -> Array:
    found: Array = -np.expm1(-span) / span
    return found
