import math

import pytest

from ampwright.network.faults import device_faults, run_fault_a
from ampwright.network.tree import forest_of

# The bank: 14.4 V full, 1440 A per string: 10 mohm; the starter battery 15 V / 1500 A: 10 mohm.
TEXT = """
part = [
  { id = "b", part = "bank" }, { id = "x", part = "bar" }, { id = "d", part = "dcdc" },
  { id = "c", part = "mppt" }, { id = "p", part = "panel", strings = 3, string_device = "fuse" },
]
[[run]]
id = "R1"
start = "b"
end = "x"
cable = "wire"
length_m = 4
joint_ohm = 0.005
device = [
  { id = "F1", part = "fuse", distance_m = 1 },
  { id = "F2", part = "breaker", end = "to", distance_m = 1 },
]
[[run]]
id = "R2"
start = "d.out"
end = "x"
cable = "wire"
length_m = 2
device = [{ id = "F3", part = "fuse", end = "to", distance_m = 0.5 }]
[[run]]
id = "R3"
start = "starter-battery"
end = "d.in"
cable = "wire"
length_m = 5
device = [{ id = "F4", part = "fuse", distance_m = 0 }]
[[run]]
id = "R4"
start = "p"
end = "c.in"
cable = "wire"
length_m = 5
device = [{ id = "F5", part = "fuse", distance_m = 0 }]
[[run]]
id = "R5"
start = "x"
end = "c.out"
cable = "wire"
length_m = 1
"""


@pytest.fixture
def faults(make_design):
    design = make_design(TEXT)
    found = device_faults(design, forest_of(design))
    return design, {fault.device: fault for fault in found}


def test_battery_through_cold_cable_without_joints(faults):
    _, found = faults
    assert found["F1"].fault_a == pytest.approx(14.4 / 0.012)
    assert found["F2"].fault_a == pytest.approx(14.4 / 0.016)
    assert found["F1"].run == 0
    assert found["F1"].part == -1
    assert "14.4 V behind 12.00 mohm" in found["F1"].explanation


def test_other_chargers_add_their_limit_and_the_runs_own_does_not(faults):
    _, found = faults
    assert found["F3"].fault_a == pytest.approx(14.4 / 0.019 + 20.0)


def test_starter_battery_and_alternator(faults):
    _, found = faults
    assert found["F4"].fault_a == pytest.approx(1500.0 + 120.0)


def test_panels_feed_back_their_short_circuit_current(faults):
    _, found = faults
    assert found["F5"].fault_a == pytest.approx(18.0)
    assert "fed back" in found["F5"].explanation


def test_a_string_is_fed_by_all_others(faults):
    design, found = faults
    fault = found["p string"]
    assert fault.fault_a == pytest.approx(12.0)
    assert (fault.run, design.parts[fault.part].id) == (-1, "p")


@pytest.mark.parametrize(("strings", "expected_a"), [(1, 1440.0), (2, 1440.0 + 50.0), (3, 2880.0 + 50.0)])
def test_battery_strings_and_chargers(make_design, strings, expected_a):
    device = f'part = "bank", strings = {strings}, string_device = "breaker"'
    design = make_design(TEXT.replace('part = "bank"', device))
    found = {fault.device: fault.fault_a for fault in device_faults(design, forest_of(design))}
    assert found["b string"] == pytest.approx(expected_a)
    assert found["F1"] == pytest.approx(14.4 / (0.010 / strings + 0.002))


def test_series_cases_double_voltage_and_resistance(make_design):
    design = make_design(TEXT.replace('part = "bank"', 'part = "bank", in_series = 2'))
    found = {fault.device: fault.fault_a for fault in device_faults(design, forest_of(design))}
    assert found["F1"] == pytest.approx(28.8 / 0.022)


def test_at_the_feeding_end_of_every_run(make_design):
    design = make_design(TEXT)
    found = run_fault_a(design, forest_of(design)).tolist()
    at_x = 14.4 / 0.018
    assert found == pytest.approx([1440.0, at_x + 20.0, 1620.0, 18.0, at_x + 30.0])


def test_parallel_cables_of_one_feed_share_by_their_copper(make_design):
    again = '[[run]]\nid = "R6"\nstart = "b"\nend = "x"\ncable = "wire"\nlength_m = 4\n'
    design = make_design(TEXT + again)
    found = {fault.device: fault for fault in device_faults(design, forest_of(design))}
    limited_a = 30.0 + 20.0
    # just beyond F1, 1 m from the battery: 2 mohm straight, or 8 + 6 mohm round by the other cable
    total_a = 14.4 / (0.010 + 1.0 / (1.0 / 0.002 + 1.0 / 0.014))
    assert found["F1"].fault_a == pytest.approx(total_a * 14.0 / 16.0 + limited_a)
    assert "parallel" in found["F1"].explanation
    assert found["F4"].fault_a == pytest.approx(1620.0)
    at_x_a = 14.4 / (0.010 + 0.004)
    assert run_fault_a(design, forest_of(design))[4] == pytest.approx(at_x_a + limited_a)


def test_joined_batteries_both_feed_a_fault(make_design):
    join = '[[run]]\nid = "R6"\nstart = "starter-battery"\nend = "b"\ncable = "wire"\nlength_m = 5\n'
    joined = join + 'device = [{ id = "F6", part = "fuse", distance_m = 5 }]\n'
    design = make_design(TEXT + joined)
    found = {fault.device: fault for fault in device_faults(design, forest_of(design))}
    limited_a = 30.0 + 20.0 + 120.0
    assert found["F6"].fault_a == pytest.approx(1440.0 + limited_a)
    assert "both batteries" in found["F6"].explanation
    through_a = 15.0 / 0.020 + 1440.0
    at_b_a = run_fault_a(design, forest_of(design))[0]
    assert at_b_a == pytest.approx(through_a + limited_a)


def test_a_device_between_panels_and_battery_is_not_calculated(make_design):
    again = '[[run]]\nid = "R6"\nstart = "p"\nend = "x"\ncable = "wire"\nlength_m = 4\n'
    design = make_design(TEXT + again)
    found = {fault.device: fault for fault in device_faults(design, forest_of(design))}
    assert math.isnan(found["F1"].fault_a)
    assert "joins sources" in found["F1"].explanation


def test_without_an_alternator_the_starter_battery_is_full_at_a_fifth_more(make_design):
    vehicle = """
[vehicle]
description = "van"
system_v = 12
starter_battery = { capacity_ah = 80, short_circuit_a = 1440, resistance_ohm = 0.005 }
"""
    design = make_design(
        TEXT.replace('id = "F4", part = "fuse", distance_m = 0', 'id = "F4", part = "fuse", distance_m = 5'),
        vehicle=vehicle,
    )
    found = {fault.device: fault.fault_a for fault in device_faults(design, forest_of(design))}
    assert found["F4"] == pytest.approx(14.4 / 0.020)
