import dataclasses

import pytest

from ampwright.errors import AmpwrightError
from ampwright.network.demand import (
    charge_setting_v,
    charger_input,
    charger_outputs,
    inverter_w,
    load_current_a,
    load_demand,
    output_limit_a,
    panel_currents,
)
from ampwright.network.tree import forest_of
from ampwright.parts.charger import AlternatorCharger, PanelController
from ampwright.parts.inverter_loss import inverter_dc_w

TEXT = """
part = [
  { id = "b", part = "bank" }, { id = "x", part = "bar" },
  { id = "i", part = "inverter", is_on_when = "loads-use" },
  { id = "c", part = "mppt", is_on_when = "always" }, { id = "d", part = "dcdc" }, { id = "m", part = "module" },
  { id = "p", part = "panel", strings = 2, in_series = 3 },
]
load = [
  { id = "l0", name = "l", power_w = 24, peak_w = 36, at = "x" },
  { id = "l1", name = "l", power_w = 24, count = 2, at = "x", behaves = "current" },
  { id = "l2", name = "l", power_w = 72, at = "x", behaves = "resistance" },
  { id = "l3", name = "l", power_w = 500, through = "i" },
  { id = "l4", name = "l", power_w = 1400, through = "i" },
]
setting = [
  { part = "d", charge_v = 14.3, output_limit_a = 20, input_limit_a = 25 },
  { part = "c", output_limit_a = 50 },
]
"""


def demand_of(design, loads, **kwargs):
    return load_demand(design, forest_of(design).root, loads, **kwargs)


def test_each_behaviour_at_its_peak(make_design):
    design = make_design(TEXT)
    demand, node = demand_of(design, (0, 1, 2)), design.node_of("x")
    assert demand.power_w[node] == pytest.approx(36.0)
    assert demand.current_a[node] == pytest.approx(4.0)
    assert demand.conductance_siemens[node] == pytest.approx(0.5)


def test_ac_loads_stand_at_the_inverter(make_design, part_of_tests):
    design = make_design(TEXT)
    node, inverter = design.node_of("i"), part_of_tests["inverter"]
    assert demand_of(design, ()).power_w[node] == 0.0
    assert demand_of(design, (3,)).power_w[node] == pytest.approx(inverter_dc_w(inverter, 500.0))


def test_an_inverter_gives_no_more_than_its_overload_power(make_design, part_of_tests):
    design = make_design(TEXT)
    found_w = demand_of(design, (3, 4)).power_w[design.node_of("i")]
    assert found_w == pytest.approx(inverter_dc_w(part_of_tests["inverter"], 1500.0))


def test_an_inverter_that_stays_on_takes_its_idle_power(make_design):
    design = make_design(TEXT.replace('is_on_when = "loads-use"', 'is_on_when = "not-stored"'))
    node = design.node_of("i")
    assert demand_of(design, ()).power_w[node] == pytest.approx(10.0)
    assert demand_of(design, (), is_light=True).power_w[node] == 0.0


def test_own_consumption_comes_from_the_battery_side(make_design):
    design = make_design(TEXT)
    demand, light = demand_of(design, ()), demand_of(design, (), is_light=True)
    assert demand.current_a[design.node_of("c.out")] == pytest.approx(0.02)
    assert demand.current_a[design.node_of("m.in")] == pytest.approx(0.1)
    assert demand.current_a.sum() == pytest.approx(0.12)
    assert light.current_a.sum() == pytest.approx(0.12)  # what is wired is always on


def test_settings_go_before_the_part_and_never_above_it(make_design):
    design = make_design(TEXT)
    by_id = {placed.id: placed for placed in design.parts}
    assert charge_setting_v(by_id["d"]) == 14.3
    assert charge_setting_v(by_id["c"]) == 14.2
    assert charge_setting_v(by_id["i"]) == 0.0
    assert output_limit_a(by_id["d"]) == 20.0
    assert output_limit_a(by_id["c"]) == 20.0
    assert output_limit_a(by_id["x"]) == 0.0
    outputs = charger_outputs(design, (AlternatorCharger, PanelController))
    assert outputs == ((design.node_of("c.out"), 20.0), (design.node_of("d.out"), 20.0))


def test_charger_input_is_output_power_over_efficiency(make_design, part_of_tests):
    placed = next(placed for placed in make_design(TEXT).parts if placed.id == "d")
    power_w, limit_a = charger_input(placed, part_of_tests["dcdc"])
    assert power_w == pytest.approx(20.0 * 14.3 / 0.875)
    assert limit_a == 25.0


def test_a_charger_without_efficiency_is_refused(make_design, part_of_tests):
    placed = next(placed for placed in make_design(TEXT).parts if placed.id == "d")
    broken = dataclasses.replace(part_of_tests["dcdc"], efficiency_frac=0.0)
    with pytest.raises(AmpwrightError, match="efficiency_frac"):
        charger_input(placed, broken)


def test_panels_by_strings_and_series(make_design):
    design = make_design(TEXT)
    assert panel_currents(design) == ((design.node_of("p"), 12.0, 60.0),)


def test_what_is_not_present_takes_and_gives_nothing(make_design):
    text = TEXT.replace('{ id = "m", part = "module" }', '{ id = "m", part = "module", part_of = "trailer" }')
    text = text.replace('{ id = "d", part = "dcdc" }', '{ id = "d", part = "dcdc", part_of = "trailer" }')
    design, here = make_design(text), frozenset({"vehicle"})
    node = design.node_of("m.in")
    assert demand_of(design, ()).current_a[node] == 0.1
    assert demand_of(design, (), present=here).current_a[node] == 0.0
    assert charger_outputs(design, (AlternatorCharger,)) == ((design.node_of("d.out"), 20.0),)
    assert charger_outputs(design, (AlternatorCharger,), here) == ()


def test_current_of_one_load_by_its_behaviour(make_design):
    loads = make_design(TEXT).loads
    assert load_current_a(loads[0], 10.0, 12.0) == pytest.approx(3.6)
    assert load_current_a(loads[1], 10.0, 12.0) == pytest.approx(4.0)
    assert load_current_a(loads[2], 10.0, 12.0) == pytest.approx(5.0)


def test_dc_power_of_one_inverter(make_design, part_of_tests):
    design = make_design(TEXT)
    (placed, part) = design.placed(type(part_of_tests["inverter"]))[0]
    assert inverter_w(design, placed, part, ()) == 0.0
    assert inverter_w(design, placed, part, (3,)) == pytest.approx(inverter_dc_w(part, 500.0))
    assert inverter_w(design, placed, part, (3, 4)) == pytest.approx(inverter_dc_w(part, 1500.0))
