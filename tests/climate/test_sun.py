from __future__ import annotations

from dataclasses import replace

import numpy as np
import pandas as pd
import pvlib
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ampwright.climate.orbit import MEAN_DAY_OF_MONTH, monthly_extraterrestrial_kwh_m2_day
from ampwright.climate.series import SERIES_ARRAYS, repeated
from ampwright.climate.site import Site
from ampwright.climate.sources import shipped_site, shipped_sites
from ampwright.climate.sun import check_step_minutes, sun_angles, typical_day
from ampwright.errors import ClimateError

NORTH = "hamburg-de"
SOUTH = "wagga-wagga-au"


def typed_site(latitude_deg, longitude_deg, clearness=0.5, **changes):
    ghi = tuple(
        clearness * monthly_extraterrestrial_kwh_m2_day(latitude_deg, month) for month in range(1, 13)
    )
    site = Site(
        id="typed",
        name="Typed",
        country="",
        latitude_deg=latitude_deg,
        longitude_deg=longitude_deg,
        ghi_kwh_m2_day=ghi,
        max_degc=tuple(20.0 + month for month in range(12)),
        min_degc=tuple(5.0 + month for month in range(12)),
        source="typed",
    )
    return replace(site, **changes)


def midpoints(site, month, step_minutes=15):
    offset = pd.Timedelta(hours=site.clock_offset_h)
    start = pd.Timestamp(2023, month, MEAN_DAY_OF_MONTH[month - 1]) + pd.Timedelta(minutes=step_minutes / 2)
    count = 1440 // step_minutes
    return pd.date_range(start, periods=count, freq=f"{step_minutes}min").tz_localize(
        f"Etc/GMT{-int(offset / pd.Timedelta(hours=1)):+d}"
    )


def daily_kwh_m2(day):
    return day.ghi_w_m2.reshape(day.day_count, -1).sum(axis=1) * 24.0 / day.steps_per_day / 1000.0


@pytest.mark.parametrize("site_id", [NORTH, SOUTH, "northway-us", "addis-ababa-et"])
@pytest.mark.parametrize("month", [1, 3, 6, 12])
def test_sun_position_is_that_of_pvlib(site_id, month):
    site = shipped_site(site_id)
    day = typical_day(site, month)
    times = midpoints(site, month)
    expected = pvlib.solarposition.get_solarposition(
        times, site.latitude_deg, site.longitude_deg, altitude=site.elevation_m
    )
    assert day.sun_elevation_deg == pytest.approx(expected["apparent_elevation"].to_numpy(), abs=1e-9)
    assert day.sun_azimuth_deg == pytest.approx(expected["azimuth"].to_numpy(), abs=1e-9)


@pytest.mark.parametrize("site_id", [NORTH, SOUTH, "northway-us", "addis-ababa-et"])
@pytest.mark.parametrize("month", [1, 6])
@pytest.mark.filterwarnings("ignore:DatetimeIndex.dayofyear")
@pytest.mark.filterwarnings("ignore:divide by zero:RuntimeWarning")
def test_shape_is_the_clear_sky_of_pvlib(site_id, month):
    site = shipped_site(site_id)
    day = typical_day(site, month)
    place = pvlib.location.Location(site.latitude_deg, site.longitude_deg, altitude=site.elevation_m)
    turbidity = pvlib.clearsky.lookup_linke_turbidity(
        midpoints(site, month), site.latitude_deg, site.longitude_deg, interp_turbidity=False
    )
    clear = place.get_clearsky(midpoints(site, month), linke_turbidity=float(turbidity.iloc[0]))[
        "ghi"
    ].to_numpy()
    scale = 1000.0 * site.ghi_kwh_m2_day[month - 1] / (clear.sum() / 4.0)
    assert day.ghi_w_m2 == pytest.approx(clear * scale, rel=2e-4, abs=1e-6)


@pytest.mark.parametrize("site_id", [NORTH, SOUTH, "phoenix-us"])
@pytest.mark.parametrize("month", [1, 7])
@pytest.mark.filterwarnings("ignore:DatetimeIndex.dayofyear")
def test_split_is_that_of_pvlib(site_id, month):
    site = shipped_site(site_id)
    day = typical_day(site, month)
    split = pvlib.irradiance.erbs(day.ghi_w_m2, 90.0 - day.sun_elevation_deg, midpoints(site, month))
    # The day of year of the earth's distance changes at UTC midnight there and here: equal to a rounding.
    assert day.dni_w_m2 == pytest.approx(split["dni"].to_numpy(), rel=1e-3, abs=1e-9)
    assert day.dhi_w_m2 == pytest.approx(split["dhi"].to_numpy(), rel=1e-3, abs=1e-9)


@pytest.mark.parametrize("month", range(1, 13))
def test_daily_sum_of_every_shipped_place_is_the_monthly_mean(month):
    sites = list(shipped_sites().values())
    for site in sites[month::6]:
        day = typical_day(site, month, step_minutes=30)
        assert daily_kwh_m2(day)[0] == pytest.approx(site.ghi_kwh_m2_day[month - 1], abs=1e-9)


@settings(max_examples=40, deadline=None)
@given(
    latitude_deg=st.floats(-90.0, 90.0),
    longitude_deg=st.floats(-180.0, 180.0),
    clearness=st.floats(0.0, 0.84),
    month=st.integers(1, 12),
    step_minutes=st.sampled_from((5, 15, 60)),
)
def test_any_place_on_earth_closes(latitude_deg, longitude_deg, clearness, month, step_minutes):
    site = typed_site(latitude_deg, longitude_deg, clearness)
    day = typical_day(site, month, step_minutes=step_minutes)
    assert daily_kwh_m2(day)[0] == pytest.approx(site.ghi_kwh_m2_day[month - 1], abs=1e-9)
    for name in SERIES_ARRAYS:
        values = getattr(day, name)
        assert values.shape == (1440 // step_minutes,)
        assert np.isfinite(values).all()
    for values in (day.ghi_w_m2, day.dni_w_m2, day.dhi_w_m2):
        assert values.min() >= 0.0
    assert (day.dni_w_m2 <= day.extra_normal_w_m2).all()
    beam = day.dni_w_m2 * np.sin(np.radians(day.sun_elevation_deg))
    assert day.ghi_w_m2 == pytest.approx(beam + day.dhi_w_m2, abs=1e-9)
    assert day.ambient_degc.max() == site.max_degc[month - 1]
    assert day.ambient_degc.min() == site.min_degc[month - 1]


def test_polar_night_is_zeros():
    day = typical_day(typed_site(80.0, 15.0), 12)
    assert not day.ghi_w_m2.any()
    assert not day.dni_w_m2.any()
    assert not day.dhi_w_m2.any()
    assert day.sun_elevation_deg.max() < 0.0


def test_typed_zero_in_a_lit_month_is_zeros_too():
    site = typed_site(69.0, 18.0)
    day = typical_day(replace(site, ghi_kwh_m2_day=(0.0, *site.ghi_kwh_m2_day[1:])), 1)
    assert not day.ghi_w_m2.any()


def test_dark_december_of_a_shipped_place_near_the_circle():
    site = shipped_site("northway-us")
    day = typical_day(site, 12)
    assert daily_kwh_m2(day)[0] == pytest.approx(0.102, abs=1e-9)
    assert 2.0 < day.sun_elevation_deg.max() < 6.0


@pytest.mark.parametrize(
    ("latitude_deg", "month"), [(67.35, 12), (78.0, 2), (84.3, 10), (-84.3, 4), (89.0, 3)]
)
def test_months_with_a_few_lit_days_still_give_their_light(latitude_deg, month):
    site = typed_site(latitude_deg, 7.5)
    day = typical_day(site, month, step_minutes=60)
    assert site.ghi_kwh_m2_day[month - 1] > 0.0
    assert daily_kwh_m2(day)[0] == pytest.approx(site.ghi_kwh_m2_day[month - 1], abs=1e-9)


def test_southern_summer_is_december_and_the_noon_sun_stands_north():
    site = shipped_site(SOUTH)
    summer, winter = typical_day(site, 12), typical_day(site, 6)
    assert daily_kwh_m2(summer)[0] > 2.0 * daily_kwh_m2(winter)[0]
    noon = winter.sun_elevation_deg.argmax()
    assert np.cos(np.radians(winter.sun_azimuth_deg[noon])) > 0.99


def test_northern_noon_sun_stands_south_and_near_noon_of_the_clock():
    day = typical_day(shipped_site(NORTH), 6)
    noon = day.sun_elevation_deg.argmax()
    assert np.cos(np.radians(day.sun_azimuth_deg[noon])) < -0.99
    assert 12.0 < (noon + 0.5) / 4.0 < 13.0


def test_equator_sees_the_sun_on_both_sides():
    site = typed_site(0.0, 0.0)
    june, december = typical_day(site, 6), typical_day(site, 12)
    assert np.cos(np.radians(june.sun_azimuth_deg[june.sun_elevation_deg.argmax()])) > 0.9
    assert np.cos(np.radians(december.sun_azimuth_deg[december.sun_elevation_deg.argmax()])) < -0.9
    assert june.sun_elevation_deg.max() == pytest.approx(90.0 - 23.1, abs=0.3)


def test_sun_angles_go_on_into_january():
    site = shipped_site(NORTH)
    turn = sun_angles(site, start_day=365, day_count=2, steps_per_day=24)
    first = sun_angles(site, start_day=1, day_count=1, steps_per_day=24)
    assert turn.elevation_deg[24:] == pytest.approx(first.elevation_deg, abs=1e-9)


def test_typical_day_can_be_repeated():
    day = typical_day(shipped_site(NORTH), 4)
    week = repeated(day, 7)
    assert daily_kwh_m2(week) == pytest.approx(np.full(7, daily_kwh_m2(day)[0]))


@pytest.mark.parametrize("step_minutes", [0, 7, 45, 90, -15])
def test_steps_that_do_not_divide_the_hour_are_refused(step_minutes):
    with pytest.raises(ClimateError, match="divisor of 60"):
        check_step_minutes(step_minutes)
    with pytest.raises(ClimateError, match="divisor of 60"):
        typical_day(shipped_site(NORTH), 1, step_minutes=step_minutes)


@pytest.mark.parametrize("month", [0, 13])
def test_months_outside_the_year_are_refused(month):
    with pytest.raises(ClimateError, match="month"):
        typical_day(shipped_site(NORTH), month)


def test_a_site_that_cannot_be_true_is_refused():
    with pytest.raises(ClimateError, match=r"typed.*impossible"):
        typical_day(typed_site(50.0, 5.0, ghi_kwh_m2_day=(20.0,) * 12), 1)
