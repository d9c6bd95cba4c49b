"""What a weather file says: its place, its hours and gaps, its monthly means. Runs in the worker; knows no Django."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

import numpy as np

from ampwright.climate.hourly import site_of_hours
from ampwright.climate.site import Site, site_warnings
from ampwright.errors import AmpwrightError, JobError, Problem
from ampwright.records import record

__all__ = ["WeatherSeen", "weather_seen"]


@record
class WeatherSeen:
    """What was read of a weather file, or why it cannot be used."""

    way: Literal["weather_file", "year_files"] = "weather_file"
    """Key under which a job names such a file."""
    site: Site | None = None
    """Its place with the monthly means; None where it cannot be used."""
    hour_count: int = 0
    """Hours it holds."""
    gap_count: int = 0
    """Hours without sun or temperature."""
    notes: tuple[str, ...] = ()
    """What is odd in it."""
    problems: tuple[Problem, ...] = ()
    """Why it cannot be used."""


def weather_seen(path: Path, spot: tuple[float, float] | None) -> WeatherSeen:
    """Return what a file says; `spot` is where a table without a place of its own was measured."""
    from ampwright.climate.sources import read_weather  # noqa: PLC0415 - heavy readers behind it

    start = path.read_bytes()[:4096].decode("latin-1")
    try:
        if start.startswith("LOCATION,") or "Date (MM/DD/YYYY)" in start:
            year = read_weather(path)
            return WeatherSeen(site=year.site, hour_count=year.ghi_w_m2.size, notes=site_warnings(year.site))
        return _years(path, spot)
    except JobError as error:
        return WeatherSeen(problems=error.problems)
    except AmpwrightError as error:
        return WeatherSeen(problems=(Problem(path="", message=str(error)),))


def _years(path: Path, spot: tuple[float, float] | None) -> WeatherSeen:
    from ampwright.climate.hour_rows import Spot  # noqa: PLC0415 - heavy readers behind it
    from ampwright.climate.sources import read_year_files  # noqa: PLC0415 - heavy readers behind it

    where = None if spot is None else Spot(spot[0], spot[1], 0.0, None)
    files = read_year_files((path,), where)
    site = site_of_hours(files)
    gaps = sum(int(np.count_nonzero(np.isnan(each.ghi_w_m2) | np.isnan(each.ambient_degc))) for each in files)
    return WeatherSeen(
        way="year_files",
        site=site,
        hour_count=sum(each.ghi_w_m2.size for each in files),
        gap_count=gaps,
        notes=(*(note for each in files for note in each.notes), *site_warnings(site)),
    )
