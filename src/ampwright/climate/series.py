"""Sun and air of one or many days in equal steps: the one record that the energy studies take."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ampwright.errors import ClimateError
from ampwright.records import record

__all__ = ["SERIES_ARRAYS", "SunSeries", "adjusted", "joined", "repeated", "step_hours", "step_midpoints_h"]

SERIES_ARRAYS = (
    "ghi_w_m2",
    "dni_w_m2",
    "dhi_w_m2",
    "extra_normal_w_m2",
    "sun_elevation_deg",
    "sun_azimuth_deg",
    "ambient_degc",
)


@record
class SunSeries:
    """Means over equal steps in the local standard clock time; the first step starts at midnight.

    Every array has the shape (day_count * steps_per_day,). ghi = dni * sin(elevation) + dhi holds in
    every step; sun angles are those of the middle of the step.
    """

    start_day: int
    """Day of a common year of the first day, 1 = 1 January."""
    day_count: int
    """Number of days."""
    steps_per_day: int
    """Number of equal steps in a day."""
    ghi_w_m2: NDArray[np.float64]
    """Global irradiance of a horizontal plane."""
    dni_w_m2: NDArray[np.float64]
    """Beam irradiance of a plane facing the sun."""
    dhi_w_m2: NDArray[np.float64]
    """Diffuse irradiance of a horizontal plane."""
    extra_normal_w_m2: NDArray[np.float64]
    """Irradiance facing the sun outside the atmosphere."""
    sun_elevation_deg: NDArray[np.float64]
    """Apparent height of the sun, refraction included; negative at night."""
    sun_azimuth_deg: NDArray[np.float64]
    """Direction of the sun, clockwise from north."""
    ambient_degc: NDArray[np.float64]
    """Air temperature of the place."""

    def __post_init__(self) -> None:
        """Refuse arrays that do not fit the day and step counts."""
        expected = (self.day_count * self.steps_per_day,)
        for name in SERIES_ARRAYS:
            shape = getattr(self, name).shape
            if shape != expected:
                raise ClimateError(f"{name} has the shape {shape}; day and step counts ask for {expected}")


def step_hours(series: SunSeries) -> float:
    """Length of one step in hours."""
    return 24.0 / series.steps_per_day


def step_midpoints_h(series: SunSeries) -> NDArray[np.float64]:
    """Clock time of the middle of each step of one day, in hours after midnight; (steps_per_day,)."""
    return (np.arange(series.steps_per_day, dtype=np.float64) + 0.5) * step_hours(series)


def repeated(series: SunSeries, day_count: int) -> SunSeries:
    """Return the days of `series` one after the other until `day_count` days are full."""
    if day_count < 1:
        raise ClimateError(f"day_count = {day_count}: at least one day is needed")
    step_count = day_count * series.steps_per_day
    tiled: dict[str, Any] = {name: np.resize(getattr(series, name), step_count) for name in SERIES_ARRAYS}
    return replace(series, day_count=day_count, **tiled)


def joined(parts: tuple[SunSeries, ...], *, start_day: int) -> SunSeries:
    """Return series of several places one after the other, each by its own clock.

    Parameters
    ----------
    start_day : day of a common year of the first day
    """
    arrays: dict[str, Any] = {
        name: np.concatenate([getattr(part, name) for part in parts]) for name in SERIES_ARRAYS
    }
    count = sum(part.day_count for part in parts)
    return SunSeries(start_day=start_day, day_count=count, steps_per_day=parts[0].steps_per_day, **arrays)


def adjusted(series: SunSeries, *, sun_factor: float, warmer_k: float) -> SunSeries:
    """Return the series with the irradiance of the ground scaled and the air warmed: a dull or hot spell.

    Examples
    --------
    >>> import numpy as np
    >>> flat = {name: np.ones(4) for name in SERIES_ARRAYS}
    >>> dull = adjusted(SunSeries(start_day=1, day_count=1, steps_per_day=4, **flat), sun_factor=0.5, warmer_k=2.0)
    >>> float(dull.ghi_w_m2[0]), float(dull.extra_normal_w_m2[0]), float(dull.ambient_degc[0])
    (0.5, 1.0, 3.0)
    """
    if sun_factor == 1.0 and warmer_k == 0.0:
        return series
    return replace(
        series,
        ghi_w_m2=series.ghi_w_m2 * sun_factor,
        dni_w_m2=series.dni_w_m2 * sun_factor,
        dhi_w_m2=series.dhi_w_m2 * sun_factor,
        ambient_degc=series.ambient_degc + warmer_k,
    )
