"""Time to the limit of contents without supply: hand calculations in still air, and the course of the use."""

import math
from dataclasses import replace

import numpy as np
import pytest

from ampwright.energy.hold_over import hold_over_h
from ampwright.energy.simulate import energy_result

JOB = """
[[part]]
id = "bank"
part = "lfp-100"
[[load]]
id = "fridge"
name = "Refrigerator"
part = "fridge-45"
"""


@pytest.fixture
def studied(design_of, sun_of):
    """Return a use, its air, contents and ice replaced by what is given."""

    def build(*, air=30.0, degc=5.0, ice_wh=0.0, leak=1.0, capacity=12.0, used=True, cold_store_wh=0.0):
        design = design_of(JOB)
        load = design.loads[0]
        fridge = replace(load.fridge, contents_wh_per_k=capacity, cold_store_wh=cold_store_wh)
        design = replace(design, loads=(replace(load, fridge=fridge, set_degc=5.0),))
        energy = energy_result(design, sun_of(0.0), path_ohm=np.full(len(design.nodes), 0.01))
        shape = energy.fridge_degc.shape
        whole = {
            "fridge_air_degc": air,
            "fridge_degc": degc,
            "fridge_ice_wh": ice_wh,
            "fridge_leak_w_per_k": leak,
        }
        columns = {name: np.broadcast_to(value, shape).copy() for name, value in whole.items()}
        return design, replace(energy, fridge_is_used=np.full(shape, used), **columns)

    return build


def test_cabinet_without_ice_by_hand(studied):
    # 12 Wh/K, 1 W/K, 30 degC: 12 h x ln((30 - 5) / (30 - 8)) = 1.534 h
    found = hold_over_h(*studied(), 0, limit_degc=8.0)
    assert found == pytest.approx(12.0 * math.log(25.0 / 22.0), abs=0.001)


def test_ice_melts_first(studied):
    # 200 Wh of ice against 25 W, then as without ice
    found = hold_over_h(*studied(ice_wh=200.0, cold_store_wh=200.0), 0, limit_degc=8.0)
    assert found == pytest.approx(8.0 + 12.0 * math.log(25.0 / 22.0), abs=0.001)


def test_contents_that_are_too_warm_already_have_no_time(studied):
    design, energy = studied()
    energy.fridge_degc[100, 0] = 8.5
    assert hold_over_h(design, energy, 0, limit_degc=8.0) == 0.0


def test_cool_air_never_warms_them(studied):
    assert hold_over_h(*studied(air=7.0), 0, limit_degc=8.0) == math.inf


def test_never_in_use(studied):
    assert hold_over_h(*studied(used=False), 0, limit_degc=8.0) == math.inf


def test_the_worst_moment_counts_and_the_air_goes_on_as_in_the_use(studied):
    hour = (np.arange(288) % 96) / 4.0
    air = np.where((hour >= 12.0) & (hour < 13.0), 40.0, 20.0)[:, None]
    found = hold_over_h(*studied(air=air), 0, limit_degc=8.0)
    # from 12:15, the end of the first hot step: three quarters of an hour at 40 degC, the rest at 20 degC
    at_one = 40.0 - 35.0 * math.exp(-0.75 / 12.0)
    by_hand = 0.75 + 12.0 * math.log((20.0 - at_one) / (20.0 - 8.0))
    assert found == pytest.approx(by_hand, abs=0.002)


def test_from_the_end_of_the_use_it_goes_on_as_from_its_start(studied):
    air = np.full((288, 1), 7.0)
    air[-1] = 30.0
    air[:8] = 30.0
    design, energy = studied(air=air)
    energy.fridge_degc[-1, 0] = 5.5
    found = hold_over_h(design, energy, 0, limit_degc=8.0)
    assert found == pytest.approx(12.0 * math.log(24.5 / 22.0), abs=0.001)
