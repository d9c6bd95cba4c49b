"""Hours of real weather, one or many years on end: which days are whole, and their monthly figures.

Files are read in `year_files.py`; how a window of every year becomes a run of weather is in `real_years.py`.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ampwright.climate.daily_weather import month_of_days
from ampwright.climate.orbit import MONTH_NAMES
from ampwright.climate.site import Site
from ampwright.errors import ClimateError
from ampwright.records import record

__all__ = ["HourlyWeather", "hours_at", "site_of_hours"]

Array = NDArray[np.float64]
HOURS = 24
DAYS = 365


@record
class HourlyWeather:
    """Hours of weather on the clock of the use; 29 February is left out, what is missing is nan."""

    name: str
    """Name of the file, or of the files that follow each other."""
    place: str
    """What the file calls its place."""
    latitude_deg: float
    """Degrees north."""
    longitude_deg: float
    """Degrees east."""
    elevation_m: float = 0.0
    """Height above the sea."""
    utc_offset_h: float
    """Clock of the use, ahead of UTC."""
    is_typical: bool
    """True for a year put together of months of several years: it begins anew after its end."""
    first_day: int
    """First day, counted in years of 365 days from 1 January of the year 0."""
    middle_h: float
    """Clock time of the middle of the first hour, from the first midnight."""
    air_at_h: float
    """Clock time at which the first temperature holds, from the first midnight."""
    ghi_w_m2: Array
    """Global irradiance of a horizontal plane (n_hours,)."""
    dhi_w_m2: Array
    """Diffuse part of it (n_hours,); nan = not in the file."""
    ambient_degc: Array
    """Air temperature (n_hours,)."""
    notes: tuple[str, ...] = ()
    """What a reader of the answer should know of the file."""


def hours_at(hours: HourlyWeather, clock_h: Array) -> tuple[NDArray[np.int64], NDArray[np.bool_]]:
    """Return the row that covers each moment, and whether there is one; moments in hours from the first midnight."""
    rows = np.floor(clock_h - hours.middle_h + 0.5).astype(np.int64)
    count = hours.ghi_w_m2.size
    if hours.is_typical:
        return rows % count, np.ones(rows.shape, np.bool_)
    inside = (rows >= 0) & (rows < count)
    return np.clip(rows, 0, count - 1), inside


def site_of_hours(files: tuple[HourlyWeather, ...]) -> Site:
    """Return the place of the first file with the monthly means of the whole days of all files.

    Raises
    ------
    ClimateError
        Where a month of the year has no whole day.
    """
    days, sums, high, low = (np.concatenate(each) for each in zip(*map(_whole_days, files), strict=True))
    month = month_of_days(days)
    empty = [MONTH_NAMES[one - 1] for one in range(1, 13) if not (month == one).any()]
    if empty:
        raise ClimateError(
            f"{_names(files)}: no whole day in {', '.join(empty)}; add years that have them, or name the place by "
            "site or by own figures as well"
        )
    means = [
        tuple(float(values[month == one].mean()) for one in range(1, 13)) for values in (sums, high, low)
    ]
    first = files[0]
    return Site(
        id="real-years",
        name=first.place or "the place of the weather files",
        country="",
        latitude_deg=first.latitude_deg,
        longitude_deg=first.longitude_deg,
        elevation_m=first.elevation_m,
        utc_offset_h=first.utc_offset_h,
        ghi_kwh_m2_day=means[0],
        max_degc=means[1],
        min_degc=means[2],
        source=f"means of {_names(files)}",
    )


def _names(files: tuple[HourlyWeather, ...]) -> str:
    return ", ".join(each.name for each in files)


def _whole_days(hours: HourlyWeather) -> tuple[NDArray[np.int64], Array, Array, Array]:
    """Return day of year, irradiation in kWh/m² and extremes of the air of each whole day."""
    count = hours.ghi_w_m2.size
    at_h = hours.middle_h + np.arange(count)
    day = np.floor(at_h / HOURS).astype(np.int64)
    if hours.is_typical:
        day %= count // HOURS
    first = int(day.min())
    size = int(day.max()) - first + 1
    is_known = np.isfinite(hours.ghi_w_m2) & np.isfinite(hours.ambient_degc)
    known = np.bincount(day - first, weights=is_known.astype(np.float64), minlength=size)
    whole = np.flatnonzero(known == HOURS)
    sums = np.bincount(day - first, weights=np.nan_to_num(hours.ghi_w_m2), minlength=size)[whole] / 1000.0
    high, low = np.full(size, -np.inf), np.full(size, np.inf)
    np.maximum.at(high, (day - first)[is_known], hours.ambient_degc[is_known])
    np.minimum.at(low, (day - first)[is_known], hours.ambient_degc[is_known])
    return (hours.first_day + first + whole) % DAYS + 1, sums, high[whole], low[whole]
