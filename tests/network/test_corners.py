import pytest

from ampwright.network.all_corners import all_corners
from ampwright.network.alone import alone_groups
from ampwright.network.resistance import working_ohm
from ampwright.network.situations import situations
from ampwright.network.tree import forest_of

CHARGERS = """
part = [
  { id = "b", part = "bank" }, { id = "d", part = "dcdc" }, { id = "m", part = "mains" },
  { id = "c", part = "mppt", is_on_when = "always" }, { id = "p", part = "panel", strings = 2 },
]
run = [
  { id = "R1", start = "b", end = "d.out", cable = "wire", length_m = 1, joint_ohm = 0 },
  { id = "R2", start = "b", end = "m.out", cable = "wire", length_m = 1, joint_ohm = 0 },
  { id = "R3", start = "b", end = "c.out", cable = "wire", length_m = 1, joint_ohm = 0 },
  { id = "R4", start = "starter-battery", end = "d.in", cable = "wire", length_m = 10, joint_ohm = 0 },
  { id = "R5", start = "p", end = "c.in", cable = "wire", length_m = 5, joint_ohm = 0 },
]
"""


def corners_of(design):
    forest = forest_of(design)
    found = all_corners(design, situations(design, forest), alone_groups(design, forest), working_ohm(design))
    return {corner.name: corner for corner in (*found.lasting, *found.alone, *found.overload, *found.crank)}


def source_of(corner):
    ((_, source_v),) = corner.sources
    return source_v


def test_the_corners_of_a_design_with_every_source(make_design):
    assert list(corners_of(make_design(CHARGERS))) == [
        "battery low, no loads",
        "charging, engine running",
        "charging, hooked up",
        "engine running, alternator at its lowest voltage",
        "engine running, alternator at its usual voltage",
        "engine running, alternator at its highest voltage",
        "panels in full sun",
        "engine start",
    ]


def test_battery_low_is_the_load_cutoff_or_the_batterys_own(make_design):
    own = make_design(CHARGERS)
    cut = make_design(CHARGERS + "load_cutoff = { open_v = 11.5, close_v = 12.8 }")
    pair = make_design(CHARGERS.replace('part = "bank"', 'part = "bank", in_series = 2'))
    assert source_of(corners_of(own)["battery low, no loads"]) == 10.0
    assert source_of(corners_of(cut)["battery low, no loads"]) == 11.5
    assert source_of(corners_of(pair)["battery low, no loads"]) == 20.0


def test_charging_at_the_highest_voltage_set(make_design):
    design = make_design(CHARGERS)
    higher = make_design(CHARGERS + 'setting = [{ part = "d", charge_v = 14.5 }]')
    alone = make_design('part = [{ id = "b", part = "bank" }]')
    assert source_of(corners_of(design)["charging, engine running"]) == 14.2
    assert source_of(corners_of(higher)["charging, engine running"]) == 14.5
    assert source_of(corners_of(alone)["charging, hooked up"]) == 14.4


def test_a_charger_that_compensates_holds_more_on_the_coldest_morning(make_design):
    lead = CHARGERS.replace('chemistry = "lfp"', 'chemistry = "agm"')
    setting = 'setting = [{ part = "d", charge_v = 14.1, compensation_v_per_k = 0.024 }]'
    design = make_design(lead + setting)
    assert design.job.season.coldest_degc == 0.0
    assert source_of(corners_of(design)["charging, engine running"]) == pytest.approx(14.1 + 0.024 * 25.0)


def test_only_chargers_that_can_work_together_give(make_design):
    design = make_design(CHARGERS)
    found = corners_of(design)
    engine, mains = found["charging, engine running"].demand, found["charging, hooked up"].demand
    out = {name: design.node_of(f"{name}.out") for name in "dmc"}
    assert [engine.current_a[out[name]] for name in "dmc"] == pytest.approx([-30.0, 0.0, -19.98])
    assert [mains.current_a[out[name]] for name in "dmc"] == pytest.approx([0.0, -25.0, -19.98])


def test_panels_wired_straight_to_the_battery_charge_it(make_design):
    design = make_design("""
part = [{ id = "b", part = "bank" }, { id = "p", part = "panel" }]
run = [{ id = "R1", start = "p", end = "b", cable = "wire", length_m = 1 }]
""")
    demand = corners_of(design)["charging, hooked up"].demand
    assert demand.current_a[design.node_of("p")] == -6.0


def test_charger_input_is_constant_power_until_its_limit(make_design):
    free = make_design(CHARGERS)
    limited = make_design(CHARGERS + 'setting = [{ part = "d", input_limit_a = 40 }]')
    node = free.node_of("d.in")
    low, high = (f"engine running, alternator at its {name} voltage" for name in ("lowest", "highest"))
    assert corners_of(free)[low].demand.power_w[node] == pytest.approx(30.0 * 14.0 / 0.875)
    at_low, at_high = corners_of(limited)[low].demand, corners_of(limited)[high].demand
    assert (at_low.power_w[node], at_low.current_a[node]) == (0.0, 40.0)
    assert at_high.power_w[node] == pytest.approx(480.0)
    assert at_high.current_a[node] == 0.0


def test_a_limit_reached_only_through_the_drop_counts(make_design):
    text = CHARGERS + 'setting = [{ part = "d", input_limit_a = 34.5 }]'
    design = make_design(text)
    corner = corners_of(design)["engine running, alternator at its usual voltage"]
    assert 480.0 / 14.0 < 34.5 < 480.0 / (14.0 - 0.02 * 34.5)
    assert corner.demand.current_a[design.node_of("d.in")] == 34.5


def test_loads_of_the_starter_battery_count_there(make_design):
    design = make_design(CHARGERS + 'load = [{ id = "l", name = "l", power_w = 60, at = "starter-battery" }]')
    corner = corners_of(design)["engine running, alternator at its usual voltage"]
    assert corner.demand.power_w[design.node_of("starter-battery")] == 60.0


def test_without_an_alternator_there_is_no_vehicle_side(make_design):
    vehicle = '[vehicle]\ndescription = "trailer"\nsystem_v = 12\n'
    design = make_design(CHARGERS.replace("starter-battery", "b"), vehicle=vehicle)
    assert not [name for name in corners_of(design) if name.startswith("engine running")]


def test_no_panel_stands_above_its_voltage_at_maximum_power(make_design):
    corner = corners_of(make_design(CHARGERS))["panels in full sun"]
    assert source_of(corner) == pytest.approx(20.0 - 0.010 * 12.0)


def test_a_load_on_the_panel_side_leaves_that_tree_out(make_design):
    design = make_design(CHARGERS + 'load = [{ id = "l", name = "l", power_w = 60, at = "p" }]')
    assert "panels in full sun" not in corners_of(design)


HOOKED_UP = """
use = { days = ["d"] }
day = [{ id = "d", period = [{ start = "18:00", end = "08:00", state = "hooked-up" }] }]
"""
LOADS = """
part = [{ id = "b", part = "bank" }, { id = "i", part = "inverter" }, { id = "m", part = "mains" }]
run = [
  { id = "R1", start = "b", end = "i", cable = "wire", length_m = 1, joint_ohm = 0 },
  { id = "R2", start = "b", end = "m.out", cable = "wire", length_m = 1, joint_ohm = 0 },
]
load = [
  { id = "heater", name = "h", power_w = 144, at = "b", behaves = "resistance" },
  { id = "kettle", name = "k", power_w = 800, through = "i" },
]
"""


def test_hooked_up_ac_loads_are_on_the_mains_and_resistances_draw_most(make_design):
    design = make_design(LOADS, use=HOOKED_UP)
    found = corners_of(design)
    hooked_up, low = found["charging, hooked up, loads of d 00:00"], found["battery low, loads of d 00:00"]
    inverter = design.node_of("i")
    assert low.demand.power_w[inverter] > 800.0
    assert hooked_up.demand.power_w[inverter] == 0.0  # its loads are on the mains and it is on for loads only
    assert hooked_up.demand.current_a[design.node_of("m.out")] == -25.0
    heater_siemens = hooked_up.demand.conductance_siemens[design.node_of("b")]
    assert heater_siemens * source_of(hooked_up) == pytest.approx(144.0 / 144.0 * 14.2)
    assert source_of(hooked_up) > source_of(low)


def test_without_hours_hooked_up_there_is_only_the_light_corner(make_design):
    names = [name for name in corners_of(make_design(LOADS)) if "hooked up" in name]
    assert names == ["charging, hooked up"]
