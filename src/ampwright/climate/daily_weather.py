"""Days as they follow each other: clearness and temperatures of any number of synthetic years.

From twelve monthly means alone. How a day's sun is laid out over its hours is in `hourly_sun.py`.
"""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from ampwright.climate.daily_clearness import clearness_quantile
from ampwright.climate.orbit import (
    DAYS_IN_MONTH,
    extraterrestrial_kwh_m2_day,
    monthly_extraterrestrial_kwh_m2_day,
)
from ampwright.climate.site import Site
from ampwright.records import record

__all__ = ["DailyWeather", "daily_weather", "month_of_days"]

Array = NDArray[np.float64]

# C. W. Richardson, D. A. Wright, WGEN: A Model for Generating Daily Weather Variables, USDA ARS-8 (1984): residuals
# of maximum, minimum and radiation, x' = A x + B e (second hand: as used by several public programs).
PERSISTENCE = np.array([[0.567, 0.086, -0.002], [0.253, 0.504, -0.050], [-0.006, -0.039, 0.244]])
INNOVATION = np.array([[0.781, 0.0, 0.0], [0.328, 0.637, 0.0], [0.238, -0.341, 0.873]])
SUN_PERSISTENCE = ((0.30, 0.28), (0.42, 0.36))
"""Correlation of the sun's residual from day to day in dull and in bright months, each with the mean clearness up to or from which
it holds; in a straight line between. In place of WGEN's 0.251 (docs/choices.md#slow-weather)."""
SLOW_FRAC = np.array([0.08, 0.08, 0.035])
"""Share of the variance of maximum, minimum and sun that lasts for a month (docs/choices.md#slow-weather)."""
MAX_SPREAD_K = 4.0
MIN_SPREAD_K = 4.0
"""Standard deviations of daily maximum and minimum about the month's mean (docs/choices.md#daily-temperature-spread)."""
LEAST_RANGE_K = 0.5
BURN_IN_DAYS = 30


@record
class DailyWeather:
    """Days of synthetic years; every array has the shape (n_members, n_days)."""

    irradiation_kwh_m2_day: Array
    """Global irradiation of a horizontal plane."""
    clearness_frac: Array
    """Share of what reaches the top of the air; 0 in a month without sun."""
    max_degc: Array
    """Daily maximum of the air temperature."""
    min_degc: Array
    """Daily minimum of the air temperature."""


def daily_weather(
    site: Site, *, start_day: int, day_count: int, member_count: int, seed: int = 0
) -> DailyWeather:
    """Return the days of `member_count` synthetic years; member k is the same however many there are.

    V. A. Graham, K. G. T. Hollands, A. Huget, Solar Energy 40 (1988) 83: a Gaussian sequence mapped day by day onto
    the distribution of daily clearness (`clearness_quantile`). The sequence is that of WGEN, so that temperatures go
    with the sun, plus a share that stays for a month.

    Parameters
    ----------
    start_day : day of a common year of the first day; days beyond 31 December go on at 1 January
    """
    days = (start_day - 1 + np.arange(day_count)) % 365 + 1
    month = month_of_days(days)
    mean_of = {int(one): _mean_clearness(site, int(one)) for one in np.unique(month)}
    persistence = [_sun_persistence(mean_of[one]) for one in month.tolist()]
    normal = _normals(month, persistence, member_count=member_count, seed=seed)
    outside = extraterrestrial_kwh_m2_day(site.latitude_deg, days)
    clearness = np.zeros((member_count, day_count))
    for one, mean in mean_of.items():
        here = month == one
        clearness[:, here] = clearness_quantile(_share_below(normal[:, here, 2]), mean)
    high = np.array(site.max_degc)[month - 1] + MAX_SPREAD_K * normal[:, :, 0]
    low = np.array(site.min_degc)[month - 1] + MIN_SPREAD_K * normal[:, :, 1]
    middle, half = 0.5 * (high + low), np.maximum(0.5 * (high - low), 0.5 * LEAST_RANGE_K)
    return DailyWeather(
        irradiation_kwh_m2_day=clearness * outside,
        clearness_frac=clearness,
        max_degc=middle + half,
        min_degc=middle - half,
    )


def month_of_days(days: NDArray[np.int64]) -> NDArray[np.int64]:
    """Return the month, 1 to 12, of each day of a common year, 1 to 365."""
    ends = np.cumsum(DAYS_IN_MONTH)
    return np.searchsorted(ends, days) + 1


def _mean_clearness(site: Site, month: int) -> float:
    outside = monthly_extraterrestrial_kwh_m2_day(site.latitude_deg, month)
    return site.ghi_kwh_m2_day[month - 1] / outside if outside > 0.0 else 0.0


def _sun_persistence(mean_clearness: float) -> float:
    """Return the correlation of the sun's residual from day to day in a month of this mean clearness."""
    (dull, low), (bright, high) = SUN_PERSISTENCE
    share = min(max((mean_clearness - dull) / (bright - dull), 0.0), 1.0)
    return low + (high - low) * share


def _normals(
    month: NDArray[np.int64], sun_persistence: list[float], *, member_count: int, seed: int
) -> Array:
    """Return standard normal residuals of maximum, minimum and sun (n_members, n_days, 3).

    Parameters
    ----------
    month, sun_persistence : of every day (n_days,); the days before the first are as it is
    """
    blocks = np.concatenate([[0], np.cumsum(np.diff(month) != 0)])
    drawn = np.empty((member_count, BURN_IN_DAYS + len(month), 3))
    slow = np.empty((member_count, int(blocks[-1]) + 1, 3))
    for member in range(member_count):
        generator = np.random.default_rng([seed, member])
        slow[member] = generator.standard_normal(slow.shape[1:]) @ _root_of_correlation().T
        drawn[member] = generator.standard_normal(drawn.shape[1:])
    state = np.zeros((member_count, 3))
    found = np.empty((member_count, len(month), 3))
    for day in range(drawn.shape[1]):
        persistence, innovation = _daily_sequence(sun_persistence[max(day - BURN_IN_DAYS, 0)])
        state = state @ persistence.T + drawn[:, day] @ innovation.T
        if day >= BURN_IN_DAYS:
            found[:, day - BURN_IN_DAYS] = state
    quick = found / np.sqrt(np.diag(_stationary()))
    mixed: Array = np.sqrt(1.0 - SLOW_FRAC) * quick + np.sqrt(SLOW_FRAC) * slow[:, blocks]
    return mixed


@lru_cache(maxsize=64)
def _daily_sequence(sun_persistence: float) -> tuple[Array, Array]:
    """Return the matrices of the daily sequence: WGEN's, but the sun with its own persistence.

    A = M1 / M0 and B B' = M0 - A M0 A' (N. C. Matalas, Water Resources Research 3 (1967) 937, from memory), so that
    the correlations of one day stay WGEN's, also where the persistence changes from one day to the next.
    """
    same_day = _stationary()
    next_day = PERSISTENCE @ same_day
    next_day[2, 2] = sun_persistence * same_day[2, 2]
    persistence = np.asarray(np.linalg.solve(same_day, next_day.T).T, np.float64)
    left = same_day - persistence @ same_day @ persistence.T
    return persistence, np.asarray(np.linalg.cholesky(left), np.float64)


def _stationary() -> Array:
    """Return the covariance that the daily sequence settles at: M = A M A' + B B'."""
    covariance = np.eye(3)
    for _ in range(200):
        covariance = PERSISTENCE @ covariance @ PERSISTENCE.T + INNOVATION @ INNOVATION.T
    return covariance


def _root_of_correlation() -> Array:
    """Return a factor that gives independent normals the correlation of the daily residuals."""
    covariance = _stationary()
    spread = np.sqrt(np.diag(covariance))
    root: Array = np.linalg.cholesky(covariance / np.outer(spread, spread))
    return root


def _share_below(normal: Array) -> Array:
    """Return the share of the standard normal distribution below each value."""
    flat = [0.5 * math.erfc(-value / math.sqrt(2.0)) for value in normal.ravel().tolist()]
    return np.array(flat).reshape(normal.shape)
