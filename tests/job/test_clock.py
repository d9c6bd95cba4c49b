"""Clock times and sequences of days."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampwright.job.clock import day_names, minute_by_sun, minutes_of_clock


@given(st.integers(0, 1440))
def test_every_minute_of_the_day_can_be_written(minute):
    assert minutes_of_clock(f"{minute // 60:02}:{minute % 60:02}") == minute


@pytest.mark.parametrize(
    "text", ["", "6", "06.30", "6:3", "06:60", "24:01", "25:00", "-1:00", "06:30:00", "noon", "06:30 pm"]
)
def test_what_is_no_clock_time(text):
    assert minutes_of_clock(text) is None


def test_spaces_and_one_figure_hours_are_read():
    assert (minutes_of_clock(" 6:05 "), minutes_of_clock("24:00")) == (365, 1440)


@pytest.mark.parametrize(
    ("entry", "names"),
    [
        ("rest", ("rest",)),
        ("2 x work", ("work", "work")),
        ("3x work", ("work",) * 3),
        ("2 × work", ("work", "work")),
        ("366 x a", ("a",) * 366),
        ("0 x work", None),
        ("367 x work", None),
        ("1000 x work", ("1000 x work",)),
        ("x work", ("x work",)),
    ],
)
def test_day_names(entry, names):
    assert day_names(entry) == names


def test_times_by_the_sun_go_over_midnight_and_nothing_else_is_one():
    daylight = (400, 1100)
    assert minute_by_sun(" sunset+6:00", daylight) == 20
    assert minute_by_sun("sunrise - 7:00", daylight) == 1420
    for text in ("dawn", "sunset 0:30", "sunset+30", "sunset+0:60", "06:30", ""):
        assert minute_by_sun(text, daylight) is None
