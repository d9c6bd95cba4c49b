"""Where the sun stands and how it shines through a month's representative day.

The only module that asks pvlib for solar physics; it does so inside functions, so that cached days
are read without it (`sources.py`).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numpy.typing import NDArray

from ampwright.climate.ambient import diurnal_degc
from ampwright.climate.orbit import MONTH_NAMES, representative_day
from ampwright.climate.series import SunSeries
from ampwright.climate.site import Site, site_problems
from ampwright.errors import ClimateError

if TYPE_CHECKING:
    import pandas as pd

__all__ = ["NOMINAL_YEAR", "SunAngles", "check_step_minutes", "sun_angles", "typical_day"]

NOMINAL_YEAR = 2023  # any common year: the sun's place on a date moves by less than 0.3 degrees between years
MINUTES_PER_DAY = 1440
STEP_CHOICES = (1, 2, 3, 4, 5, 6, 10, 12, 15, 20, 30, 60)


class SunAngles(NamedTuple):
    """Sun at the middle of each step; arrays of shape (day_count * steps_per_day,)."""

    elevation_deg: NDArray[np.float64]
    azimuth_deg: NDArray[np.float64]
    extra_normal_w_m2: NDArray[np.float64]


def typical_day(site: Site, month: int, *, step_minutes: int = 15) -> SunSeries:
    """Sun and air of the day that stands for a month at a site (day_count = 1).

    Clear sky: P. Ineichen, R. Perez, Solar Energy 73 (2002) 151, with the Linke turbidity table that pvlib
    carries; scaled so that the day's sum is the month's mean exactly. Beam and diffuse: D. G. Erbs,
    S. A. Klein, J. A. Duffie, Solar Energy 28 (1982) 293. Day: `representative_day`.

    Parameters
    ----------
    month : 1 = January.
    step_minutes : length of a step; a divisor of 60.

    Notes
    -----
    An average day: its sum is the month's mean, but no real day looks like it. Weather that changes from
    day to day is made elsewhere from this record type.
    """
    _check_request(site, month, step_minutes)
    steps_per_day = MINUTES_PER_DAY // step_minutes
    start_day = representative_day(site.latitude_deg, month)
    times = _step_times(start_day, 1, steps_per_day, site.clock_offset_h)
    angles = _angles(site, times)
    target_wh_m2 = 1000.0 * site.ghi_kwh_m2_day[month - 1]
    shape = _daily_shape(site, times, angles, needed=target_wh_m2 > 0.0)
    ghi_w_m2 = shape * (target_wh_m2 * steps_per_day / 24.0)
    dni_w_m2, dhi_w_m2 = _split(ghi_w_m2, times, angles)
    return SunSeries(
        start_day=start_day,
        day_count=1,
        steps_per_day=steps_per_day,
        ghi_w_m2=ghi_w_m2,
        dni_w_m2=dni_w_m2,
        dhi_w_m2=dhi_w_m2,
        extra_normal_w_m2=angles.extra_normal_w_m2,
        sun_elevation_deg=angles.elevation_deg,
        sun_azimuth_deg=angles.azimuth_deg,
        ambient_degc=_ambient_degc(site, month, steps_per_day),
    )


def _ambient_degc(site: Site, month: int, steps_per_day: int) -> NDArray[np.float64]:
    clock_h = (np.arange(steps_per_day) + 0.5) * 24.0 / steps_per_day
    return diurnal_degc(
        clock_h - site.clock_offset_h + site.longitude_deg / 15.0,
        min_degc=site.min_degc[month - 1],
        max_degc=site.max_degc[month - 1],
    )


def sun_angles(site: Site, *, start_day: int, day_count: int, steps_per_day: int) -> SunAngles:
    """Height and direction of the sun in the middle of every step of whole days, by clock time.

    I. Reda, A. Andreas, NREL/TP-560-34302 (2008), as implemented in pvlib; refraction included. Days
    beyond 31 December go on at 1 January.
    """
    return _angles(site, _step_times(start_day, day_count, steps_per_day, site.clock_offset_h))


def check_step_minutes(step_minutes: int) -> None:
    """Refuse a step that does not divide the hour."""
    if step_minutes not in STEP_CHOICES:
        choices = ", ".join(str(choice) for choice in STEP_CHOICES)
        raise ClimateError(f"step_minutes = {step_minutes}: use a divisor of 60, one of {choices}")


def _check_request(site: Site, month: int, step_minutes: int) -> None:
    check_step_minutes(step_minutes)
    if not 1 <= month <= 12:
        raise ClimateError(f"month = {month}: use 1 (January) to 12 (December)")
    problems = site_problems(site)
    if problems:
        raise ClimateError(f'site "{site.id}": ' + " ".join(problems))


def _step_times(start_day: int, day_count: int, steps_per_day: int, offset_h: float) -> pd.DatetimeIndex:
    """Midpoints of the steps as UTC instants of the nominal year; (day_count * steps_per_day,)."""
    import pandas as pd  # noqa: PLC0415 - heavy, and not needed for cached days

    day = (start_day - 1 + np.arange(day_count)) % 365
    clock_h = (np.arange(steps_per_day) + 0.5) * 24.0 / steps_per_day - offset_h
    seconds = np.rint((day[:, None] * 24.0 + clock_h[None, :]).ravel() * 3600.0).astype(np.int64)
    start = np.datetime64(f"{NOMINAL_YEAR}-01-01T00:00:00", "s")
    return pd.DatetimeIndex(start + seconds.astype("timedelta64[s]")).tz_localize("UTC")


def _days(times: pd.DatetimeIndex) -> NDArray[np.float64]:
    """Day of year of each instant, in UTC."""
    return np.asarray(times.day_of_year, dtype=np.float64)


def _angles(site: Site, times: pd.DatetimeIndex) -> SunAngles:
    import pvlib  # noqa: PLC0415 - heavy, and not needed for cached days

    position = pvlib.solarposition.get_solarposition(
        times, site.latitude_deg, site.longitude_deg, altitude=site.elevation_m
    )
    return SunAngles(
        elevation_deg=position["apparent_elevation"].to_numpy(dtype=np.float64, copy=True),
        azimuth_deg=position["azimuth"].to_numpy(dtype=np.float64, copy=True),
        extra_normal_w_m2=pvlib.irradiance.get_extra_radiation(_days(times)),
    )


def _daily_shape(
    site: Site, times: pd.DatetimeIndex, angles: SunAngles, *, needed: bool
) -> NDArray[np.float64]:
    """Share of the day's irradiation in each step, from the clear sky; zeros if none is needed."""
    if not needed:
        return np.zeros(len(times))
    clear_w_m2 = _clear_sky_ghi_w_m2(site, times, angles)
    if clear_w_m2.sum() <= 0.0:
        month = MONTH_NAMES[times[0].month - 1]
        raise ClimateError(f'site "{site.id}": the sun stays under the horizon in {month}; type 0 there')
    share: NDArray[np.float64] = clear_w_m2 / clear_w_m2.sum()
    return share


def _clear_sky_ghi_w_m2(site: Site, times: pd.DatetimeIndex, angles: SunAngles) -> NDArray[np.float64]:
    import pvlib  # noqa: PLC0415 - heavy, and not needed for cached days

    middle = times[len(times) // 2 : len(times) // 2 + 1]
    turbidity = pvlib.clearsky.lookup_linke_turbidity(
        middle, site.latitude_deg, site.longitude_deg, interp_turbidity=False
    )
    zenith_deg = 90.0 - angles.elevation_deg
    airmass = pvlib.atmosphere.get_absolute_airmass(
        pvlib.atmosphere.get_relative_airmass(zenith_deg), pvlib.atmosphere.alt2pres(site.elevation_m)
    )
    with np.errstate(divide="ignore"):  # its beam branch divides by the height of a sun that is down
        clear = pvlib.clearsky.ineichen(
            zenith_deg,
            airmass,
            float(turbidity.iloc[0]),
            altitude=site.elevation_m,
            dni_extra=angles.extra_normal_w_m2,
        )
    return np.asarray(clear["ghi"], dtype=np.float64)


def _split(
    ghi_w_m2: NDArray[np.float64], times: pd.DatetimeIndex, angles: SunAngles
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Beam and diffuse that close with `ghi_w_m2`; the beam is never stronger than outside the air."""
    import pvlib  # noqa: PLC0415 - heavy, and not needed for cached days

    parts = pvlib.irradiance.erbs(ghi_w_m2, 90.0 - angles.elevation_deg, _days(times))
    dni_w_m2 = np.minimum(parts["dni"], angles.extra_normal_w_m2)
    dhi_w_m2 = ghi_w_m2 - dni_w_m2 * np.sin(np.deg2rad(angles.elevation_deg))
    return dni_w_m2, np.maximum(dhi_w_m2, 0.0)
