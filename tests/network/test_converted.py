"""A converter with round numbers: both sides agree in closed form, at its limit it gives no more."""

import dataclasses
import math

import pytest

from ampwright.network.solve import network_result
from ampwright.parts.converter import Converter

STEP = Converter(
    id="step", name="converter", kind="converter", input_nominal_v=24, output_nominal_v=12, output_v=13.0,
    input_start_v=21, input_stop_v=19, input_max_v=32, output_max_a=20, output_peak_a=25, output_peak_s=60,
    limit_a=28, on_overload="limits", efficiency_frac=0.9, idle_w=2.0, derate_start_degc=50,
    derate_end_degc=75, source="invented for tests",
)  # fmt: skip
VEHICLE = """
[vehicle]
description = "truck"
system_v = 24
starter_battery = { capacity_ah = 100, short_circuit_a = 1500, resistance_ohm = 0.005 }
[vehicle.alternator]
rating_a = 100
regulation = "fixed"
voltage_v = 28.0
lowest_v = 27.0
highest_v = 29.0
hot_road_frac = 0.7
hot_idle_frac = 0.4
own_load_day_a = 30
own_load_night_a = 45
"""
WIRED = """
part = [{{ id = "b", part = "bank", in_series = 2 }}, {{ id = "c", part = "step" }}]
run = [
    {{ id = "A", start = "{source}", end = "c.in", cable = "wire", length_m = 5, joint_ohm = 0 }},
    {{ id = "B", start = "c.out", end = "radio", cable = "wire", length_m = 10, joint_ohm = 0 }},
]
load = [{{ id = "radio", name = "r", power_w = {power}, behaves = "{behaves}" }}]
"""


def design_with(make_design, *, source="b", power=120, behaves="power", step=STEP):
    text = WIRED.format(source=source, power=power, behaves=behaves)
    return make_design(text, vehicle=VEHICLE, more_parts=(step,))


def corner(result, start):
    return next(point for point in result.points if point.corner.startswith(start))


def test_both_sides_agree_at_low_battery(make_design):
    """120 W behind 20 mΩ at 13 V, then its power over 0.9 and 2 W behind 10 mΩ at 20 V: two quadratics by hand."""
    design = design_with(make_design)
    low = corner(network_result(design), "battery low, loads")
    out_a = (13.0 - math.sqrt(13.0**2 - 4 * 0.02 * 120)) / (2 * 0.02)
    wanted_w = 13.0 * out_a / 0.9 + 2.0
    in_a = (20.0 - math.sqrt(20.0**2 - 4 * 0.01 * wanted_w)) / (2 * 0.01)
    assert low.run_a.tolist() == pytest.approx([in_a, out_a], rel=1e-9)
    assert low.node_v[design.node_of("radio")] == pytest.approx(13.0 - 0.02 * out_a)
    assert low.node_v[design.node_of("c.in")] == pytest.approx(20.0 - 0.01 * in_a)


def test_the_held_voltage_does_not_follow_the_battery(make_design):
    design = design_with(make_design)
    result = network_result(design)
    node = design.node_of("c.out")
    assert result.node_low_v[node] == result.node_high_v[node] == 13.0


@pytest.mark.parametrize(
    ("behaves", "ohms"), [("resistance", 12.0**2 / 120.0 + 0.02), ("current", 13.0 / (120.0 / 12.0))]
)
def test_loads_behind_it_count_by_its_own_nominal_voltage(make_design, behaves, ohms):
    result = network_result(design_with(make_design, behaves=behaves))
    assert corner(result, "battery low, loads").run_a[1] == pytest.approx(13.0 / ohms)


def test_it_hangs_on_the_starter_battery_as_well(make_design):
    design = design_with(make_design, source="starter-battery")
    result = network_result(design)
    usual = corner(result, "engine running, alternator at its usual")
    out_a = (13.0 - math.sqrt(13.0**2 - 4 * 0.02 * 120)) / (2 * 0.02)
    wanted_w = 13.0 * out_a / 0.9 + 2.0
    assert usual.run_a[0] == pytest.approx((28.0 - math.sqrt(28.0**2 - 4 * 0.01 * wanted_w)) / (2 * 0.01))
    assert math.isnan(corner(result, "battery low").node_v[design.node_of("radio")])


def test_engine_start_lets_it_sleep_below_its_lock_out(make_design):
    """16 V at the starter battery: below 19 V it takes nothing, one that works from 12 V takes its power."""
    asleep = design_with(make_design, source="starter-battery")
    assert network_result(asleep).crank_v[asleep.node_of("c.in")] == pytest.approx(16.0)
    awake = design_with(
        make_design, source="starter-battery", step=dataclasses.replace(STEP, input_stop_v=12.0)
    )
    assert network_result(awake).crank_v[awake.node_of("c.in")] < 15.95


def test_more_than_its_limit_is_no_steady_voltage(make_design):
    """400 W want more than 28 A at 13 V: nothing is known behind it, and its input takes what the limit allows."""
    design = design_with(make_design, power=400)
    result = network_result(design)
    low = corner(result, "battery low, loads")
    (collapse,) = low.collapse
    assert (collapse.node, collapse.available_w) == (design.node_of("c.out"), 13.0 * 28.0)
    assert collapse.wanted_w > collapse.available_w
    assert math.isnan(result.node_low_v[design.node_of("radio")])
    wanted_w = 13.0 * 28.0 / 0.9 + 2.0
    assert low.run_a[0] == pytest.approx((20.0 - math.sqrt(20.0**2 - 4 * 0.01 * wanted_w)) / (2 * 0.01))


def test_a_load_that_no_voltage_feeds_takes_the_limit_too(make_design):
    """3000 W behind 20 mΩ: more than V²/4R."""
    result = network_result(design_with(make_design, power=3000))
    low = corner(result, "battery low, loads")
    wanted_w = 13.0 * 28.0 / 0.9 + 2.0
    assert low.run_a[0] == pytest.approx((20.0 - math.sqrt(20.0**2 - 4 * 0.01 * wanted_w)) / (2 * 0.01))


def test_a_fault_behind_it_is_fed_by_its_limit_alone(make_design):
    result = network_result(design_with(make_design))
    assert result.run_fault_a[1] == 28.0
    assert math.isnan(result.run_far_fault_a[1])


def test_a_converter_behind_another_one_counts_through_both(make_design):
    text = """
part = [{ id = "b", part = "bank", in_series = 2 }, { id = "d", part = "step" }, { id = "c", part = "half" }]
run = [
    { id = "A", start = "b", end = "c.in", cable = "wire", length_m = 5, joint_ohm = 0 },
    { id = "B", start = "c.out", end = "d.in", cable = "wire", length_m = 5, joint_ohm = 0 },
    { id = "C", start = "d.out", end = "radio", cable = "wire", length_m = 10, joint_ohm = 0 },
]
load = [{ id = "radio", name = "r", power_w = 60 }]
"""
    first = dataclasses.replace(STEP, id="half", output_nominal_v=18, output_v=19.0)
    result = network_result(make_design(text, vehicle=VEHICLE, more_parts=(STEP, first)))
    low = corner(result, "battery low, loads")
    last_a = (13.0 - math.sqrt(13.0**2 - 4 * 0.02 * 60)) / (2 * 0.02)
    middle_w = 13.0 * last_a / 0.9 + 2.0
    middle_a = (19.0 - math.sqrt(19.0**2 - 4 * 0.01 * middle_w)) / (2 * 0.01)
    first_w = 19.0 * middle_a / 0.9 + 2.0
    first_a = (20.0 - math.sqrt(20.0**2 - 4 * 0.01 * first_w)) / (2 * 0.01)
    assert low.run_a.tolist() == pytest.approx([first_a, middle_a, last_a], rel=1e-9)


def test_a_run_round_it_is_named_and_not_solved(make_design):
    text = WIRED.format(source="b", power=60, behaves="power").replace(
        "\n]\nload", '\n{ id = "X", start = "b", end = "c.out", cable = "wire", length_m = 1 },\n]\nload'
    )
    design = make_design(text, vehicle=VEHICLE, more_parts=(STEP,))
    result = network_result(design)
    assert [design.runs[run].id for run in result.loops] == ["X"]


def test_one_that_is_off_without_loads_draws_nothing(make_design):
    """Switched with its loads, and no day has any: no idle draw at any corner."""
    text = WIRED.format(source="b", power=60, behaves="power").replace(
        'part = "step" }', 'part = "step", is_on_when = "loads-use" }'
    )
    text = text.replace("power_w = 60,", 'power_w = 60, when = [{ states = ["stored"] }],')
    result = network_result(make_design(text, vehicle=VEHICLE, more_parts=(STEP,)))
    assert corner(result, "battery low").run_a[0] == pytest.approx(0.0)


def test_alone_is_listed_for_loads_behind_it(make_design):
    (point,) = network_result(design_with(make_design)).alone
    assert point.low_v == point.high_v
    assert point.low_a == pytest.approx(120 / point.low_v)
