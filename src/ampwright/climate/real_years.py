"""The same days of every real year of some files, each a run of weather: hours -> `Ensemble`.

A year in which the days are not whole is left out and said, never filled.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from ampwright.climate.daily_weather import DailyWeather
from ampwright.climate.ensemble import Ensemble, beam_w_m2, joined_runs
from ampwright.climate.hourly import HourlyWeather, hours_at
from ampwright.climate.orbit import extraterrestrial_kwh_m2_day
from ampwright.climate.site import Site
from ampwright.climate.sun import SunAngles
from ampwright.climate.weather import steps_from_hours
from ampwright.errors import ClimateError
from ampwright.records import record

__all__ = ["RealWeather", "chosen", "cycled", "distance_km", "joined_years", "named_by_start", "real_weather"]

Array = NDArray[np.float64]
DAYS = 365
HOURS = 24
EARTH_RADIUS_KM = 6371.0  # mean radius, WGS 84 (from memory)
EDGE_H = 1.0
"""A temperature holds this long before the first hour and after the last."""
TWILIGHT_DEG = -1.0
"""Below this height of the sun an hour without irradiance is dark, not missing."""


@record
class RealWeather:
    """Runs of weather of real years."""

    ensemble: Ensemble
    """A run for each year whose days are whole."""
    labels: tuple[str, ...]
    """Name of each run: its year, or the file of a typical year."""
    left_out: tuple[str, ...]
    """Years whose days are not whole, and why."""
    notes: tuple[str, ...]
    """What a reader of the answer should know of the files."""


@record
class _Member:
    """One window of hours in short steps."""

    label: str
    missing_h: float
    ghi_w_m2: Array
    dni_w_m2: Array
    ambient_degc: Array


def real_weather(
    files: tuple[HourlyWeather, ...], site: Site, angles: SunAngles, *, start_day: int, day_count: int
) -> RealWeather:
    """Return the days from `start_day` on of every year of the files.

    Parameters
    ----------
    site : the place of the use; its clock is the files'
    angles : sun in the middle of every step of the window

    Raises
    ------
    ClimateError
        Where no year has the days whole.
    """
    window = {"start_day": start_day, "day_count": day_count}
    members = [
        member
        for hours in files
        for member in _members(hours, angles, **window)
        if member.missing_h < HOURS * day_count  # a year that is not in the files at all has no gap
    ]
    whole = [each for each in members if each.missing_h == 0.0]
    left_out = tuple(
        f"{each.label}: {each.missing_h:.3g} h missing" for each in members if each.missing_h > 0.0
    )
    if not whole:
        why = f" ({'; '.join(left_out)})" if left_out else ""
        raise ClimateError(
            f"{', '.join(each.name for each in files)}: no year has the {day_count} days of the use whole{why}; "
            "use files without gaps there"
        )
    ghi = np.array([each.ghi_w_m2 for each in whole])
    ambient = np.array([each.ambient_degc for each in whole])
    steps_per_day = angles.elevation_deg.size // day_count
    return RealWeather(
        ensemble=Ensemble(
            steps_per_day=steps_per_day,
            angles=angles,
            ghi_w_m2=ghi,
            dni_w_m2=np.array([each.dni_w_m2 for each in whole]),
            ambient_degc=ambient,
            daily=_daily(site, ghi, ambient, **window),
            **window,
        ),
        labels=tuple(each.label for each in whole),
        left_out=left_out,
        notes=tuple(dict.fromkeys(note for each in files for note in each.notes)),
    )


def cycled(ensemble: Ensemble, count: int) -> Ensemble:
    """Return an ensemble of `count` runs that takes the runs of another by turns."""
    return chosen(ensemble, np.arange(count) % ensemble.member_count)


def chosen(ensemble: Ensemble, turn: NDArray[np.int64]) -> Ensemble:
    """Return an ensemble of these runs of another, in this order."""
    daily = ensemble.daily
    return Ensemble(
        start_day=ensemble.start_day,
        day_count=ensemble.day_count,
        steps_per_day=ensemble.steps_per_day,
        angles=ensemble.angles,
        ghi_w_m2=ensemble.ghi_w_m2[turn],
        dni_w_m2=ensemble.dni_w_m2[turn],
        ambient_degc=ensemble.ambient_degc[turn],
        daily=DailyWeather(
            irradiation_kwh_m2_day=daily.irradiation_kwh_m2_day[turn],
            clearness_frac=daily.clearness_frac[turn],
            max_degc=daily.max_degc[turn],
            min_degc=daily.min_degc[turn],
        ),
    )


def named_by_start(weather: RealWeather, years: int) -> RealWeather:
    """Return runs named by the year in which the use began, so many years before these days."""
    if years == 0:
        return weather
    labels = tuple(str(int(label) - years) if label.isdigit() else label for label in weather.labels)
    return replace(weather, labels=labels)


def joined_years(parts: tuple[RealWeather, ...]) -> RealWeather:
    """Return the years that all places have, one place after the other.

    Raises
    ------
    ClimateError
        Where no year is whole at all places.
    """
    shared = [label for label in parts[0].labels if all(label in part.labels for part in parts)]
    if not shared:
        raise ClimateError("no year is whole at all places of the use; use files of the same years")
    turns = [[part.labels.index(label) for label in shared] for part in parts]
    lone = (
        f"{label}: not whole at every place"
        for label in dict.fromkeys(label for part in parts for label in part.labels)
        if label not in shared
    )
    return RealWeather(
        ensemble=joined_runs(
            tuple(chosen(part.ensemble, np.array(turn)) for part, turn in zip(parts, turns, strict=True))
        ),
        labels=tuple(shared),
        left_out=tuple(dict.fromkeys((*(text for part in parts for text in part.left_out), *lone))),
        notes=tuple(dict.fromkeys(note for part in parts for note in part.notes)),
    )


def distance_km(first: tuple[float, float], second: tuple[float, float]) -> float:
    """Return the distance between two places, latitude and longitude in degrees, on a sphere.

    Examples
    --------
    >>> round(distance_km((0.0, 0.0), (0.0, 1.0)), 1)
    111.2
    """
    north, other = math.radians(first[0]), math.radians(second[0])
    east = math.radians(second[1] - first[1])
    share = math.sin((other - north) / 2) ** 2 + math.cos(north) * math.cos(other) * math.sin(east / 2) ** 2
    return 2.0 * EARTH_RADIUS_KM * math.asin(math.sqrt(min(share, 1.0)))


def _members(hours: HourlyWeather, angles: SunAngles, *, start_day: int, day_count: int) -> list[_Member]:
    """Return the window of every year of one file that has anything of it."""
    if hours.is_typical:
        return [
            _member(hours, angles, hours.name, first_h=float(HOURS * (start_day - 1)), day_count=day_count)
        ]
    last_day = hours.first_day + hours.ghi_w_m2.size // HOURS
    found = []
    for year in range(hours.first_day // DAYS, last_day // DAYS + 1):
        first = year * DAYS + start_day - 1 - hours.first_day
        if -day_count < first < last_day - hours.first_day:
            found.append(_member(hours, angles, str(year), first_h=float(HOURS * first), day_count=day_count))
    return found


def _member(
    hours: HourlyWeather, angles: SunAngles, label: str, *, first_h: float, day_count: int
) -> _Member:
    step_count = angles.elevation_deg.size
    step_h = HOURS * day_count / step_count
    clock_h = first_h + (np.arange(step_count, dtype=np.float64) + 0.5) * step_h
    rows, inside = hours_at(hours, clock_h)
    is_dark = angles.elevation_deg < TWILIGHT_DEG
    ghi_hourly = np.where(inside, hours.ghi_w_m2[rows], np.nan)
    ghi_hourly = np.where(is_dark & ~np.isfinite(ghi_hourly), 0.0, ghi_hourly)
    dhi_hourly = np.where(inside, hours.dhi_w_m2[rows], np.nan)
    group = np.cumsum(np.diff(rows, prepend=rows[:1]) != 0)
    ghi, dni = steps_from_hours(ghi_hourly, dhi_hourly, group, angles)
    air = _air(hours, clock_h)
    sine = np.maximum(np.sin(np.deg2rad(angles.elevation_deg)), 0.0)
    split = beam_w_m2(np.nan_to_num(ghi), sine, angles.extra_normal_w_m2)
    missing = ~(np.isfinite(ghi_hourly) & np.isfinite(air))
    return _Member(
        label=label,
        missing_h=float(np.count_nonzero(missing)) * step_h,
        ghi_w_m2=ghi,
        dni_w_m2=np.where(np.isfinite(dhi_hourly), dni, split),
        ambient_degc=air,
    )


def _air(hours: HourlyWeather, clock_h: Array) -> Array:
    """Return the temperature, straight between the readings; nan where one is missing."""
    count = hours.ambient_degc.size
    at = clock_h - hours.air_at_h
    if not hours.is_typical:
        is_near = (at > -EDGE_H) & (at < count - 1 + EDGE_H)
        at = np.where(is_near, np.clip(at, 0.0, count - 1.0), np.nan)
    before = np.floor(np.nan_to_num(at)).astype(np.int64)
    share = at - before
    first, second = hours.ambient_degc[before % count], hours.ambient_degc[(before + 1) % count]
    air: Array = np.where(share == 0.0, first, first + (second - first) * share)
    return air


def _daily(site: Site, ghi: Array, ambient: Array, *, start_day: int, day_count: int) -> DailyWeather:
    """Return the daily figures of runs from their steps."""
    by_day = (ghi.shape[0], day_count, -1)
    sums = ghi.reshape(by_day).mean(axis=2) * HOURS / 1000.0
    days = (start_day - 1 + np.arange(day_count)) % DAYS + 1
    outside = extraterrestrial_kwh_m2_day(site.latitude_deg, days)
    return DailyWeather(
        irradiation_kwh_m2_day=sums,
        clearness_frac=np.divide(sums, outside, out=np.zeros_like(sums), where=outside > 0.0),
        max_degc=ambient.reshape(by_day).max(axis=2),
        min_degc=ambient.reshape(by_day).min(axis=2),
    )
