import pytest

from ampwright.network.alone import alone_groups
from ampwright.network.solve import network_result
from ampwright.network.tree import forest_of

TEXT = """
part = [
  { id = "b", part = "bank" }, { id = "m", part = "module" }, { id = "x", part = "bar" },
  { id = "d", part = "dcdc" }, { id = "i", part = "inverter" },
]
run = [
  { id = "R1", start = "b", end = "m.in", cable = "wire", length_m = 5, joint_ohm = 0 },
  { id = "R2", start = "m.2", end = "x", cable = "wire", length_m = 10, joint_ohm = 0 },
  { id = "R3", start = "m.3", end = "pump", cable = "wire", length_m = 10, joint_ohm = 0 },
  { id = "R4", start = "b", end = "radio", cable = "wire", length_m = 10, joint_ohm = 0 },
  { id = "R5", start = "d.out", end = "b", cable = "wire", length_m = 1, joint_ohm = 0 },
  { id = "R6", start = "starter-battery", end = "horn", cable = "wire", length_m = 1, joint_ohm = 0 },
]
load = [
  { id = "lamp", name = "l", power_w = 24, at = "x", behaves = "current" },
  { id = "fan", name = "f", power_w = 36, at = "x", behaves = "current" },
  { id = "pump", name = "p", power_w = 60, behaves = "resistance" },
  { id = "radio", name = "r", power_w = 12, behaves = "power", when = [{ states = ["idle"] }] },
  { id = "horn", name = "h", power_w = 60 },
  { id = "kettle", name = "k", power_w = 800, through = "i" },
]
"""


def test_loads_of_a_channel_come_on_together_others_one_by_one(make_design):
    design = make_design(TEXT)
    groups = alone_groups(design, forest_of(design))
    assert [(group.name, group.loads) for group in groups] == [
        ("m.2", (0, 1)),
        ("m.3", (2,)),
        ("radio", (3,)),
    ]
    assert [group.link for group in groups] == [1, 2, -1]


def test_figures_for_the_bench(make_design):
    design = make_design(TEXT)
    channel, pump, radio = network_result(design).alone
    standby_a = 0.1  # the module's own: wired, it is always on
    assert channel.node == design.node_of("m.2")
    assert channel.low_a == pytest.approx(5.0)
    assert channel.high_a == pytest.approx(5.0)
    low_in_v = 10.0 - 0.010 * (5.0 + standby_a)
    high_in_v = 14.0 - 0.010 * (5.0 + standby_a)
    assert channel.low_v == pytest.approx(low_in_v - 0.010 * 5.0)
    assert channel.high_v == pytest.approx(high_in_v - 0.010 * 5.0)
    assert pump.high_a == pytest.approx((14.0 - 0.010 * standby_a) / (0.010 + 0.010 + 0.020 + 144.0 / 60.0))
    assert radio.low_a * radio.low_v == pytest.approx(12.0)
    assert radio.low_v == pytest.approx(10.0 - 0.020 * radio.low_a)


def test_a_load_that_no_day_plan_uses_still_counts_for_its_cable(make_design):
    result = network_result(make_design(TEXT))
    (radio,) = (one for one in result.alone if one.link < 0)
    assert result.peak_a[3] == pytest.approx(radio.low_a)


def test_single_loads_by_their_behaviour(make_design):
    for behaves in ("current", "resistance"):
        text = TEXT.replace('power_w = 12, behaves = "power"', f'power_w = 12, behaves = "{behaves}"')
        radio = network_result(make_design(text)).alone[-1]
        expected_a = 1.0 if behaves == "current" else radio.low_v / 12.0
        assert radio.low_a == pytest.approx(expected_a)
        assert radio.low_v == pytest.approx(10.0 - 0.020 * expected_a)
