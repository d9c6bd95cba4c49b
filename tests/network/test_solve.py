import dataclasses
import math

import numpy as np
import pytest

from ampwright.network.solve import network_result

SIMPLE = """
load_cutoff = { open_v = 11.0, close_v = 12.8 }
part = [
  { id = "b", part = "bank" }, { id = "x", part = "bar" }, { id = "m", part = "module", is_on_when = "always" },
  { id = "d", part = "dcdc" },
]
run = [
  { id = "R1", start = "b", end = "x", cable = "wire", length_m = 5, joint_ohm = 0 },
  { id = "R2", start = "m.in", end = "x", cable = "wire", length_m = 2.5, joint_ohm = 0 },
  { id = "R3", start = "m.2", end = "lamp", cable = "wire", length_m = 10, joint_ohm = 0 },
  { id = "R4", start = "x", end = "d.out", cable = "wire", length_m = 1, joint_ohm = 0 },
  { id = "R5", start = "starter-battery", end = "d.in", cable = "wire", length_m = 10, joint_ohm = 0 },
]
[[load]]
id = "lamp"
name = "lamp"
power_w = 60
behaves = "current"
"""


@pytest.fixture
def simple(make_design):
    design = make_design(SIMPLE)
    return design, network_result(design)


def at(design, result, name):
    node = design.node_of(name)
    return float(result.node_low_v[node]), float(result.node_high_v[node])


def test_voltages_by_hand(simple):
    design, result = simple
    low_x = 11.0 - 0.010 * 5.1
    low_in = low_x - 0.005 * 5.1
    assert at(design, result, "x")[0] == pytest.approx(low_x)
    assert at(design, result, "m.in")[0] == pytest.approx(low_in)
    assert at(design, result, "lamp")[0] == pytest.approx(low_in - (0.010 + 0.020) * 5.0)
    assert at(design, result, "x")[1] == pytest.approx(14.0 + 0.010 * (30.0 - 5.1))
    assert at(design, result, "d.out")[1] == pytest.approx(14.0 + 0.010 * 24.9 + 0.002 * 30.0)
    assert at(design, result, "b") == (11.0, 14.0)


def test_the_alternator_side_by_its_closed_form(simple):
    design, result = simple
    lowest_v = (12.5 + math.sqrt(12.5**2 - 4 * 0.020 * 480.0)) / 2.0
    assert at(design, result, "d.in")[0] == pytest.approx(lowest_v)
    assert result.peak_a[4] == pytest.approx(480.0 / lowest_v)
    assert at(design, result, "starter-battery") == (12.5, 15.0)


def test_currents_point_from_start_to_end(simple):
    _, result = simple
    low = result.points[0]
    assert low.run_a[:3].tolist() == pytest.approx([5.1, -5.1, 5.0])
    assert low.link_a.tolist() == pytest.approx([0.0, 5.0, 0.0])
    assert math.isnan(low.run_a[4])
    charging = next(point for point in result.points if point.corner == "charging, engine running")
    assert charging.run_a[3] == pytest.approx(-30.0)


def test_peaks_are_the_largest_over_the_corners(simple):
    _, result = simple
    assert result.peak_a[:4].tolist() == pytest.approx([24.9, 5.1, 5.0, 30.0])
    assert result.link_peak_a.tolist() == pytest.approx([0.0, 5.0, 0.0])


def test_paths_and_roots(simple):
    design, result = simple
    assert result.path_ohm[design.node_of("lamp")] == pytest.approx(0.010 + 0.005 + 0.010 + 0.020)
    assert result.root[design.node_of("lamp")] == design.node_of("b")
    assert result.root[design.node_of("d.in")] == design.node_of("starter-battery")
    assert result.loops == ()
    assert result.unfed == ()
    assert all(point.is_solved for point in result.points)


def test_shapes_follow_the_design(simple):
    design, result = simple
    nodes, runs = (len(design.nodes),), (len(design.runs),)
    for found in (result.node_low_v, result.node_high_v, result.path_ohm, result.root):
        assert found.shape == nodes
    assert result.peak_a.shape == result.run_fault_a.shape == runs
    assert result.link_peak_a.shape == (len(design.links),)


def test_turning_every_run_round_changes_only_the_signs(simple):
    design, result = simple
    turned = dataclasses.replace(
        design, runs=tuple(dataclasses.replace(run, start=run.end, end=run.start) for run in design.runs)
    )
    other = network_result(turned)
    np.testing.assert_allclose(other.node_low_v, result.node_low_v, atol=1e-12)
    np.testing.assert_allclose(other.peak_a, result.peak_a, atol=1e-9)
    np.testing.assert_allclose(other.points[0].run_a, -result.points[0].run_a, atol=1e-9)


def test_parallel_feeds_share_by_their_conductance(make_design):
    second = 'id = "R6", start = "b", end = "m.in", cable = "wire", length_m = 7.5, joint_ohm = 0 },\n  { id = "R5"'
    design = make_design(SIMPLE.replace('id = "R5"', second))
    result = network_result(design)
    run = {one.id: one.index for one in design.runs}
    low = result.points[0]
    assert result.loops == ()
    assert [design.runs[k].id for k in result.meshed] == ["R1", "R2", "R6"]
    # both ways from battery to module have 15 mohm; the bar has no load of its own
    assert low.is_solved
    assert low.run_a[run["R1"]] == pytest.approx(2.55)
    assert low.run_a[run["R2"]] == pytest.approx(-2.55)
    assert low.run_a[run["R6"]] == pytest.approx(2.55)
    assert low.link_a.tolist() == pytest.approx([0.0, 5.0, 0.0])
    assert at(design, result, "m.in")[0] == pytest.approx(11.0 - 0.0075 * 5.1)
    assert result.path_ohm[design.node_of("m.in")] == pytest.approx(0.0075)
    assert result.path_ohm[design.node_of("x")] == pytest.approx(1.0 / (1.0 / 0.010 + 1.0 / 0.020))
    assert result.path_ohm[design.node_of("lamp")] == pytest.approx(0.0075 + 0.010 + 0.020)


def test_ganged_channels_share_by_their_resistance(make_design):
    second = 'id = "R6", start = "m.1", end = "lamp", cable = "wire", length_m = 20, joint_ohm = 0 },\n  { id = "R5"'
    design = make_design(SIMPLE.replace('id = "R5"', second))
    low = network_result(design).points[0]
    # 10 mohm of channel and 20 or 40 mohm of cable
    assert low.link_a.tolist() == pytest.approx([5.0 * 30.0 / 80.0, 5.0 * 50.0 / 80.0, 0.0])


def test_joined_batteries_settle_by_their_voltages(make_design):
    join = 'id = "R6", start = "starter-battery", end = "b", cable = "wire", length_m = 5, joint_ohm = 0 },\n  { id = "R5"'
    design = make_design(SIMPLE.replace('id = "R5"', join))
    result = network_result(design)
    assert result.loops == ()
    assert result.meshed == (4,)
    low = result.points[0]
    assert low.run_a[4] == pytest.approx(0.0, abs=1e-9)
    highest = next(point for point in result.points if "highest" in point.corner)
    # the empty bank, 11 V behind 4 mohm and 10 mohm of cable, would take 287 A at 15 V: more than the label's 120 A less
    # 30 A, so the alternator sinks to the starter battery's 12.8 V; lamp and module add 5.1 A
    own_loads_a = 5.1
    node_b_v = (12.8 / 0.010 + 11.0 / 0.004 - own_loads_a) / (1.0 / 0.010 + 1.0 / 0.004)
    assert highest.node_v[design.node_of("b")] == pytest.approx(node_b_v)
    assert highest.run_a[4] == pytest.approx((12.8 - node_b_v) / 0.010)


def test_what_joins_panels_and_battery_is_reported_and_not_known(make_design):
    text = SIMPLE.replace(
        '{ id = "d", part = "dcdc" }', '{ id = "d", part = "dcdc" }, { id = "c", part = "mppt" }'
    ).replace(
        '{ id = "R5"',
        '{ id = "R6", start = "x", end = "c.in", cable = "wire", length_m = 1 },\n  { id = "R5"',
    )
    design = make_design(text)
    result = network_result(design)
    assert [design.runs[k].id for k in result.loops] == ["R6"]
    assert math.isnan(result.node_low_v[design.node_of("lamp")])
    assert math.isnan(result.path_ohm[design.node_of("lamp")])
    assert math.isnan(result.run_far_fault_a[0])
    assert not result.points[0].is_solved
    assert result.points[0].collapse == ()
    assert result.node_low_v[design.node_of("d.in")] > 11.0


def test_collapse_in_a_ring_by_the_effective_resistance(make_design):
    ring = """
part = [{ id = "b", part = "bank" }, { id = "x", part = "bar" }]
run = [
  { id = "R1", start = "b", end = "x", cable = "wire", length_m = 30, joint_ohm = 0 },
  { id = "R2", start = "b", end = "x", cable = "wire", length_m = 30, joint_ohm = 0 },
  { id = "R3", start = "x", end = "pump", cable = "wire", length_m = 10, joint_ohm = 0 },
]
load = [{ id = "pump", name = "p", power_w = 501 }]
"""
    design = make_design(ring)
    result = network_result(design)
    (collapse,) = result.points[0].collapse
    assert collapse.node == design.node_of("pump")
    assert collapse.loop_ohm == pytest.approx(0.030 + 0.020)
    assert collapse.available_w == pytest.approx(500.0)
    assert collapse.bearable_frac == pytest.approx(500.0 / 501.0)
    assert np.isnan(result.peak_a).all()


def test_unfed_nodes_are_reported(make_design):
    design = make_design(SIMPLE.replace('end = "x"', 'end = "d.in"', 1))
    result = network_result(design)
    unfed = {design.nodes[node] for node in result.unfed}
    assert {"x", "m.in", "lamp", "d.out"} <= unfed
    assert math.isnan(result.node_low_v[design.node_of("lamp")])
    assert math.isnan(result.run_fault_a[2])


def test_collapse_of_a_thin_feed(make_design):
    heater = """
part = [{ id = "b", part = "bank" }]
run = [{ id = "R1", start = "b", end = "pump", cable = "wire", length_m = 50, joint_ohm = 0 }]
load = [{ id = "pump", name = "p", power_w = 251 }]
"""
    design = make_design(heater)
    result = network_result(design)
    low = result.points[0]
    (collapse,) = low.collapse
    assert not low.is_solved
    assert collapse.node == design.node_of("pump")
    assert collapse.available_w == pytest.approx(10.0**2 / (4 * 0.1))
    assert collapse.wanted_w == pytest.approx(251.0)
    assert collapse.bearable_frac == pytest.approx(250.0 / 251.0)
    assert math.isnan(result.peak_a[0])
    assert math.isnan(result.node_low_v[design.node_of("pump")])


def test_a_battery_alone_has_a_result(make_design):
    design = make_design('part = [{ id = "b", part = "bank" }]')
    result = network_result(design)
    assert result.peak_a.shape == (0,)
    assert at(design, result, "b") == (10.0, 14.4)
