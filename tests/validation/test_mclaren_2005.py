"""Temperature rise in closed vehicles.

C. McLaren, J. Null, J. Quinn, "Heat Stress From Enclosed Vehicles: Moderate Ambient Temperatures Cause
Significant Temperature Rise in Enclosed Vehicles", Pediatrics 116 (2005) e109, doi 10.1542/peds.2004-2368,
abstract: a dark sedan on 16 clear sunny days at 72 to 96 degF, measured for 60 minutes; the mean rise was
about 40 degF and 80 % of it came in the first 30 minutes. Full sun is taken as 1000 W/m2 here.
"""

from __future__ import annotations

import numpy as np
import pytest

from ampwright.climate.body import BODY_PRESETS, body_air_degc
from ampwright.climate.series import SunSeries

PRINTED_RISE_K = 40.0 / 1.8
PRINTED_EARLY_SHARE = 0.80


def rise_k(preset_name, minutes):
    """Rise above the air some minutes after the sun comes out over a day in the dark."""
    count = 1440
    sun = np.zeros(2 * count)
    sun[count : count + 60] = 1000.0
    zeros = np.zeros(2 * count)
    series = SunSeries(
        start_day=1,
        day_count=2,
        steps_per_day=count,
        ghi_w_m2=sun,
        dni_w_m2=zeros,
        dhi_w_m2=sun,
        extra_normal_w_m2=zeros + 1361.0,
        sun_elevation_deg=zeros + 60.0,
        sun_azimuth_deg=zeros,
        ambient_degc=zeros + 25.0,
    )
    preset = BODY_PRESETS[preset_name]
    inside = body_air_degc(
        series,
        ua_w_per_k=preset.ua_w_per_k,
        solar_area_m2=preset.solar_area_m2,
        heat_capacity_wh_per_k=preset.heat_capacity_wh_per_k,
    )
    return float(inside[count + minutes - 1] - 25.0)


def test_mclaren_2005_rise_after_an_hour():
    assert rise_k("van-body-bare", 60) == pytest.approx(PRINTED_RISE_K, abs=3.0)


def test_mclaren_2005_share_in_the_first_half_hour():
    share = rise_k("van-body-bare", 30) / rise_k("van-body-bare", 60)
    assert share == pytest.approx(PRINTED_EARLY_SHARE, abs=0.05)


def test_insulated_bodies_heat_less_and_later():
    bare = rise_k("van-body-bare", 60)
    assert rise_k("box-body", 60) < rise_k("van-body-insulated", 60) < bare / 2.0
