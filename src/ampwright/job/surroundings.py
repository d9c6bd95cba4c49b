"""Sun and air of a design's places and season: the plain answer's, the runs', and the real years'."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import Protocol, TypedDict

from ampwright.climate.ensemble import Ensemble, days_of, joined_runs
from ampwright.climate.hour_rows import Spot
from ampwright.climate.hourly import HourlyWeather, site_of_hours
from ampwright.climate.orbit import day_of_year, month_of_day
from ampwright.climate.real_years import RealWeather, cycled, joined_years, named_by_start, real_weather
from ampwright.climate.series import SunSeries, adjusted, joined, repeated
from ampwright.climate.site import Site
from ampwright.job.design import Design
from ampwright.job.design_leg import DesignLeg

__all__ = [
    "MakesRealYears",
    "month_of_leg",
    "real_years_of",
    "single_leg",
    "sun_of",
    "weather_of",
    "window_of",
]


DAYS = 365


class Window(TypedDict):
    """Days of a year."""

    start_day: int
    day_count: int


class MakesRealYears(Protocol):
    """Makes the days of the use of every real year, begun so many days later; fewer than none = earlier."""

    def __call__(self, later_d: int = 0) -> RealWeather:
        """Return the years, named by the one in which the use was meant to begin."""


def window_of(design: Design) -> Window:
    """Return the days of the use: from the first day named, or around the middle of the month."""
    season, count = design.job.season, len(design.days)
    if season.first_day:
        return {"start_day": day_of_year(season.month, season.first_day), "day_count": count}
    return {"start_day": (day_of_year(season.month, 15) - 1 - count // 2) % 365 + 1, "day_count": count}


def sun_of(design: Design, folder: Path) -> SunSeries:
    """Return the sun and air of a design's places and season; weather files lie relative to `folder`.

    Files of real years are read as well, so that what is wrong in them is told before anything is calculated.
    """
    season = design.job.season
    found = tuple(_sun_of_leg(design, leg, folder) for leg in _legs(design))
    whole = found[0] if len(found) == 1 else joined(found, start_day=window_of(design)["start_day"])
    return adjusted(whole, sun_factor=season.sun_factor, warmer_k=season.warmer_k)


def _sun_of_leg(design: Design, leg: DesignLeg, folder: Path) -> SunSeries:
    """Return the typical day of a single place, else all days of a leg."""
    from ampwright.climate import sources, weather  # noqa: PLC0415 - not needed to load a job

    if leg.place.year_files:
        _hours_of(leg, folder)
    if leg.place.weather_file:
        window = _window_of_leg(design, leg)
        month = month_of_day(window["start_day"])
        return weather.real_days(
            sources.read_weather(folder / leg.place.weather_file),
            first_month=month,
            first_day=window["start_day"] - day_of_year(month, 1) + 1,
            day_count=window["day_count"],
        )
    day = sources.load_typical_day(_site_of(leg, folder), month_of_leg(design, leg))
    return repeated(day, leg.day_count) if design.legs else day


def weather_of(design: Design, folder: Path) -> Ensemble:
    """Return the runs of weather over the days of the use: synthetic from monthly figures, or real years by turns.

    At every place of a use that moves on the runs have the same deviations from its month: a dull spell goes along.
    """
    from ampwright.climate.ensemble import synthetic_weather  # noqa: PLC0415 - not needed to load a job
    from ampwright.climate.sources import load_sun_angles  # noqa: PLC0415 - not needed to load a job

    doubt, window = design.job.doubt, window_of(design)
    real = real_years_of(design, folder)
    if doubt.weather_from == "real-years" and real is not None:
        return cycled(real().ensemble, doubt.runs)
    parts = []
    for leg in _legs(design):
        site = _site_of(leg, folder)
        angles = load_sun_angles(site, **window)
        runs = synthetic_weather(site, angles, member_count=doubt.runs, seed=doubt.seed, **window)
        parts.append(days_of(runs, first=leg.first, day_count=leg.day_count) if design.legs else runs)
    return parts[0] if len(parts) == 1 else joined_runs(tuple(parts))


def real_years_of(design: Design, folder: Path) -> MakesRealYears | None:
    """Return what makes the days of the use of every real year; None where the job names none."""
    return partial(_real_years, design, folder) if design.job.place.year_files else None


def _real_years(design: Design, folder: Path, later_d: int = 0) -> RealWeather:
    from ampwright.climate.sources import load_sun_angles  # noqa: PLC0415 - not needed to load a job

    parts = []
    for leg in _legs(design):
        turns, first = divmod(window_of(design)["start_day"] - 1 + leg.first + later_d, DAYS)
        window, site = Window(start_day=first + 1, day_count=leg.day_count), _site_of(leg, folder)
        angles = load_sun_angles(site, **window)
        found = real_weather(_hours_of(leg, folder), site, angles, **window)
        parts.append(named_by_start(found, turns))
    return parts[0] if len(parts) == 1 else joined_years(tuple(parts))


def month_of_leg(design: Design, leg: DesignLeg) -> int:
    """Return the month that stands for a leg: the season's at a single place, else that of the leg's middle day."""
    if not design.legs:
        return design.job.season.month
    window = _window_of_leg(design, leg)
    return month_of_day((window["start_day"] - 1 + window["day_count"] // 2) % 365 + 1)


def single_leg(design: Design) -> DesignLeg:
    """Return the place of a use that stays, with all its days."""
    count = len(design.days)
    return DesignLeg(name="", first=0, day_count=count, place=design.job.place, site=design.site)


def _legs(design: Design) -> tuple[DesignLeg, ...]:
    return design.legs or (single_leg(design),)


def _window_of_leg(design: Design, leg: DesignLeg) -> Window:
    start_day = (window_of(design)["start_day"] - 1 + leg.first) % 365 + 1
    return {"start_day": start_day, "day_count": leg.day_count}


def _site_of(leg: DesignLeg, folder: Path) -> Site:
    """Return the place with monthly figures: named, typed, or those of its weather files."""
    from ampwright.climate import sources, weather  # noqa: PLC0415 - not needed to load a job

    if leg.site is not None:
        return leg.site
    if leg.place.weather_file:
        return weather.monthly_site(sources.read_weather(folder / leg.place.weather_file))
    return site_of_hours(_hours_of(leg, folder))


def _hours_of(leg: DesignLeg, folder: Path) -> tuple[HourlyWeather, ...]:
    from ampwright.climate import sources  # noqa: PLC0415 - not needed to load a job

    files = tuple(folder / name for name in leg.place.year_files)
    return sources.read_year_files(files, _spot_of(leg, folder))


def _spot_of(leg: DesignLeg, folder: Path) -> Spot | None:
    """Return where a leg is; None where only the files of real years say it."""
    place = leg.place
    if leg.site is None and not place.weather_file:
        if place.latitude_deg is None or place.longitude_deg is None:
            return None
        return Spot(place.latitude_deg, place.longitude_deg, place.elevation_m, place.utc_offset_h)
    site = _site_of(leg, folder)
    return Spot(site.latitude_deg, site.longitude_deg, site.elevation_m, site.clock_offset_h)
