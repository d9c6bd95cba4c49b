import math

import numpy as np
import pytest

from ampwright.energy.chemistry import CHEMISTRIES, open_circuit
from ampwright.network.far_faults import (
    CELL_NOMINAL_V,
    DOUBLING_K,
    HALF_CELL_V,
    far_faults,
    weak_battery,
    weak_starter,
)
from ampwright.network.solve import network_result
from ampwright.network.tree import forest_of

# A bank of 4 cells, half empty 4 x 3.266 V; at 0 degC 4 mohm double to 8 mohm. Copper at 105 degC: a metre of run
# has 2 mohm x (1 + 0.00393 x 85).
HOT = 1.0 + 0.00393 * 85.0
OPEN_V = 4 * 3.266
TEXT = """
part = [
  { id = "b", part = "bank" }, { id = "m", part = "module" }, { id = "c", part = "mppt" },
  { id = "p", part = "panel" },
]
load = [{ id = "lamp", name = "l", power_w = 12 }, { id = "horn", name = "h", power_w = 12 }]
[[run]]
id = "R1"
start = "b"
end = "m.in"
cable = "wire"
length_m = 4
joint_ohm = 0.001
device = [{ id = "F1", part = "breaker", distance_m = 0.1 }]
[[run]]
id = "R2"
start = "lamp"
end = "m.2"
cable = "wire"
length_m = 5
joint_ohm = 0.002
back = "chassis"
device = [{ id = "F2", part = "fuse", end = "to", distance_m = 0.1 }]
[[run]]
id = "R3"
start = "starter-battery"
end = "horn"
cable = "wire"
length_m = 5
joint_ohm = 0
device = [{ id = "F3", part = "fuse", distance_m = 0.1 }]
[[run]]
id = "R4"
start = "p"
end = "c.in"
cable = "wire"
length_m = 5
"""
FEED_OHM = 0.008 * HOT + 0.001 + 0.001


@pytest.fixture
def far(make_design):
    design = make_design(TEXT)
    return far_faults(design, (forest_of(design),))


def test_a_weak_battery_is_half_empty_and_cold(make_design):
    battery = weak_battery(make_design(TEXT))
    assert battery.open_v == pytest.approx(OPEN_V)
    assert battery.source_ohm == pytest.approx(0.008)
    pair = weak_battery(
        make_design(TEXT.replace('part = "bank"', 'part = "bank", in_series = 2, strings = 4'))
    )
    assert pair.open_v == pytest.approx(2.0 * OPEN_V)
    assert pair.source_ohm == pytest.approx(0.004)


def test_a_weak_starter_battery_is_lead(make_design):
    starter = weak_starter(make_design(TEXT))
    assert starter.open_v == pytest.approx(6 * 2.033)
    assert starter.source_ohm == pytest.approx(0.005 * math.sqrt(2.0))


def test_batteries_are_those_of_the_energy_room():
    for chemistry, traits in CHEMISTRIES.items():
        table = open_circuit(chemistry)
        half_v = float(np.interp(0.5, table.soc_frac, table.cell_v))
        assert HALF_CELL_V[chemistry] == pytest.approx(half_v, abs=5e-4)
        assert CELL_NOMINAL_V[chemistry] == traits.cell_nominal_v
        assert DOUBLING_K[chemistry] == traits.doubling_k


def test_joints_devices_channel_and_chassis_count(far):
    assert far.run_a[0] == pytest.approx(OPEN_V / (0.008 + FEED_OHM))
    # one conductor of 5 m, joints, fuse, chassis of 2 mohm, channel of 10 mohm
    lamp_ohm = 0.005 * HOT + 0.002 + 0.003 + 0.002 + 0.010
    assert far.run_a[1] == pytest.approx(OPEN_V / (0.008 + FEED_OHM + lamp_ohm))
    assert far.run_a[2] == pytest.approx(6 * 2.033 / (0.005 * math.sqrt(2.0) + 0.010 * HOT + 0.003))
    assert "13.1 V (half empty) behind 8.00 mohm" in far.run_note[0]


def test_every_device_on_the_way_sees_it(far):
    seen = [(one.run, one.device_run, one.device, one.fault_a) for one in far.device]
    assert seen == [
        (0, 0, "F1", far.run_a[0]),
        (1, 0, "F1", far.run_a[1]),
        (1, 1, "F2", far.run_a[1]),
        (2, 2, "F3", far.run_a[2]),
    ]


def test_panels_say_nothing(far):
    assert math.isnan(far.run_a[3])
    assert "panels" in far.run_note[3]


def test_an_unfed_run_is_not_known(make_design):
    design = make_design(TEXT.replace('start = "b"', 'start = "c.out"'))
    found = far_faults(design, (forest_of(design),))
    assert math.isnan(found.run_a[0])
    assert "nothing feeds it" in found.run_note[0]


def test_strings_share(make_design):
    text = TEXT.replace('part = "bank"', 'part = "bank", strings = 2, string_device = "breaker"')
    design = make_design(text)
    found = far_faults(design, (forest_of(design),))
    own = [one for one in found.device if one.device_run < 0]
    assert [(one.run, one.device) for one in own] == [(0, "b string"), (1, "b string")]
    assert own[0].fault_a == pytest.approx(OPEN_V / (0.004 + FEED_OHM) / 2.0)


def test_parallel_cables_share_the_fault(make_design):
    second = (
        '[[run]]\nid = "R5"\nstart = "m.in"\nend = "b"\ncable = "wire"\nlength_m = 8\njoint_ohm = 0.003\n'
    )
    second += 'device = [{ id = "F5", part = "breaker", distance_m = 0.1 }]\n'
    design = make_design(TEXT + second)
    found = far_faults(design, (forest_of(design),))
    other_ohm = 0.016 * HOT + 0.003 + 0.001
    both_ohm = FEED_OHM * other_ohm / (FEED_OHM + other_ohm)
    total_a = OPEN_V / (0.008 + both_ohm)
    assert found.run_a[0] == pytest.approx(total_a)
    assert found.run_a[4] == pytest.approx(total_a)
    shares = {one.device: one.fault_a for one in found.device if one.run == 0}
    assert shares == pytest.approx(
        {"F1": total_a * both_ohm / FEED_OHM, "F5": total_a * both_ohm / other_ohm}
    )
    assert "all ways together" in found.run_note[0]
    assert f"{total_a:.0f} A in all" in found.device[0].explanation
    lamp = {one.device: one.fault_a for one in found.device if one.run == 1}
    assert lamp["F2"] == pytest.approx(found.run_a[1])
    assert lamp["F1"] + lamp["F5"] == pytest.approx(found.run_a[1])


def test_a_second_battery_may_hide_a_fault_from_the_first(make_design):
    """With both batteries on one bar each sees only its part of a fault beyond, least when the other is strong."""
    second = '[[run]]\nid = "R5"\nstart = "starter-battery"\nend = "m.in"\ncable = "wire"\nlength_m = 8\n'
    second += 'joint_ohm = 0.003\ndevice = [{ id = "F5", part = "breaker", distance_m = 0.1 }]\n'
    design = make_design(TEXT + second)
    found = far_faults(design, (forest_of(design),))
    own_ohm, other_ohm = 0.008 + FEED_OHM, 0.005 + 0.016 * HOT + 0.003 + 0.001
    lamp_ohm = 0.010 + 0.005 * HOT + 0.002 + 0.003 + 0.002
    bar_v = (OPEN_V / own_ohm + 15.0 / other_ohm) / (1.0 / own_ohm + 1.0 / other_ohm + 1.0 / lamp_ohm)
    lamp = {one.device: one.fault_a for one in found.device if one.run == 1}
    assert lamp["F1"] == pytest.approx((OPEN_V - bar_v) / own_ohm)
    weak_other_ohm = 0.005 * math.sqrt(2.0) + 0.016 * HOT + 0.003 + 0.001
    weak_bar_v = (OPEN_V / own_ohm + 12.198 / weak_other_ohm) / (
        1.0 / own_ohm + 1.0 / weak_other_ohm + 1.0 / lamp_ohm
    )
    assert found.run_a[1] == pytest.approx(weak_bar_v / lamp_ohm)


def test_a_parallel_way_that_may_be_away_does_not_count(make_design):
    second = (
        '[[run]]\nid = "R5"\nstart = "m.in"\nend = "b"\ncable = "wire"\nlength_m = 8\npart_of = "trailer"\n'
    )
    design = make_design(TEXT + second)
    away = forest_of(design, frozenset({"vehicle"}))
    found = far_faults(design, (forest_of(design), away))
    assert found.run_a[0] == pytest.approx(OPEN_V / (0.008 + FEED_OHM))
    shares = {(one.run, one.device): one.fault_a for one in found.device}
    assert shares[1, "F1"] < far_faults(design, (away,)).run_a[1]
    assert network_result(design).run_far_fault_a[0] == pytest.approx(found.run_a[0])


def test_the_smallest_is_below_the_largest(make_design):
    result = network_result(make_design(TEXT))
    for run in (0, 1, 2):
        assert result.run_far_fault_a[run] < result.run_fault_a[run]
    largest = {fault.device: fault.fault_a for fault in result.device_fault}
    assert all(one.fault_a < largest[one.device] for one in result.far_fault)
