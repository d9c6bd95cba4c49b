"""A year of hourly weather: its monthly figures, and any of its days in short steps.

Files are read in `sources.py`; the sun's position comes from `sun.py`.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from ampwright.climate.orbit import DAYS_IN_MONTH, day_of_year
from ampwright.climate.series import SunSeries
from ampwright.climate.site import Site
from ampwright.climate.sun import SunAngles, check_step_minutes, sun_angles
from ampwright.errors import ClimateError
from ampwright.records import record

__all__ = [
    "HOURS_PER_YEAR",
    "WeatherYear",
    "monthly_figures",
    "monthly_site",
    "real_days",
    "steps_from_hours",
]

HOURS_PER_YEAR = 8760
MIN_BEAM_ELEVATION_DEG = (
    3.0  # zenith 87, the limit of pvlib's Erbs split (read): beam from a ratio fails below
)
MINUTES_PER_DAY = 1440

MonthlyFigures = tuple[tuple[float, ...], tuple[float, ...], tuple[float, ...]]


@record
class WeatherYear:
    """Hourly weather of a common year in local standard time, 1 January 0 h first."""

    site: Site
    """The place, with the monthly means of this very year."""
    ghi_w_m2: NDArray[np.float64]
    """Mean global irradiance of each hour; (8760,)."""
    dhi_w_m2: NDArray[np.float64]
    """Mean diffuse irradiance of each hour; (8760,)."""
    ambient_degc: NDArray[np.float64]
    """Air temperature at the end of each hour; (8760,)."""

    def __post_init__(self) -> None:
        """Refuse arrays that are not a common year of hours."""
        for name in ("ghi_w_m2", "dhi_w_m2", "ambient_degc"):
            shape = getattr(self, name).shape
            if shape != (HOURS_PER_YEAR,):
                raise ClimateError(f"{name} has the shape {shape}; a common year has {HOURS_PER_YEAR} hours")


def monthly_site(year: WeatherYear) -> Site:
    """Return the site of a weather year with the monthly means of its hours."""
    ghi, high, low = monthly_figures(year.ghi_w_m2, year.ambient_degc)
    return replace(year.site, ghi_kwh_m2_day=ghi, max_degc=high, min_degc=low)


def monthly_figures(ghi_w_m2: NDArray[np.float64], ambient_degc: NDArray[np.float64]) -> MonthlyFigures:
    """Mean daily irradiation in kWh/m² and mean daily maximum and minimum temperature of each month."""
    daily_kwh = ghi_w_m2.reshape(365, 24).sum(axis=1) / 1000.0
    daily_degc = ambient_degc.reshape(365, 24)
    daily_max, daily_min = daily_degc.max(axis=1), daily_degc.min(axis=1)
    edges = np.cumsum((0, *DAYS_IN_MONTH))
    months = [slice(first, last) for first, last in pairwise(edges)]
    ghi, high, low = (
        tuple(float(values[month].mean()) for month in months) for values in (daily_kwh, daily_max, daily_min)
    )
    return ghi, high, low


def real_days(
    year: WeatherYear, *, first_month: int, first_day: int, day_count: int, step_minutes: int = 15
) -> SunSeries:
    """Days of a weather year in short steps; after 31 December the year begins anew.

    The global irradiation of every hour is kept exactly; it and the diffuse part are laid out inside the
    hour by the sine of the sun's height. The beam is their difference; what would need a beam from under
    3 degrees, or one stronger than outside the atmosphere, becomes diffuse. Temperature runs straight
    between the hours.
    """
    check_step_minutes(step_minutes)
    _check_date(first_month, first_day, day_count)
    steps_per_day = MINUTES_PER_DAY // step_minutes
    start_day = day_of_year(first_month, first_day)
    angles = sun_angles(year.site, start_day=start_day, day_count=day_count, steps_per_day=steps_per_day)
    hours = (24 * (start_day - 1) + np.arange(24 * day_count)) % HOURS_PER_YEAR
    per_hour = steps_per_day // 24
    ghi_w_m2, dni_w_m2 = steps_from_hours(
        np.repeat(year.ghi_w_m2[hours], per_hour),
        np.repeat(year.dhi_w_m2[hours], per_hour),
        np.repeat(np.arange(hours.size), per_hour),
        angles,
    )
    sine = np.sin(np.deg2rad(angles.elevation_deg))
    return SunSeries(
        start_day=start_day,
        day_count=day_count,
        steps_per_day=steps_per_day,
        ghi_w_m2=ghi_w_m2,
        dni_w_m2=dni_w_m2,
        dhi_w_m2=ghi_w_m2 - dni_w_m2 * np.maximum(sine, 0.0),
        extra_normal_w_m2=angles.extra_normal_w_m2,
        sun_elevation_deg=angles.elevation_deg,
        sun_azimuth_deg=angles.azimuth_deg,
        ambient_degc=_between_hours(year.ambient_degc, hours, steps_per_day // 24),
    )


def _check_date(first_month: int, first_day: int, day_count: int) -> None:
    if not (1 <= first_month <= 12 and 1 <= first_day <= DAYS_IN_MONTH[first_month - 1]):
        raise ClimateError(
            f"first_month = {first_month}, first_day = {first_day}: no such day; "
            "a weather year has no 29 February"
        )
    if not 1 <= day_count <= 3660:
        raise ClimateError(f"day_count = {day_count}: use 1 to 3660 days")


def steps_from_hours(
    ghi_hourly: NDArray[np.float64],
    dhi_hourly: NDArray[np.float64],
    group: NDArray[np.int64],
    angles: SunAngles,
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return global and beam irradiance of each step; hourly means of the global are kept.

    Parameters
    ----------
    ghi_hourly, dhi_hourly : mean of the hour that each step lies in (n_steps,)
    group : number of that hour, from 0 (n_steps,)
    """
    sine = np.sin(np.deg2rad(angles.elevation_deg))
    weight = np.maximum(sine, 0.0)
    mean = (np.bincount(group, weights=weight) / np.bincount(group))[group]
    # An hour with light but no sun in any midpoint is twilight: spread it evenly.
    weight = np.where(mean > 0.0, weight / np.where(mean > 0.0, mean, 1.0), 1.0)
    ghi = ghi_hourly * weight
    diffuse = np.clip(dhi_hourly, 0.0, ghi_hourly) * weight
    has_beam = angles.elevation_deg > MIN_BEAM_ELEVATION_DEG
    beam = (ghi - diffuse) / np.where(has_beam, sine, 1.0)
    return ghi, np.where(has_beam, np.minimum(beam, angles.extra_normal_w_m2), 0.0)


def _between_hours(
    ambient_degc: NDArray[np.float64], hours: NDArray[np.int64], steps_per_hour: int
) -> NDArray[np.float64]:
    """Temperature at the middle of each step, straight lines between the ends of the hours."""
    share = (np.arange(steps_per_hour) + 0.5) / steps_per_hour
    before = ambient_degc[(hours - 1) % HOURS_PER_YEAR][:, None]
    after = ambient_degc[hours][:, None]
    result: NDArray[np.float64] = (before * (1.0 - share) + after * share).ravel()
    return result
