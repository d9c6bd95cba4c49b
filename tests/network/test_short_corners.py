import math

import pytest

from ampwright.network.resistance import working_ohm
from ampwright.network.short_corners import crank_corners, overload_corners
from ampwright.network.situations import situations
from ampwright.network.solve import network_result
from ampwright.network.tree import forest_of
from ampwright.parts.inverter_loss import inverter_dc_w

TEXT = """
part = [{ id = "b", part = "bank" }, { id = "d", part = "dcdc" }, { id = "i", part = "inverter" }]
run = [
  { id = "R1", start = "b", end = "i", cable = "wire", length_m = 1, joint_ohm = 0 },
  { id = "R2", start = "starter-battery", end = "d.in", cable = "wire", length_m = 10, joint_ohm = 0 },
  { id = "R3", start = "d.out", end = "b", cable = "wire", length_m = 1, joint_ohm = 0 },
]
load = [
  { id = "kettle", name = "k", power_w = 800, through = "i" },
  { id = "lamp", name = "l", power_w = 60, at = "b" },
  { id = "horn", name = "h", power_w = 60, at = "starter-battery", behaves = "current" },
]
"""


def case(design):
    (here,) = situations(design, forest_of(design))
    return here


def test_engine_start_with_the_charger_locked_out(make_design):
    design = make_design(TEXT)
    (corner,) = crank_corners(design, case(design), working_ohm(design))
    assert corner.sources[0][1] == pytest.approx(8.0)
    assert corner.demand.power_w[design.node_of("d.in")] == 0.0
    assert corner.demand.current_a[design.node_of("starter-battery")] == 5.0
    assert math.isfinite(corner.lasts_s)


def test_a_charger_set_to_stop_lower_goes_on(make_design):
    design = make_design(TEXT + 'setting = [{ part = "d", stop_v = 7.5 }]')
    (corner,) = crank_corners(design, case(design), working_ohm(design))
    assert corner.demand.power_w[design.node_of("d.in")] == pytest.approx(480.0)
    limited = make_design(TEXT + 'setting = [{ part = "d", stop_v = 7.5, input_limit_a = 20 }]')
    (corner,) = crank_corners(limited, case(limited), working_ohm(limited))
    assert corner.demand.power_w[limited.node_of("d.in")] == pytest.approx(160.0)


def test_crank_voltage_stands_apart_from_the_lowest(make_design):
    design = make_design(TEXT)
    result = network_result(design)
    node = design.node_of("d.in")
    assert result.crank_v[node] == pytest.approx(8.0)
    assert result.node_low_v[node] > 11.0
    assert math.isnan(result.crank_v[design.node_of("b")])
    assert "engine start" not in {point.corner for point in result.points}


def test_a_vehicle_of_24_v_sags_in_proportion(make_design):
    vehicle = """
[vehicle]
description = "truck"
system_v = 24
starter_battery = { capacity_ah = 80, short_circuit_a = 1500, resistance_ohm = 0.005 }
"""
    design = make_design(TEXT, vehicle=vehicle)
    assert network_result(design).crank_v[design.node_of("starter-battery")] == pytest.approx(16.0)


def test_inverter_overload_beside_all_other_loads(make_design, part_of_tests):
    design = make_design(TEXT)
    (corner,) = overload_corners(design, case(design), working_ohm(design))
    assert corner.name == "i in overload, loads of work 00:00"
    assert corner.lasts_s == 60.0
    assert corner.sources[0][1] == 10.0
    overload_w = inverter_dc_w(part_of_tests["inverter"], 1500.0)
    assert corner.demand.power_w[design.node_of("i")] == pytest.approx(overload_w)
    assert corner.demand.power_w[design.node_of("b")] == 60.0


def test_overload_counts_for_moments_only(make_design, part_of_tests):
    design = make_design(TEXT)
    result = network_result(design)
    overload_w = inverter_dc_w(part_of_tests["inverter"], 1500.0)
    low_v = (10.0 + math.sqrt(100.0 - 4.0 * 0.002 * overload_w)) / 2.0
    assert result.short_low_v[design.node_of("i")] == pytest.approx(low_v)
    assert result.short_peak_a[0] == pytest.approx(overload_w / low_v)
    assert result.peak_a[0] < 110.0 < result.short_peak_a[0]
    assert [point.lasts_s for point in result.short_points] == [60.0, 1.0]
    assert all(point.lasts_s == math.inf for point in result.points)


def test_without_an_inverter_nothing_overloads(make_design):
    result = network_result(make_design('part = [{ id = "b", part = "bank" }]'))
    assert result.short_low_v.tolist()[1:] == pytest.approx([math.nan], nan_ok=True)
    assert [point.corner for point in result.short_points] == ["engine start"]


def test_what_the_overload_adds_makes_the_battery_sag(make_design, part_of_tests):
    # the battery stands at the cut-off's 11 V with the lamp on, inverter off; its resistance carries what the overload adds
    cutoff = "load_cutoff = { open_v = 11.0, close_v = 12.5 }\n"
    design = make_design(cutoff + TEXT)
    result = network_result(design)
    bank_ohm = part_of_tests["bank"].resistance_ohm
    overload_w = inverter_dc_w(part_of_tests["inverter"], 1500.0)

    def inverter_a(power_w, battery_v):
        return (battery_v - math.sqrt(battery_v**2 - 4.0 * 0.002 * power_w)) / (2.0 * 0.002)

    before_a = 60.0 / 11.0
    low, high = 8.0, 11.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        sag_v = bank_ohm * (60.0 / middle + inverter_a(overload_w, middle) - before_a)
        low, high = (middle, high) if 11.0 - sag_v > middle else (low, middle)
    assert high < 10.9
    assert result.short_low_v[design.node_of("b")] == pytest.approx(high, abs=1e-6)
    assert result.short_peak_a[0] == pytest.approx(inverter_a(overload_w, high), abs=1e-3)


def test_without_a_cut_off_the_management_opens_before_it_sags(make_design):
    design = make_design(TEXT)
    (corner,) = overload_corners(design, case(design), working_ohm(design))
    assert corner.sources[0][1] == 10.0


def test_two_strings_sag_by_less_than_half(make_design):
    cutoff = "load_cutoff = { open_v = 11.0, close_v = 12.5 }\n"
    one, two = (
        make_design(cutoff + TEXT.replace('part = "bank" }', f'part = "bank", strings = {count} }}'))
        for count in (1, 2)
    )
    sags = [11.0 - overload_corners(d, case(d), working_ohm(d))[0].sources[0][1] for d in (one, two)]
    assert 0.4 < sags[1] / sags[0] < 0.5
