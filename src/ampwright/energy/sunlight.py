"""Light on a panel in every step: plane or aim, shade by day plan and by the hour, dirt and snow."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ampwright.climate.orbit import month_of_day
from ampwright.climate.plane import Mounting, plane_w_m2
from ampwright.climate.series import SunSeries
from ampwright.energy.frame import Frame
from ampwright.job.design import DesignPart
from ampwright.job.design_use import DesignPlan
from ampwright.parts.panel import Panel

__all__ = ["clean_frac", "mounting_of", "sunlight_w_m2"]

Array = NDArray[np.float64]

MINUTES = 1440
SOIL_AND_MISMATCH_FRAC = 0.95  # docs/choices.md#energy-soiling
MISMATCH_FRAC = 0.98  # docs/choices.md#energy-soiling


def mounting_of(placed: DesignPart, panel: Panel) -> Mounting:
    """Return how a panel sheds its heat."""
    return placed.panel.mounting or ("open-rack" if panel.is_portable else "roof-gap")


def sunlight_w_m2(frame: Frame, placed: DesignPart) -> Array:
    """Return the irradiance on a placed panel, shade of the place counted, dirt and snow not (n_steps,)."""
    calendar = frame.calendar
    plane = calendar.all_days(_plane(frame, placed))
    return plane * calendar.by_plan(_open_by_plan(frame, placed)) * frame.presence(placed)


def _plane(frame: Frame, placed: DesignPart) -> Array:
    sun, albedo_frac = frame.sun, frame.design.job.season.albedo_frac
    if placed.panel.aimed_count == 0:
        return plane_w_m2(
            sun, tilt_deg=placed.tilt_deg, azimuth_deg=placed.azimuth_deg % 360.0, albedo_frac=albedo_frac
        )
    tilt, azimuth = aims(sun, placed.panel.aimed_count)
    return plane_w_m2(sun, tilt_deg=tilt, azimuth_deg=azimuth, albedo_frac=albedo_frac)


def aims(sun: SunSeries, count: int) -> tuple[Array, Array]:
    """Return tilt and direction of a panel turned to the sun `count` times a day, in equal parts of the daylight.

    In each part it faces where the sun stands in the middle of it, within 0 to 90 degrees of tilt.
    """
    up = (sun.sun_elevation_deg > 0.0).reshape(sun.day_count, sun.steps_per_day)
    elevation = sun.sun_elevation_deg.reshape(up.shape)
    azimuth = sun.sun_azimuth_deg.reshape(up.shape)
    tilt, turn = np.zeros(up.shape), np.zeros(up.shape)
    for day in range(sun.day_count):
        for part in np.array_split(np.flatnonzero(up[day]), count):
            if part.size:
                middle = part[part.size // 2]
                tilt[day, part] = 90.0 - elevation[day, middle]
                turn[day, part] = azimuth[day, middle]
    return np.clip(tilt, 0.0, 90.0).reshape(-1), turn.reshape(-1)


def _open_by_plan(frame: Frame, placed: DesignPart) -> Array:
    """Return the part of the sun that shade leaves (n_plans, steps_per_day)."""
    steps = frame.calendar.steps_per_day
    if placed.panel.is_out_of_shade:
        return np.array([np.full(steps, plan.open_sun_factor) for plan in frame.design.plans])
    return np.array([plan.sun_factor * _shade_course(plan, steps) for plan in frame.design.plans])


def _shade_course(plan: DesignPlan, steps_per_day: int) -> Array:
    left = np.ones(MINUTES)
    for shade in plan.shade_times:
        if shade.end_min > shade.start_min:
            left[shade.start_min : shade.end_min] *= 1.0 - shade.shade_frac
        else:
            left[shade.start_min :] *= 1.0 - shade.shade_frac
            left[: shade.end_min] *= 1.0 - shade.shade_frac
    course: Array = left.reshape(steps_per_day, -1).mean(axis=1)
    return course


def clean_frac(frame: Frame, panel: Panel) -> Array:
    """Return the part of the light that dirt, mismatch and snow leave (n_steps,)."""
    season, sun = frame.design.job.season, frame.sun
    days = (sun.start_day - 1 + np.arange(sun.day_count)) % 365 + 1
    if season.soiling_frac is None:
        daily = np.full(sun.day_count, SOIL_AND_MISMATCH_FRAC)
    else:
        by_month = np.array(season.soiling_frac)
        daily = MISMATCH_FRAC * (1.0 - by_month[[month_of_day(int(day)) - 1 for day in days]])
    if season.snow_below_degc is not None and not panel.is_portable:
        cold = sun.ambient_degc.reshape(sun.day_count, -1).mean(axis=1) < season.snow_below_degc
        daily = daily * np.where(cold, 1.0 - season.snow_lost_frac, 1.0)
    return frame.calendar.all_days(np.repeat(daily, sun.steps_per_day))
