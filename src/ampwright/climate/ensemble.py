"""Many synthetic runs of weather for one place and one window of days: twelve monthly means -> `SunSeries`.

The days come from `daily_weather.py`, their hours from `hourly_sun.py`. The sun's place in the sky is asked
for once per window and cached in `sources.py`.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from ampwright.climate.ambient import diurnal_degc
from ampwright.climate.daily_weather import DailyWeather, daily_weather
from ampwright.climate.hourly_sun import clouded_ghi_w_m2, erbs_diffuse_frac, hourly_clearness
from ampwright.climate.series import SunSeries
from ampwright.climate.site import Site
from ampwright.climate.sun import SunAngles
from ampwright.records import record

__all__ = ["Ensemble", "beam_w_m2", "days_of", "joined_runs", "synthetic_weather"]

Array = NDArray[np.float64]

HOURS = 24
HOUR_STREAM = 1
"""Second number of the seed of hours, so that they do not repeat the numbers of days."""
MIN_BEAM_SINE = 0.052  # sine of 3 degrees: beneath it the beam from a ratio fails; it becomes diffuse


@record
class Ensemble:
    """Runs of weather over the same days; members share sun angles."""

    start_day: int
    """Day of a common year of the first day."""
    day_count: int
    """Days of each run."""
    steps_per_day: int
    """Steps of a day."""
    angles: SunAngles
    """Where the sun stands (n_days * steps_per_day,)."""
    ghi_w_m2: Array
    """Global irradiance (n_members, n_steps)."""
    dni_w_m2: Array
    """Beam irradiance (n_members, n_steps)."""
    ambient_degc: Array
    """Air temperature (n_members, n_steps)."""
    daily: DailyWeather
    """Daily figures behind them."""

    @property
    def member_count(self) -> int:
        """Number of runs."""
        return int(self.ghi_w_m2.shape[0])

    def member(self, index: int) -> SunSeries:
        """Return one run as a series."""
        ghi, dni = self.ghi_w_m2[index], self.dni_w_m2[index]
        sine = np.sin(np.deg2rad(self.angles.elevation_deg))
        return SunSeries(
            start_day=self.start_day,
            day_count=self.day_count,
            steps_per_day=self.steps_per_day,
            ghi_w_m2=ghi,
            dni_w_m2=dni,
            dhi_w_m2=np.maximum(ghi - dni * np.maximum(sine, 0.0), 0.0),
            extra_normal_w_m2=self.angles.extra_normal_w_m2,
            sun_elevation_deg=self.angles.elevation_deg,
            sun_azimuth_deg=self.angles.azimuth_deg,
            ambient_degc=self.ambient_degc[index],
        )

    def members(self) -> Iterator[SunSeries]:
        """Yield every run in turn."""
        for index in range(self.member_count):
            yield self.member(index)


def days_of(runs: Ensemble, *, first: int, day_count: int) -> Ensemble:
    """Return some days of all runs; `first` counts from 0."""
    days = slice(first, first + day_count)
    steps = slice(first * runs.steps_per_day, (first + day_count) * runs.steps_per_day)
    return Ensemble(
        start_day=(runs.start_day - 1 + first) % 365 + 1,
        day_count=day_count,
        steps_per_day=runs.steps_per_day,
        angles=SunAngles(*(values[steps] for values in runs.angles)),
        ghi_w_m2=runs.ghi_w_m2[:, steps],
        dni_w_m2=runs.dni_w_m2[:, steps],
        ambient_degc=runs.ambient_degc[:, steps],
        daily=DailyWeather(
            irradiation_kwh_m2_day=runs.daily.irradiation_kwh_m2_day[:, days],
            clearness_frac=runs.daily.clearness_frac[:, days],
            max_degc=runs.daily.max_degc[:, days],
            min_degc=runs.daily.min_degc[:, days],
        ),
    )


def joined_runs(parts: tuple[Ensemble, ...]) -> Ensemble:
    """Return runs of several places one after the other, each by its own clock; run k goes on as run k."""

    def by_step(name: str) -> Array:
        return np.concatenate([getattr(part, name) for part in parts], axis=1)

    def by_day(name: str) -> Array:
        return np.concatenate([getattr(part.daily, name) for part in parts], axis=1)

    return Ensemble(
        start_day=parts[0].start_day,
        day_count=sum(part.day_count for part in parts),
        steps_per_day=parts[0].steps_per_day,
        angles=SunAngles(
            *(np.concatenate(values) for values in zip(*(part.angles for part in parts), strict=True))
        ),
        ghi_w_m2=by_step("ghi_w_m2"),
        dni_w_m2=by_step("dni_w_m2"),
        ambient_degc=by_step("ambient_degc"),
        daily=DailyWeather(
            irradiation_kwh_m2_day=by_day("irradiation_kwh_m2_day"),
            clearness_frac=by_day("clearness_frac"),
            max_degc=by_day("max_degc"),
            min_degc=by_day("min_degc"),
        ),
    )


def synthetic_weather(
    site: Site, angles: SunAngles, *, start_day: int, day_count: int, member_count: int, seed: int = 0
) -> Ensemble:
    """Return seeded runs of weather; member k is the same however many there are.

    Parameters
    ----------
    angles : sun in the middle of every step of the window (`sun.sun_angles`)
    """
    steps_per_day = angles.elevation_deg.size // day_count
    daily = daily_weather(
        site, start_day=start_day, day_count=day_count, member_count=member_count, seed=seed
    )
    sine = np.maximum(np.sin(np.deg2rad(angles.elevation_deg)), 0.0)
    outside = (angles.extra_normal_w_m2 * sine).reshape(day_count, steps_per_day)
    hour_sine = sine.reshape(day_count, HOURS, steps_per_day // HOURS).mean(axis=2)
    hourly = hourly_clearness(daily.clearness_frac, hour_sine, _hour_normals(daily, seed))
    ghi = clouded_ghi_w_m2(hourly, outside, daily.irradiation_kwh_m2_day).reshape(member_count, -1)
    return Ensemble(
        start_day=start_day,
        day_count=day_count,
        steps_per_day=steps_per_day,
        angles=angles,
        ghi_w_m2=ghi,
        dni_w_m2=beam_w_m2(ghi, sine, angles.extra_normal_w_m2),
        ambient_degc=_air(site, daily, steps_per_day),
        daily=daily,
    )


def _hour_normals(daily: DailyWeather, seed: int) -> Array:
    member_count, day_count = daily.clearness_frac.shape
    found = np.empty((member_count, day_count, HOURS))
    for member in range(member_count):
        found[member] = np.random.default_rng([seed, member, HOUR_STREAM]).standard_normal((day_count, HOURS))
    return found


def beam_w_m2(ghi: Array, sine: Array, extra_normal: Array) -> Array:
    """Return the beam facing the sun: global less Erbs's diffuse, never stronger than outside the air."""
    safe = np.maximum(sine, MIN_BEAM_SINE)
    clearness = np.minimum(ghi / (extra_normal * safe), 1.0)
    beam = ghi * (1.0 - erbs_diffuse_frac(clearness)) / safe
    result: Array = np.where(sine > MIN_BEAM_SINE, np.minimum(beam, extra_normal), 0.0)
    return result


def _air(site: Site, daily: DailyWeather, steps_per_day: int) -> Array:
    """Return the course of the air: the daily shape between extremes that run straight from noon to noon."""
    member_count, day_count = daily.max_degc.shape
    clock_h = (np.arange(steps_per_day) + 0.5) * HOURS / steps_per_day
    shape = diurnal_degc(
        clock_h - site.clock_offset_h + site.longitude_deg / 15.0, min_degc=0.0, max_degc=1.0
    )
    when_d = np.arange(day_count * steps_per_day) / steps_per_day + 0.5 / steps_per_day
    noon_d = np.arange(day_count) + 0.5
    found = np.empty((member_count, day_count * steps_per_day))
    whole = np.tile(shape, day_count)
    for member in range(member_count):
        high = np.interp(when_d, noon_d, daily.max_degc[member])
        low = np.interp(when_d, noon_d, daily.min_degc[member])
        found[member] = low + (high - low) * whole
    return found
