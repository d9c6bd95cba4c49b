"""Sunshine above the air: what reaches a flat plane without an atmosphere, and which day stands for a month.

Needs no library but numpy, so that typed figures can be checked at once. The sun's position at a
clock time is in `sun.py`.
"""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

__all__ = [
    "DAYS_IN_MONTH",
    "MEAN_DAY_OF_MONTH",
    "MONTH_NAMES",
    "day_of_year",
    "daylight_minutes",
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
PASSES = 3
RISING_DEG = (
    -0.833
)  # of the sun's centre at sunrise: refraction and half its disc (R. Walraven 1978, second hand; also NOAA's)
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


def daylight_minutes(
    latitude_deg: float, longitude_deg: float, utc_offset_h: float, day: int
) -> tuple[int, int] | None:
    """Return the clock minutes of sunrise and sunset on a day of year; None where the sun does neither.

    Declination and equation of time by J. W. Spencer, Search 2 (1971) 172, as printed in pvlib's documentation; each is
    taken at the event itself, counted in days from the beginning of the year in Greenwich.

    Examples
    --------
    At the equator and the meridian of its clock, around the March equinox, a day is 12 h 7 min long:

    >>> daylight_minutes(0.0, 0.0, 0.0, 80)
    (364, 1091)
    """
    found = []
    for side in (-1.0, 1.0):
        minute = 720.0 + side * 360.0
        for _ in range(PASSES):
            passed_days = (minute / 60.0 - utc_offset_h) / 24.0
            half_min, ahead_min = _half_day_minutes(latitude_deg, day + passed_days)
            if math.isnan(half_min):
                return None
            minute = 720.0 - 4.0 * longitude_deg + 60.0 * utc_offset_h - ahead_min + side * half_min
        found.append(round(minute) % 1440)
    return found[0], found[1]


def _half_day_minutes(latitude_deg: float, day: float) -> tuple[float, float]:
    """Return half of the day's length, NaN without sunrise, and the equation of time."""
    angle = 2.0 * math.pi * (day - 1.0) / 365.0
    declination = (
        0.006918
        - 0.399912 * math.cos(angle)
        + 0.070257 * math.sin(angle)
        - 0.006758 * math.cos(2.0 * angle)
        + 0.000907 * math.sin(2.0 * angle)
        - 0.002697 * math.cos(3.0 * angle)
        + 0.00148 * math.sin(3.0 * angle)
    )
    ahead_min = (1440.0 / (2.0 * math.pi)) * (
        0.0000075
        + 0.001868 * math.cos(angle)
        - 0.032077 * math.sin(angle)
        - 0.014615 * math.cos(2.0 * angle)
        - 0.040849 * math.sin(2.0 * angle)
    )
    latitude = math.radians(latitude_deg)
    cosine = (math.sin(math.radians(RISING_DEG)) - math.sin(latitude) * math.sin(declination)) / (
        math.cos(latitude) * math.cos(declination)
    )
    return (4.0 * math.degrees(math.acos(cosine)) if -1.0 < cosine < 1.0 else math.nan), ahead_min
