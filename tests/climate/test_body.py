from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ampwright.climate.body import BODY_PRESETS, body_air_degc, hottest_body_degc
from ampwright.climate.series import repeated
from ampwright.climate.sources import shipped_site
from ampwright.climate.sun import typical_day
from ampwright.errors import ClimateError

DAY = typical_day(shipped_site("phoenix-us"), 6)


def figures(name):
    preset = BODY_PRESETS[name]
    return {
        "ua_w_per_k": preset.ua_w_per_k,
        "solar_area_m2": preset.solar_area_m2,
        "heat_capacity_wh_per_k": preset.heat_capacity_wh_per_k,
    }


@settings(deadline=None)
@given(
    ua=st.floats(5.0, 500.0),
    area=st.floats(0.0, 10.0),
    capacity=st.floats(1.0, 2000.0),
    heat=st.floats(0.0, 500.0),
)
def test_heat_in_is_heat_out_over_a_periodic_day(ua, area, capacity, heat):
    inside = body_air_degc(
        DAY, ua_w_per_k=ua, solar_area_m2=area, heat_capacity_wh_per_k=capacity, internal_w=heat
    )
    lost_w = ua * (inside - DAY.ambient_degc).mean()
    gained_w = area * DAY.ghi_w_m2.mean() + heat
    assert lost_w == pytest.approx(gained_w, rel=1e-7, abs=1e-6)


def test_exact_solution_does_not_depend_on_the_step():
    fine = typical_day(shipped_site("phoenix-us"), 6, step_minutes=5)
    hold = {
        name: np.repeat(getattr(DAY, name), 3)
        for name in (
            "ghi_w_m2",
            "dni_w_m2",
            "dhi_w_m2",
            "sun_elevation_deg",
            "sun_azimuth_deg",
            "ambient_degc",
        )
    }
    held = replace(fine, **hold)
    coarse = body_air_degc(DAY, **figures("van-body-bare"))
    finer = body_air_degc(held, **figures("van-body-bare")).reshape(-1, 3).mean(axis=1)
    assert finer == pytest.approx(coarse, abs=1e-9)


def test_more_days_repeat_the_periodic_day():
    once = body_air_degc(DAY, **figures("box-body"))
    thrice = body_air_degc(repeated(DAY, 3), **figures("box-body"))
    assert thrice == pytest.approx(np.tile(once, 3), abs=1e-9)


def test_without_sun_and_heat_a_light_body_follows_the_air():
    inside = body_air_degc(DAY, ua_w_per_k=100.0, solar_area_m2=0.0, heat_capacity_wh_per_k=0.01)
    assert inside == pytest.approx(DAY.ambient_degc, abs=0.01)


def test_heavy_bodies_lag_and_flatten():
    light = body_air_degc(DAY, ua_w_per_k=70.0, solar_area_m2=0.9, heat_capacity_wh_per_k=20.0)
    heavy = body_air_degc(DAY, ua_w_per_k=70.0, solar_area_m2=0.9, heat_capacity_wh_per_k=500.0)
    assert np.ptp(heavy) < np.ptp(light)
    assert heavy.argmax() > light.argmax()


def test_internal_heat_can_follow_the_clock():
    heat = np.zeros(DAY.steps_per_day)
    heat[80:] = 200.0
    evening = body_air_degc(DAY, **figures("van-body-insulated"), internal_w=heat)
    without = body_air_degc(DAY, **figures("van-body-insulated"))
    assert (evening > without - 1e-12).all()
    assert evening[90] > without[90] + 1.0


@pytest.mark.parametrize(
    ("name", "low_k", "high_k"),
    [("van-body-bare", 10.0, 25.0), ("van-body-insulated", 5.0, 15.0), ("box-body", 4.0, 12.0)],
)
def test_presets_stay_in_their_band_on_a_sunny_day(name, low_k, high_k):
    rise_k = (body_air_degc(DAY, **figures(name)) - DAY.ambient_degc).max()
    assert low_k < rise_k < high_k
    assert BODY_PRESETS[name].name == name


@pytest.mark.parametrize(
    "change", [{"ua_w_per_k": 0.0}, {"heat_capacity_wh_per_k": 0.0}, {"solar_area_m2": -1.0}]
)
def test_impossible_bodies_are_refused(change):
    with pytest.raises(ClimateError, match="body"):
        body_air_degc(DAY, **(figures("box-body") | change))


@pytest.mark.parametrize("name", sorted(BODY_PRESETS))
def test_the_hottest_air_agrees_with_the_balance_stepped_by_the_minute(name):
    preset, hottest = BODY_PRESETS[name], 35.0
    minutes = np.arange(5 * 1440)
    hour = (minutes % 1440) / 60
    sun = np.clip(1000 * np.sin(np.pi * (hour - 6) / 12), 0, None)
    outside = hottest - 5 + 5 * np.cos(2 * np.pi * (hour - 15) / 24)
    inside, course = 30.0, []
    for g, ta in zip(sun, outside, strict=True):
        inside += (preset.ua_w_per_k * (ta - inside) + preset.solar_area_m2 * g) / (
            60 * preset.heat_capacity_wh_per_k
        )
        course.append(inside)
    assert hottest_body_degc(name, hottest) == pytest.approx(max(course[-1440:]), abs=0.1)


def test_no_body_is_cooler_than_the_air_and_the_bare_one_is_the_hottest():
    hot = {name: hottest_body_degc(name, 30.0) for name in BODY_PRESETS}
    assert all(air > 30.0 for air in hot.values())
    assert max(hot, key=hot.get) == "van-body-bare"
