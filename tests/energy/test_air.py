"""Air in the zones."""

import numpy as np
import pytest

from ampwright.climate.body import BODY_PRESETS, body_air_degc
from ampwright.energy.air import air_of

ZONES = """
[[part]]
id = "bank"
part = "lfp-100"
zone = "locker"
[[zone]]
id = "locker"
kind = "locker"
ambient_max_degc = 50.0
rise_k = 3.0
[[zone]]
id = "bonnet"
kind = "engine"
ambient_max_degc = 80.0
rise_k = 20.0
"""


def test_inside_and_outside_zones(design_of, sun_of):
    design, sun = design_of(ZONES), sun_of()
    air = air_of(design, sun)
    preset = BODY_PRESETS["van-body-insulated"]
    inside = body_air_degc(
        sun,
        ua_w_per_k=preset.ua_w_per_k,
        solar_area_m2=preset.solar_area_m2,
        heat_capacity_wh_per_k=preset.heat_capacity_wh_per_k,
    )
    assert air.at(design.zones[0]) == pytest.approx(inside + 3.0)
    assert air.at(design.zones[1]) == pytest.approx(np.full(96, 45.0))
    assert air.at(None) == pytest.approx(inside)
