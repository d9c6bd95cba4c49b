"""Two batteries joined by a relay: against the closed form of two sources, and against ngspice."""

import re
import shutil
import subprocess

import numpy as np
import pytest

from ampwright.network.solve import network_result
from ampwright.parts.relay import Relay

# starter battery - R1 (1 m) - relay - R2 (0.5 m) - b: 2 + 1 + 1 mohm, behind the 4 mohm of an empty bank
TEXT = """
load_cutoff = { open_v = 11.0, close_v = 12.8 }
part = [{ id = "b", part = "bank" }, { id = "r", part = "relay" }]
run = [
  { id = "R1", start = "starter-battery", end = "r.in", cable = "wire", length_m = 1, joint_ohm = 0 },
  { id = "R2", start = "b", end = "r.out", cable = "wire", length_m = 0.5, joint_ohm = 0 },
]
"""
VEHICLE = """
[vehicle]
description = "van"
system_v = 12
starter_battery = { capacity_ah = 80, short_circuit_a = 1500, resistance_ohm = 0.005 }
[vehicle.alternator]
rating_a = 1000
regulation = "fixed"
voltage_v = 14.0
lowest_v = 12.0
highest_v = 15.0
hot_road_frac = 0.7
hot_idle_frac = 0.4
own_load_day_a = 0
own_load_night_a = 0
"""


def relay(**changes):
    figures = {
        "id": "relay", "name": "relay", "source": "invented for tests", "kind": "relay", "nominal_v": 12,
        "pick_up": "run-signal", "rating_a": 100, "peak_a": 300, "peak_s": 5, "rated_dc_v": 32,
        "breaking_capacity_a": 100, "resistance_ohm": 0.001, "coil_a": 0.0,
    }  # fmt: skip
    return Relay(**(figures | changes))


@pytest.fixture
def solved(make_design):
    def made(text=TEXT, vehicle=VEHICLE, **changes):
        design = make_design(text, vehicle=vehicle, more_parts=(relay(**changes),))
        return design, network_result(design)

    return made


def at(points, name):
    (point,) = (point for point in points if point.corner == name)
    return point


def test_current_into_an_empty_battery_is_the_difference_over_the_loop(solved):
    _, found = solved()
    for word, volts in (("lowest", 12.0), ("usual", 14.0), ("highest", 15.0)):
        point = at(found.points, f"engine running, alternator at its {word} voltage, relay closed")
        assert point.link_a[0] == pytest.approx((volts - 11.0) / 0.008, rel=1e-9)
    assert found.link_peak_a[0] == pytest.approx(4.0 / 0.008, rel=1e-9)


def test_a_full_battery_feeds_a_low_alternator(solved):
    _, found = solved()
    name = "engine running, alternator at its lowest voltage, relay closed, auxiliary battery full"
    assert at(found.points, name).link_a[0] == pytest.approx(-(14.4 - 12.0) / 0.008, rel=1e-9)


def test_an_alternator_gives_no_more_than_its_label(solved):
    vehicle = VEHICLE.replace("rating_a = 1000", "rating_a = 300").replace(
        "own_load_day_a = 0", "own_load_day_a = 50"
    )
    _, found = solved(vehicle=vehicle)
    point = at(found.points, "engine running, alternator at its highest voltage, relay closed")
    assert point.link_a[0] == pytest.approx(250.0, rel=1e-6)
    assert point.node_v[0] == pytest.approx(11.0 + 250.0 * 0.008, rel=1e-6)
    weak = vehicle.replace("rating_a = 300", "rating_a = 100")  # then the starter battery at 12.8 V helps
    _, found = solved(vehicle=weak)
    point = at(found.points, "engine running, alternator at its highest voltage, relay closed")
    assert point.link_a[0] == pytest.approx(1.8 / 0.008, rel=1e-6)


def test_engine_start_draws_on_the_auxiliary_battery_unless_it_is_held_open(solved):
    _, found = solved()
    point = at(found.short_points, "engine start, relay closed, auxiliary battery full")
    assert point.link_a[0] == pytest.approx(-(14.4 - 8.0) / 0.008, rel=1e-9)
    _, found = solved(is_open_while_starting=True)
    assert [point.corner for point in found.short_points] == ["engine start"]


def test_open_the_batteries_are_apart(solved):
    design, found = solved()
    point = at(found.points, "battery low, no loads")
    assert np.isnan(point.link_a[0])
    roots = [design.nodes[found.root[design.node_of(name)]] for name in ("r.in", "r.out")]
    assert roots == ["starter-battery", "b"]
    assert found.joined_runs == (0, 1)
    assert found.meshed == ()


def test_faults_are_those_of_both_batteries(solved):
    text = TEXT.replace(
        "joint_ohm = 0 },\n]", 'joint_ohm = 0, device = [{ id = "F", part = "fuse", distance_m = 0 }] },\n]'
    )
    _, found = solved(text=text)
    # a fault beside F at b: the bank straight, or the starter battery at 15 V behind 10 mohm, 3 mohm of cable, alternator
    (fault,) = found.device_fault
    assert fault.fault_a == pytest.approx(max(1440.0, 15.0 / 0.013) + 1000.0, rel=1e-6)


def test_mains_fills_the_starter_battery_through_a_two_way_relay(solved):
    text = TEXT.replace("part = [", 'part = [{ id = "m", part = "mains" }, ').replace(
        "run = [",
        'run = [{ id = "R3", start = "b", end = "m.out", cable = "wire", length_m = 1, joint_ohm = 0 },',
    )
    _, found = solved(text=text, pick_up="voltage", close_v=13.3, open_v=12.8, is_two_way=True)
    point = at(found.points, "charging, hooked up, relay closed, starter battery low")
    assert point.link_a[0] == pytest.approx(-(14.2 - 11.8) / 0.009, rel=1e-9)


def test_a_contactor_elsewhere_is_closed_and_its_coil_counts(solved):
    text = """
    part = [{ id = "b", part = "bank" }, { id = "r", part = "relay" }]
    run = [{ id = "R1", start = "b", end = "r.in", cable = "wire", length_m = 1, joint_ohm = 0 },
           { id = "R2", start = "r.out", end = "lamp", cable = "wire", length_m = 1, joint_ohm = 0 }]
    load = [{ id = "lamp", name = "l", power_w = 120, behaves = "current" }]
    """
    design, found = solved(text=text, coil_a=0.5)
    assert design.nodes[found.root[design.node_of("lamp")]] == "b"
    assert found.link_peak_a[0] == pytest.approx(10.0)
    assert float(np.nanmax(found.peak_a)) == pytest.approx(10.5)


def test_two_sources_and_a_load_agree_with_ngspice(solved, tmp_path):
    text = TEXT + 'load = [{ id = "l", name = "l", power_w = 300, at = "r.out" }]\n'
    design, found = solved(text=text, coil_a=0.5)
    point = at(found.points, "engine running, alternator at its usual voltage, relay closed")
    lines = [
        "two sources", "Va s 0 14.0", "R1 s i 0.002", "Rr i o 0.001", "R2 o b 0.001", "Rb b e 0.004", "Ve e 0 11.0",
        "Icoil i 0 0.5", "Bl o 0 I=300/max(v(o),6)", ".nodeset v(o)=13 v(i)=13 v(b)=13",
        ".options reltol=1e-10 abstol=1e-12 vntol=1e-10 numdgt=12", ".control", "set numdgt=12", "op",
        "print v(i) v(o) v(b)", "quit 0", ".endc", ".end",
    ]  # fmt: skip
    program = shutil.which("ngspice")
    if program is None:
        pytest.fail("ngspice is missing: install it, e.g. `apt-get update && apt-get install -y ngspice`")
    deck = tmp_path / "two.cir"
    deck.write_text("\n".join(lines) + "\n", encoding="utf-8")
    printed = subprocess.run([program, "-b", str(deck)], capture_output=True, text=True, check=True).stdout
    volts = dict(re.findall(r"v\((\w)\) = (\S+)", printed))
    for node, letter in (("r.in", "i"), ("r.out", "o"), ("b", "b")):
        assert point.node_v[design.node_of(node)] == pytest.approx(float(volts[letter]), abs=1e-7)
