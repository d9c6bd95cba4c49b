"""How a day's sun is spread over its hours when clouds come and go, and how it is split into beam and diffuse.

Which day has how much is in `daily_weather.py`; where the sun stands comes from `sun.py`.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

__all__ = ["clouded_ghi_w_m2", "erbs_diffuse_frac", "hourly_clearness"]

Array = NDArray[np.float64]

MOST_CLEARNESS = 0.88  # R. Aguiar, M. Collares-Pereira (1992): the clearest hour at noon (from memory)
LEAST_CLEARNESS = 0.02  # own choice: no hour of a day is wholly dark (docs/choices.md#darkest-hour)
HOURS = 24
FITTING_ROUNDS = 6


def hourly_clearness(day_clearness: Array, hour_sine: Array, normal: Array) -> Array:
    """Return the clearness of each hour of days with a given mean clearness.

    R. Aguiar, M. Collares-Pereira, Solar Energy 49 (1992) 167, time-dependent autoregressive Gaussian model: mean and
    spread depend on the day and the sun's height, and what is left over goes on from hour to hour (second hand:
    coefficients as used by two independent public programs).

    Parameters
    ----------
    day_clearness : (n_members, n_days)
    hour_sine : sine of the sun's height in each hour (n_days, 24); 0 at night
    normal : standard normal numbers (n_members, n_days, 24)

    Notes
    -----
    Held between 0.02 and 0.88; 0 at night. The mean of the hours is near the day's, not equal to it: the caller
    scales the day.
    """
    day = day_clearness
    persistence = 0.38 + 0.06 * np.cos(7.4 * day - 2.5)
    trend = -0.19 + 1.12 * day + 0.24 * np.exp(-8.0 * day)
    bend = 0.32 - 1.6 * (day - 0.5) ** 2
    slope = 0.19 + 2.27 * day**2 - 2.51 * day**3
    spread = 0.14 * np.exp(-20.0 * (day - 0.35) ** 2)
    growth = 3.0 * (day - 0.45) ** 2 + 16.0 * day**5
    found = np.zeros(normal.shape)
    left = normal[:, :, 0]
    fresh = np.sqrt(1.0 - persistence**2)
    for hour in range(HOURS):
        left = persistence * left + fresh * normal[:, :, hour]
        sine = hour_sine[:, hour]
        is_day = sine > 0.0
        safe = np.where(is_day, sine, 1.0)
        mean = trend + bend * np.exp(-slope / safe)
        scatter = spread * np.exp(growth * (1.0 - safe))
        clearness = np.clip(mean + scatter * left, LEAST_CLEARNESS, MOST_CLEARNESS)
        found[:, :, hour] = np.where(is_day, clearness, 0.0)
    return found


def clouded_ghi_w_m2(hourly: Array, outside_w_m2: Array, irradiation_kwh_m2_day: Array) -> Array:
    """Return the global irradiance of every step, each day with its own sum.

    Parameters
    ----------
    hourly : clearness of each hour (n_members, n_days, 24)
    outside_w_m2 : horizontal irradiance above the air in each step (n_days, steps_per_day)
    irradiation_kwh_m2_day : sum of each day (n_members, n_days)

    Notes
    -----
    Between the middles of hours clearness runs straight. Steps are capped at the greatest clearness and the rest of
    the day raised until the sum fits; a day clearer than that in the mean keeps its sum.
    """
    steps_per_day = outside_w_m2.shape[1]
    step_hour = (np.arange(steps_per_day) + 0.5) * HOURS / steps_per_day - 0.5
    before = np.clip(np.floor(step_hour).astype(np.int64), 0, HOURS - 1)
    after = np.minimum(before + 1, HOURS - 1)
    share = np.clip(step_hour - before, 0.0, 1.0)
    first, second = hourly[:, :, before], hourly[:, :, after]
    first = np.where(first > 0.0, first, second)  # the hour before sunrise has none of its own
    second = np.where(second > 0.0, second, first)
    ghi = (first + (second - first) * share) * outside_w_m2
    cap = MOST_CLEARNESS * outside_w_m2
    wanted = irradiation_kwh_m2_day * 1000.0 * steps_per_day / 24.0
    for _ in range(FITTING_ROUNDS):
        ghi = np.minimum(_scaled(ghi, wanted), cap)
    return _scaled(ghi, wanted)


def _scaled(ghi: Array, wanted: Array) -> Array:
    total = ghi.sum(axis=2)
    factor = np.divide(wanted, total, out=np.zeros_like(wanted), where=total > 0.0)
    result: Array = ghi * factor[:, :, None]
    return result


def erbs_diffuse_frac(clearness: Array) -> Array:
    """Return the diffuse share of global irradiance.

    D. G. Erbs, S. A. Klein, J. A. Duffie, Solar Energy 28 (1982) 293 (coefficients read in pvlib).

    Examples
    --------
    >>> erbs_diffuse_frac(np.array([0.0, 0.9])).tolist()
    [1.0, 0.165]
    """
    middle = (
        0.9511 - 0.1604 * clearness + 4.388 * clearness**2 - 16.638 * clearness**3 + 12.336 * clearness**4
    )
    low = 1.0 - 0.09 * clearness
    result: Array = np.where(clearness > 0.8, 0.165, np.where(clearness > 0.22, middle, low))
    return result
