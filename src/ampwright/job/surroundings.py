"""Sun and air of a design's place and season: the plain answer's, the runs', and the real years'."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TypedDict

from ampwright.climate.ensemble import Ensemble
from ampwright.climate.hour_rows import Spot
from ampwright.climate.hourly import HourlyWeather, site_of_hours
from ampwright.climate.orbit import day_of_year, month_of_day
from ampwright.climate.real_years import RealWeather, cycled, real_weather
from ampwright.climate.series import SunSeries, adjusted
from ampwright.climate.site import Site
from ampwright.job.design import Design

__all__ = ["real_years_of", "sun_of", "weather_of", "window_of"]


class Window(TypedDict):
    """Days of a year."""

    start_day: int
    day_count: int


def window_of(design: Design) -> Window:
    """Return the days of the use: from the first day named, or around the middle of the month."""
    season, count = design.job.season, len(design.days)
    if season.first_day:
        return {"start_day": day_of_year(season.month, season.first_day), "day_count": count}
    return {"start_day": (day_of_year(season.month, 15) - 1 - count // 2) % 365 + 1, "day_count": count}


def sun_of(design: Design, folder: Path) -> SunSeries:
    """Return the sun and air of a design's place and season; weather files lie relative to `folder`.

    Files of real years are read as well, so that what is wrong in them is told before anything is calculated.
    """
    from ampwright.climate import sources, weather  # noqa: PLC0415 - not needed to load a job

    season = design.job.season
    if design.job.place.year_files:
        _hours_of(design, folder)
    if design.job.place.weather_file:
        year = sources.read_weather(folder / design.job.place.weather_file)
        window = window_of(design)
        month = month_of_day(window["start_day"])
        found = weather.real_days(
            year,
            first_month=month,
            first_day=window["start_day"] - day_of_year(month, 1) + 1,
            day_count=window["day_count"],
        )
    else:
        found = sources.load_typical_day(_site_of(design, folder), season.month)
    return adjusted(found, sun_factor=season.sun_factor, warmer_k=season.warmer_k)


def weather_of(design: Design, folder: Path) -> Ensemble:
    """Return the runs of weather over the days of the use: synthetic from monthly figures, or real years by turns."""
    from ampwright.climate.ensemble import synthetic_weather  # noqa: PLC0415 - not needed to load a job
    from ampwright.climate.sources import load_sun_angles  # noqa: PLC0415 - not needed to load a job

    doubt, window = design.job.doubt, window_of(design)
    real = real_years_of(design, folder)
    if doubt.weather_from == "real-years" and real is not None:
        return cycled(real().ensemble, doubt.runs)
    site = _site_of(design, folder)
    return synthetic_weather(
        site, load_sun_angles(site, **window), member_count=doubt.runs, seed=doubt.seed, **window
    )


def real_years_of(design: Design, folder: Path) -> Callable[[], RealWeather] | None:
    """Return what makes the days of the use of every real year; None where the job names none."""
    return partial(_real_years, design, folder) if design.job.place.year_files else None


def _real_years(design: Design, folder: Path) -> RealWeather:
    from ampwright.climate.sources import load_sun_angles  # noqa: PLC0415 - not needed to load a job

    window, site = window_of(design), _site_of(design, folder)
    return real_weather(_hours_of(design, folder), site, load_sun_angles(site, **window), **window)


def _site_of(design: Design, folder: Path) -> Site:
    """Return the place with monthly figures: named, typed, or those of its weather files."""
    from ampwright.climate import sources, weather  # noqa: PLC0415 - not needed to load a job

    if design.site is not None:
        return design.site
    if design.job.place.weather_file:
        return weather.monthly_site(sources.read_weather(folder / design.job.place.weather_file))
    return site_of_hours(_hours_of(design, folder))


def _hours_of(design: Design, folder: Path) -> tuple[HourlyWeather, ...]:
    from ampwright.climate import sources  # noqa: PLC0415 - not needed to load a job

    place = design.job.place
    files = tuple(folder / name for name in place.year_files)
    return sources.read_year_files(files, _spot_of(design, folder))


def _spot_of(design: Design, folder: Path) -> Spot | None:
    """Return where the use is; None where only the files of real years say it."""
    place = design.job.place
    if design.site is None and not place.weather_file:
        if place.latitude_deg is None or place.longitude_deg is None:
            return None
        return Spot(place.latitude_deg, place.longitude_deg, place.elevation_m, place.utc_offset_h)
    site = _site_of(design, folder)
    return Spot(site.latitude_deg, site.longitude_deg, site.elevation_m, site.clock_offset_h)
