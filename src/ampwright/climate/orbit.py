"""Sunshine above the air: what reaches a flat plane without an atmosphere, and which day stands for a month.

Needs no library but numpy, so that typed figures can be checked at once. The sun's position at a
clock time is in `sun.py`.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

__all__ = [
    "DAYS_IN_MONTH",
    "MEAN_DAY_OF_MONTH",
    "MONTH_NAMES",
    "day_of_year",
    "extraterrestrial_kwh_m2_day",
    "month_of_day",
    "monthly_extraterrestrial_kwh_m2_day",
    "representative_day",
]

SOLAR_CONSTANT_W_M2 = 1366.1  # ASTM E490-00a (from memory); also the default of pvlib (read)
DAYS_IN_MONTH = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
MONTH_NAMES = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
# S. A. Klein, Solar Energy 19 (1977) 325, recommended average day of each month (from memory).
MEAN_DAY_OF_MONTH = (17, 16, 16, 15, 15, 11, 17, 16, 15, 15, 14, 10)
KLEIN_LATITUDE_DEG = 66.5  # the table is not recommended nearer to the poles (from memory)


def day_of_year(month: int, day: int) -> int:
    """Day of a common year, 1 January = 1.

    Examples
    --------
    >>> day_of_year(1, 17), day_of_year(12, 10)
    (17, 344)
    """
    return sum(DAYS_IN_MONTH[: month - 1]) + day


def month_of_day(day: int) -> int:
    """Return the month of a day of a common year, 1 = 1 January.

    Examples
    --------
    >>> month_of_day(31), month_of_day(32), month_of_day(365)
    (1, 2, 12)
    """
    left = day
    for month, length in enumerate(DAYS_IN_MONTH, start=1):
        if left <= length:
            return month
        left -= length
    message = f"{day} is no day of a common year"
    raise ValueError(message)


def extraterrestrial_kwh_m2_day(latitude_deg: float, days: NDArray[np.int64]) -> NDArray[np.float64]:
    """Daily irradiation of a horizontal plane outside the atmosphere, one value per day of year.

    J. A. Duffie, W. A. Beckman, Solar Engineering of Thermal Processes, eq. 1.10.3 (from memory), with
    the declination of P. I. Cooper, Solar Energy 12 (1969) 333 (second hand).

    Notes
    -----
    Valid at every latitude; the sun is a point and there is no refraction.
    """
    latitude = np.deg2rad(latitude_deg)
    declination = np.deg2rad(23.45) * np.sin(2.0 * np.pi * (284.0 + days) / 365.0)
    distance_factor = 1.0 + 0.033 * np.cos(2.0 * np.pi * days / 365.0)
    sunset = np.arccos(np.clip(-np.tan(latitude) * np.tan(declination), -1.0, 1.0))
    hours = np.cos(latitude) * np.cos(declination) * np.sin(sunset)
    hours = hours + sunset * np.sin(latitude) * np.sin(declination)
    daily: NDArray[np.float64] = 24.0 / np.pi * SOLAR_CONSTANT_W_M2 / 1000.0 * distance_factor * hours
    return np.maximum(daily, 0.0)


@lru_cache(maxsize=4096)
def monthly_extraterrestrial_kwh_m2_day(latitude_deg: float, month: int) -> float:
    """Mean over the days of a month of the irradiation outside the atmosphere (a memo: 0.1 ms)."""
    first = day_of_year(month, 1)
    days = np.arange(first, first + DAYS_IN_MONTH[month - 1])
    return float(np.mean(extraterrestrial_kwh_m2_day(latitude_deg, days)))


def representative_day(latitude_deg: float, month: int) -> int:
    """Day of year that stands for a month.

    S. A. Klein (1977), recommended average days, up to 66.5 degrees of latitude. Nearer to the poles, by
    the same idea: the sunlit day whose extraterrestrial irradiation is nearest to the month's mean.
    """
    klein = day_of_year(month, MEAN_DAY_OF_MONTH[month - 1])
    mean = monthly_extraterrestrial_kwh_m2_day(latitude_deg, month)
    if abs(latitude_deg) <= KLEIN_LATITUDE_DEG or mean == 0.0:
        return klein
    first = day_of_year(month, 1)
    days = np.arange(first, first + DAYS_IN_MONTH[month - 1])
    daily = extraterrestrial_kwh_m2_day(latitude_deg, days)
    gap = np.where(daily > 0.0, np.abs(daily - mean), np.inf)
    return int(days[np.argmin(gap)])
