from __future__ import annotations

import numpy as np
import pytest

from ampwright.climate.daily_weather import DailyWeather
from ampwright.climate.series import SERIES_ARRAYS, SunSeries
from ampwright.climate.spell import SpellAir, spell_of_runs, with_spell


def days(*courses):
    """Return a series with the air of these days, four steps each, and irradiance 1."""
    arrays = {name: np.ones(4 * len(courses)) for name in SERIES_ARRAYS}
    arrays["ambient_degc"] = np.array(courses, dtype=float).reshape(-1)
    return SunSeries(start_day=1, day_count=len(courses), steps_per_day=4, **arrays)


def test_nights_and_afternoons_become_those_of_the_spell_and_the_shape_stays():
    series = days([0, 2, 8, 4], [0, 2, 8, 4], [0, 2, 8, 4])
    found = with_spell(series, SpellAir(-12.0, -4.0), first=1, day_count=1, sun_factor=0.5)
    assert found.ambient_degc.tolist() == [0, 2, 8, 4, -12, -10, -4, -8, 0, 2, 8, 4]
    assert found.ghi_w_m2.tolist() == [1] * 4 + [0.5] * 4 + [1] * 4
    assert found.extra_normal_w_m2.tolist() == [1] * 12
    assert series.ambient_degc[4] == 0  # the season's own days are left alone


def test_a_day_without_course_takes_the_mean():
    found = with_spell(days([5, 5, 5, 5]), SpellAir(-2.0, 4.0), first=0, day_count=1)
    assert found.ambient_degc.tolist() == [1, 1, 1, 1]


def runs(means, half=4.0):
    """Return the days of runs with these mean temperatures."""
    middle = np.array(means, dtype=float)
    nothing = np.zeros(middle.shape)
    return DailyWeather(
        irradiation_kwh_m2_day=nothing, clearness_frac=nothing, max_degc=middle + half, min_degc=middle - half
    )


# coldest 2-day means of these runs: -1, -2, -3, -4, -5; hottest: 6, 5, 4, 3, 2
FIVE = [[10, 2, -1 - k, -1 - k, 3, 9 - 2 * k] for k in range(5)]


@pytest.mark.parametrize(("worse_frac", "mean"), [(0.25, -4.0), (0.5, -3.0), (0.01, -5.0)])
def test_the_cold_spell_is_the_share_of_runs_asked_for(worse_frac, mean):
    found = spell_of_runs(runs(FIVE), "cold", day_count=2, worse_frac=worse_frac)
    assert found == (mean - 4.0, mean + 4.0)


def test_the_hot_spell_is_the_other_end():
    hot = [[1, 20 + k, 20 + k, 1, 1] for k in range(5)]
    assert spell_of_runs(runs(hot), "hot", day_count=2, worse_frac=0.25) == (19.0, 27.0)


def test_a_spell_longer_than_the_use_is_as_long_as_the_use():
    found = spell_of_runs(runs([[1, 2, 3], [1, 2, 3]]), "cold", day_count=10, worse_frac=0.1)
    assert found == (-2.0, 6.0)
