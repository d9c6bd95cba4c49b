from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from ampwright.climate.series import SERIES_ARRAYS, SunSeries, repeated, step_hours, step_midpoints_h
from ampwright.errors import ClimateError


def small_series(day_count=1, steps_per_day=4):
    arrays = {
        name: np.arange(day_count * steps_per_day, dtype=float) + 100.0 * place
        for place, name in enumerate(SERIES_ARRAYS)
    }
    return SunSeries(start_day=17, day_count=day_count, steps_per_day=steps_per_day, **arrays)


def test_steps_cover_the_day():
    series = small_series()
    assert step_hours(series) == 6.0
    assert step_midpoints_h(series).tolist() == [3.0, 9.0, 15.0, 21.0]


def test_repeated_tiles_whole_days_in_every_array():
    once = small_series(day_count=2)
    many = repeated(once, 5)
    assert (many.day_count, many.steps_per_day, many.start_day) == (5, 4, 17)
    for name in SERIES_ARRAYS:
        values = getattr(once, name)
        assert np.array_equal(getattr(many, name), np.concatenate((values, values, values[:4])))


def test_arrays_that_do_not_fit_are_refused():
    with pytest.raises(ClimateError, match="dni_w_m2"):
        replace(small_series(), dni_w_m2=np.zeros(3))


def test_no_days_are_refused():
    with pytest.raises(ClimateError, match="day_count = 0"):
        repeated(small_series(), 0)
