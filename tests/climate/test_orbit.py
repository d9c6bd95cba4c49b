from __future__ import annotations

import numpy as np
import pandas as pd
import pvlib
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampwright.climate.orbit import (
    DAYS_IN_MONTH,
    day_of_year,
    daylight_minutes,
    extraterrestrial_kwh_m2_day,
    monthly_extraterrestrial_kwh_m2_day,
    representative_day,
)

MONTHS = range(1, 13)


def test_day_of_year_counts_a_common_year():
    assert day_of_year(1, 1) == 1
    assert day_of_year(3, 1) == 60
    assert day_of_year(12, 31) == 365


def test_extraterrestrial_agrees_with_pvlib_summed_over_the_day():
    for latitude_deg, month, day in ((0.0, 3, 16), (52.0, 6, 11), (-38.0, 12, 10), (65.0, 1, 17)):
        times = pd.date_range(f"2023-{month:02d}-{day:02d}", periods=1440, freq="min", tz="UTC")
        zenith = pvlib.solarposition.get_solarposition(times, latitude_deg, 0.0)["zenith"].to_numpy()
        number = day_of_year(month, day)
        normal = pvlib.irradiance.get_extra_radiation(np.full(1440, float(number)))
        direct = float(np.sum(normal * np.maximum(np.cos(np.radians(zenith)), 0.0)) / 60_000.0)
        ours = float(extraterrestrial_kwh_m2_day(latitude_deg, np.array([number]))[0])
        # The declination formulas differ by up to 0.3 degrees near the equinox.
        assert ours == pytest.approx(direct, rel=0.01, abs=0.03)


@given(latitude_deg=st.floats(-90.0, 90.0), month=st.integers(1, 12))
def test_representative_day_lies_in_its_month_and_has_sun_if_the_month_has(latitude_deg, month):
    number = representative_day(latitude_deg, month)
    first = day_of_year(month, 1)
    assert first <= number < first + DAYS_IN_MONTH[month - 1]
    if monthly_extraterrestrial_kwh_m2_day(latitude_deg, month) > 0.0:
        assert extraterrestrial_kwh_m2_day(latitude_deg, np.array([number]))[0] > 0.0


def test_polar_night_has_no_sunshine_above_the_air():
    assert monthly_extraterrestrial_kwh_m2_day(80.0, 12) == 0.0
    assert monthly_extraterrestrial_kwh_m2_day(-80.0, 6) == 0.0
    assert monthly_extraterrestrial_kwh_m2_day(80.0, 6) > 11.0


@given(latitude_deg=st.floats(0.0, 89.0), month=st.integers(1, 12))
def test_the_poleward_side_of_winter_is_darker(latitude_deg, month):
    if month in (11, 12, 1):
        here = monthly_extraterrestrial_kwh_m2_day(latitude_deg, month)
        assert monthly_extraterrestrial_kwh_m2_day(latitude_deg + 1.0, month) <= here


@pytest.mark.parametrize(
    ("latitude_deg", "longitude_deg", "utc_offset_h"),
    [(0.0, 36.8, 3.0), (-34.0, 151.2, 10.0), (52.5, 13.4, 1.0), (39.7, -105.0, -7.0), (60.0, 25.0, 2.0)],
)
@pytest.mark.parametrize("day", [17, 75, 135, 162, 228, 288, 344])
def test_sunrise_and_sunset_agree_with_the_spa_algorithm_within_three_minutes(
    latitude_deg, longitude_deg, utc_offset_h, day
):
    """pvlib's sun_rise_set_transit_spa (Reda and Andreas), mean of four years, since the series is of a mean year."""
    zone = f"Etc/GMT{-int(utc_offset_h):+d}"
    noons = pd.DatetimeIndex(
        [pd.Timestamp(year, 1, 1, 12, tz=zone) + pd.Timedelta(days=day - 1) for year in range(2021, 2025)]
    )
    found = pvlib.solarposition.sun_rise_set_transit_spa(noons, latitude_deg, longitude_deg)
    midnight = noons.normalize()
    expected = [
        float(np.mean((pd.DatetimeIndex(found[name]) - midnight).total_seconds())) / 60.0
        for name in ("sunrise", "sunset")
    ]
    ours = daylight_minutes(latitude_deg, longitude_deg, utc_offset_h, day)
    assert ours == pytest.approx(expected, abs=3.0)


def test_a_sun_that_stays_up_or_down_has_no_minutes():
    assert daylight_minutes(75.0, 0.0, 0.0, 172) is None
    assert daylight_minutes(75.0, 0.0, 0.0, 355) is None
