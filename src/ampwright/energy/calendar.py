"""The time axis of a use: which day plan each step belongs to, and how a day's series fill all days."""

from __future__ import annotations

from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from ampwright.climate.series import SunSeries
from ampwright.errors import ClimateError
from ampwright.job.design import Design
from ampwright.records import record

__all__ = ["Calendar", "calendar_of"]

MINUTES = 1440
T = TypeVar("T", bound=np.generic)


@record
class Calendar:
    """Days and steps of a use."""

    plan_of_day: NDArray[np.int64]
    """Index of the day plan (n_days,)."""
    steps_per_day: int
    """Steps of a day."""

    @property
    def day_count(self) -> int:
        """Number of days."""
        return int(self.plan_of_day.size)

    @property
    def step_h(self) -> float:
        """Length of a step."""
        return 24.0 / self.steps_per_day

    @property
    def row_of_step(self) -> NDArray[np.int64]:
        """Position of each step in tables of plan and step of the day (n_steps,)."""
        first = self.plan_of_day * self.steps_per_day
        rows: NDArray[np.int64] = (first[:, None] + np.arange(self.steps_per_day)).reshape(-1)
        return rows

    def all_days(self, series: NDArray[T]) -> NDArray[T]:
        """Return a series of one day, or of all days, over all days; leading axis = steps."""
        if series.shape[0] == self.steps_per_day * self.day_count:
            return series
        return np.tile(series, (self.day_count,) + (1,) * (series.ndim - 1))

    def by_plan(self, values: NDArray[T]) -> NDArray[T]:
        """Return values per plan and step of the day (n_plans, steps_per_day, ...) over all days."""
        found: NDArray[T] = values[self.plan_of_day]
        return found.reshape(-1, *values.shape[2:])


def calendar_of(design: Design, sun: SunSeries) -> Calendar:
    """Return the time axis; the sun must have one day, or as many as the use."""
    days = np.array(design.days, dtype=np.int64)
    if sun.day_count not in {1, days.size}:
        raise ClimateError(
            f"the sun series has {sun.day_count} days, the use {days.size}: give one typical day or all of them"
        )
    if MINUTES % sun.steps_per_day:
        raise ClimateError(f"{sun.steps_per_day} steps a day are no whole minutes: use e.g. 96")
    return Calendar(plan_of_day=days, steps_per_day=sun.steps_per_day)
