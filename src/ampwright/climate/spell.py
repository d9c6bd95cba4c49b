"""A cold or hot spell: days with given nights and afternoons, and how bad a spell the runs of weather hold."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

from ampwright.climate.daily_weather import DailyWeather
from ampwright.climate.series import SunSeries

__all__ = ["SpellAir", "spell_of_runs", "with_spell"]

Array = NDArray[np.float64]
LEAST_RANGE_K = 0.5
"""Days whose air hardly moves have no shape to stretch; they take the mean of night and afternoon."""


class SpellAir(NamedTuple):
    """Air of every day of a spell."""

    night_degc: float
    afternoon_degc: float


def with_spell(
    series: SunSeries, air: SpellAir, *, first: int, day_count: int, sun_factor: float = 1.0
) -> SunSeries:
    """Return the series with a spell: from day `first` on, each day's air is stretched to night and afternoon.

    Parameters
    ----------
    first : day of the series, from 0
    sun_factor : on the irradiance of these days
    """
    by_day = (series.day_count, series.steps_per_day)
    days = slice(first, first + day_count)
    ambient = series.ambient_degc.reshape(by_day).copy()
    low, high = ambient[days].min(axis=1, keepdims=True), ambient[days].max(axis=1, keepdims=True)
    has_shape = high - low > LEAST_RANGE_K
    share = np.where(has_shape, (ambient[days] - low) / np.where(has_shape, high - low, 1.0), 0.5)
    ambient[days] = air.night_degc + (air.afternoon_degc - air.night_degc) * share
    factor = np.ones(by_day)
    factor[days] = sun_factor
    return replace(
        series,
        ambient_degc=ambient.reshape(-1),
        ghi_w_m2=series.ghi_w_m2 * factor.reshape(-1),
        dni_w_m2=series.dni_w_m2 * factor.reshape(-1),
        dhi_w_m2=series.dhi_w_m2 * factor.reshape(-1),
    )


def spell_of_runs(
    daily: DailyWeather, kind: Literal["cold", "hot"], *, day_count: int, worse_frac: float
) -> SpellAir:
    """Return the air of the worst spell of so many days that this share of the runs exceeds.

    The measure is the mean of the air over the days, as for winter design temperatures of n days in EN ISO 15927-5 (from
    memory); how often it is exceeded is counted over the runs instead of the years (docs/choices.md#spell-share).

    Notes
    -----
    The day's mean is taken halfway between its extremes. The spell has at most the days of a run.
    """
    sign = 1.0 if kind == "hot" else -1.0
    count = min(day_count, daily.max_degc.shape[1])
    means = sign * _running(0.5 * (daily.max_degc + daily.min_degc), count)
    worst = means.max(axis=1)
    wanted = np.quantile(worst, 1.0 - worse_frac)
    run = int(np.argmin(np.abs(worst - wanted)))
    first = int(np.argmax(means[run]))
    days = slice(first, first + count)
    return SpellAir(float(daily.min_degc[run, days].mean()), float(daily.max_degc[run, days].mean()))


def _running(values: Array, count: int) -> Array:
    """Return means over so many days on end (n_runs, n_days - count + 1)."""
    sums = np.cumsum(np.pad(values, ((0, 0), (1, 0))), axis=1)
    means: Array = (sums[:, count:] - sums[:, :-count]) / count
    return means
