import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampwright.errors import TableError
from ampwright.standards.device_bands import DEVICE_CLASSES, RatedDevice, band_steps_a, device_band
from ampwright.standards.iso_8820 import opening_band, opening_limits

CLASSES = st.sampled_from(DEVICE_CLASSES)
RATINGS = st.sampled_from([20.0, 30.0, 50.0, 63.0, 80.0, 100.0, 150.0, 300.0])
CURRENTS = st.floats(0.0, 20_000.0)
COLD = st.floats(-60.0, 20.0)
HOT = st.floats(35.0, 120.0)


def longest(band):
    return math.inf if band.opening_max_s is None else band.opening_max_s


@given(device_class=CLASSES, rating_a=RATINGS, currents=st.tuples(CURRENTS, CURRENTS), cold=COLD, hot=HOT)
def test_band_is_ordered_and_falls_with_current(device_class, rating_a, currents, cold, hot):
    device = RatedDevice(device_class=device_class, rating_a=rating_a, coldest_degc=cold, hottest_degc=hot)
    bands = [device_band(device, current_a=current_a) for current_a in sorted(currents)]
    if None in bands:
        assert bands == [None, None]
        return
    less, more = bands
    assert more.opening_min_s <= less.opening_min_s
    assert longest(more) <= longest(less)
    for band in bands:
        assert band.opening_min_s <= longest(band)


@given(device_class=CLASSES, rating_a=RATINGS, current_a=CURRENTS, cold=COLD, hot=HOT)
def test_air_only_widens_the_band(device_class, rating_a, current_a, cold, hot):
    usual = device_band(RatedDevice(device_class=device_class, rating_a=rating_a), current_a=current_a)
    device = RatedDevice(device_class=device_class, rating_a=rating_a, coldest_degc=cold, hottest_degc=hot)
    wide = device_band(device, current_a=current_a)
    if usual is None:
        assert wide is None
        return
    assert wide.opening_min_s <= usual.opening_min_s
    assert longest(wide) >= longest(usual)


@pytest.mark.parametrize("current_a", [30.0, 67.5, 100.0, 175.0, 400.0])
def test_at_the_reference_temperature_a_fuse_has_the_band_of_its_standard(current_a):
    fuse = RatedDevice(device_class="iso-8820-3-e", rating_a=50.0)
    limits = opening_limits("iso-8820-3-e")
    assert device_band(fuse, current_a=current_a) == opening_band(limits, rating_a=50.0, current_a=current_a)


def test_below_the_lowest_point_it_need_not_open():
    band = device_band(RatedDevice(device_class="thermal", rating_a=20.0), current_a=25.0)
    assert band.opening_max_s is None
    assert band.opening_min_s == 4.0


def test_above_the_highest_point_the_longest_time_stays_and_no_shortest_is_promised():
    band = device_band(RatedDevice(device_class="thermal", rating_a=20.0), current_a=5000.0)
    assert (band.opening_min_s, band.opening_max_s) == (0.0, 0.4)


def test_heat_opens_a_thermal_breaker_sooner_and_cold_later():
    # In 60 degC air it carries 0.806 of its rating, in 0 degC air 1.087: 36 A then count as 2.23 and 1.66 times.
    plain = RatedDevice(device_class="thermal", rating_a=20.0)
    hot = RatedDevice(device_class="thermal", rating_a=20.0, hottest_degc=60.0)
    cold = RatedDevice(device_class="thermal", rating_a=20.0, coldest_degc=0.0)
    assert device_band(plain, current_a=36.0).opening_min_s == 4.0
    assert device_band(hot, current_a=36.0).opening_min_s == 0.6
    assert device_band(plain, current_a=41.0).opening_max_s == 40.0
    assert device_band(cold, current_a=41.0).opening_max_s == 3600.0


def test_a_hydraulic_magnetic_breaker_does_not_mind():
    plain = RatedDevice(device_class="hydraulic-magnetic", rating_a=50.0)
    hot = RatedDevice(device_class="hydraulic-magnetic", rating_a=50.0, coldest_degc=-30.0, hottest_degc=80.0)
    assert band_steps_a(plain) == band_steps_a(hot)


def test_air_outside_the_rerating_table_leaves_nothing_promised_on_that_side():
    hot = RatedDevice(device_class="thermal", rating_a=20.0, hottest_degc=80.0)
    cold = RatedDevice(device_class="thermal", rating_a=20.0, coldest_degc=-40.0)
    assert device_band(hot, current_a=100.0).opening_min_s == 0.0
    assert device_band(hot, current_a=100.0).opening_max_s == 5.0
    assert device_band(cold, current_a=100.0).opening_max_s is None


def test_rerating_lowers_the_standing_to_its_own():
    hot = RatedDevice(device_class="iso-8820-3-e", rating_a=50.0, hottest_degc=60.0)
    assert device_band(hot, current_a=120.0).source.standing == "second hand"


@given(device_class=CLASSES, rating_a=RATINGS, cold=COLD, hot=HOT)
def test_bounds_are_level_between_the_steps(device_class, rating_a, cold, hot):
    device = RatedDevice(device_class=device_class, rating_a=rating_a, coldest_degc=cold, hottest_degc=hot)
    steps = band_steps_a(device)
    assert list(steps) == sorted(steps)
    for low_a, high_a in itertools.pairwise(steps):
        if high_a - low_a > 1e-6 * high_a:
            width_a = high_a - low_a
            first = device_band(device, current_a=low_a + 0.01 * width_a)
            last = device_band(device, current_a=high_a - 0.01 * width_a)
            assert (first.opening_min_s, first.opening_max_s) == (last.opening_min_s, last.opening_max_s)


def test_a_rating_outside_its_family_has_no_band_and_no_steps():
    fuse = RatedDevice(device_class="iso-8820-5-sf30", rating_a=20.0)
    assert band_steps_a(fuse) == ()
    assert device_band(fuse, current_a=100.0) is None
    assert band_steps_a(RatedDevice(device_class="iso-8820-5-sf30", rating_a=300.0)) == ()


def test_impossible_questions_are_refused():
    with pytest.raises(TableError, match="negative"):
        device_band(RatedDevice(device_class="thermal", rating_a=20.0), current_a=-1.0)
    with pytest.raises(TableError, match="exchange"):
        device_band(
            RatedDevice(device_class="thermal", rating_a=20.0, coldest_degc=50.0, hottest_degc=20.0),
            current_a=40.0,
        )
    with pytest.raises(TableError, match="above 0"):
        device_band(RatedDevice(device_class="thermal", rating_a=0.0), current_a=40.0)
