"""Rows of an hourly file, each with its time, laid on the clock of the use.

What a file's text says is read in `pvgis_text.py` and `csv_hours.py`.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from ampwright.climate.hourly import HourlyWeather
from ampwright.errors import JobError, Problem

__all__ = ["MORE", "HourRows", "Spot", "capped", "laid_out"]

Array = NDArray[np.float64]
Times = NDArray[np.datetime64]
MORE = 20
"""So many problems of one file are named, the rest counted (our own choice)."""
HOUR_S = 3600
HOURS = 24
DAYS = 365
LEAP_DAY = 59
"""Days of a leap year before 29 February."""


class Spot(NamedTuple):
    """A place on earth and its clock; `utc_offset_h` None = by longitude."""

    latitude_deg: float
    longitude_deg: float
    elevation_m: float
    utc_offset_h: float | None

    @property
    def clock_offset_h(self) -> float:
        """Standard time ahead of UTC."""
        return float(round(self.longitude_deg / 15.0)) if self.utc_offset_h is None else self.utc_offset_h


class HourRows(NamedTuple):
    """Rows of one file."""

    name: str
    """Name of the file."""
    place: str
    """What the file calls its place."""
    spot: Spot | None
    """Where that is; None = the file does not say."""
    is_utc: bool
    """True when the times are UTC, False when they are the standard time of the place."""
    middle: Times
    """Middle of each hour (n_rows,)."""
    air_lead_s: int
    """Seconds by which the temperature comes before the middle."""
    ghi_w_m2: Array
    """Global irradiance (n_rows,); nan = missing."""
    dhi_w_m2: Array
    """Diffuse part (n_rows,)."""
    ambient_degc: Array
    """Air temperature (n_rows,)."""
    lines: NDArray[np.int64]
    """Line of the file of each row (n_rows,)."""
    notes: tuple[str, ...]
    """What a reader of the answer should know of the file."""


def capped(name: str, problems: list[Problem]) -> list[Problem]:
    """Return the first problems of a file, and how many more there are."""
    if len(problems) <= MORE:
        return problems
    rest = len(problems) - MORE
    return [*problems[:MORE], Problem(path=name, message=f"{rest} more of this kind; mend those above first")]


def laid_out(files: list[HourRows], home: Spot) -> list[HourlyWeather]:
    """Return the rows on the clock of a place; files of one place that follow each other become one.

    Raises
    ------
    JobError
        Where hours stand twice or at uneven minutes.
    """
    alike: dict[tuple[object, ...], list[HourRows]] = {}
    problems: list[Problem] = []
    for rows in files:
        found = _uneven(rows)
        problems += found
        minute_s = int(rows.middle[0].astype(np.int64)) % HOUR_S
        alike.setdefault((rows.spot, rows.is_utc, rows.air_lead_s, minute_s), []).append(rows)
    if not problems:
        made = [_gridded(group, home, problems) for group in alike.values()]
    if problems:
        raise JobError(problems[0].path, tuple(problems))
    return made


def _uneven(rows: HourRows) -> list[Problem]:
    seconds = rows.middle.astype(np.int64)
    odd = np.flatnonzero((seconds - seconds[0]) % HOUR_S)
    return capped(
        rows.name,
        [
            Problem(
                path=f"{rows.name} > time",
                line=int(rows.lines[at]),
                message="not at the same minute as the first row; every row must be one hour, write hourly means",
            )
            for at in odd
        ],
    )


def _gridded(group: list[HourRows], home: Spot, problems: list[Problem]) -> HourlyWeather:
    """Return rows of one place on one axis of hours, gaps as nan; hours that stand twice become problems."""
    first = group[0]
    spot = first.spot or home
    middle = np.concatenate([rows.middle for rows in group]).astype("datetime64[s]")
    if first.is_utc:
        middle = middle + np.timedelta64(round(home.clock_offset_h * HOUR_S), "s")
    day, second = _common_days(middle)
    kept = day >= 0
    position_s = day * (HOURS * HOUR_S) + second
    start_s = int(position_s[kept].min())
    row = (position_s - start_s) // HOUR_S
    problems += _twice(group, np.where(kept, row, -1 - np.arange(row.size)))
    first_day = start_s // (HOURS * HOUR_S)
    middle_h = (start_s - first_day * HOURS * HOUR_S) / HOUR_S
    size = int(row[kept].max()) + 1

    def on_axis(name: str) -> Array:
        values = np.full(size, np.nan)
        values[row[kept]] = np.concatenate([getattr(rows, name) for rows in group])[kept]
        return values

    return HourlyWeather(
        name=", ".join(rows.name for rows in group),
        place=first.place,
        latitude_deg=spot.latitude_deg,
        longitude_deg=spot.longitude_deg,
        elevation_m=spot.elevation_m,
        utc_offset_h=home.clock_offset_h,
        is_typical=False,
        first_day=int(first_day),
        middle_h=middle_h,
        air_at_h=middle_h - first.air_lead_s / HOUR_S,
        ghi_w_m2=on_axis("ghi_w_m2"),
        dhi_w_m2=on_axis("dhi_w_m2"),
        ambient_degc=on_axis("ambient_degc"),
        notes=tuple(note for rows in group for note in rows.notes),
    )


def _common_days(middle: Times) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Return the day of each moment in years of 365 days, -1 on 29 February, and the second of its day."""
    whole = middle.astype("datetime64[D]")
    years = whole.astype("datetime64[Y]")
    day = (whole - years.astype("datetime64[D]")).astype(np.int64)
    year = years.astype(np.int64) + 1970
    is_leap = ((year % 4 == 0) & (year % 100 != 0)) | (year % 400 == 0)
    common = day - (is_leap & (day > LEAP_DAY))
    found = np.where(is_leap & (day == LEAP_DAY), -1, year * DAYS + common)
    return found, (middle - whole).astype("timedelta64[s]").astype(np.int64)


def _twice(group: list[HourRows], row: NDArray[np.int64]) -> list[Problem]:
    order = np.argsort(row, kind="stable")
    again = order[1:][np.diff(row[order]) == 0]
    names = np.repeat(np.arange(len(group)), [rows.middle.size for rows in group])
    lines = np.concatenate([rows.lines for rows in group])
    return capped(
        group[0].name,
        [
            Problem(
                path=f"{group[names[at]].name} > time",
                line=int(lines[at]),
                message="this hour stands twice; take one out, and write standard time all the year, no summer time",
            )
            for at in sorted(again.tolist())
        ],
    )
