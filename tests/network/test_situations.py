import math

import numpy as np
import pytest

from ampwright.network.situations import situations
from ampwright.network.solve import network_result
from ampwright.network.tree import forest_of

TEXT = """
part = [
  { id = "b", part = "bank" }, { id = "x", part = "bar" }, { id = "t", part = "bar", part_of = "trailer" },
  { id = "m", part = "mains", part_of = "trailer" },
]
run = [
  { id = "R1", start = "b", end = "x", cable = "wire", length_m = 10, joint_ohm = 0 },
  { id = "R2", start = "b", end = "t", cable = "wire", length_m = 5, joint_ohm = 0, part_of = "trailer" },
  { id = "R3", start = "t", end = "x", cable = "wire", length_m = 5, joint_ohm = 0, part_of = "trailer" },
  { id = "R4", start = "m.out", end = "t", cable = "wire", length_m = 5, joint_ohm = 0, part_of = "trailer" },
]
load = [
  { id = "lamp", name = "l", power_w = 120, at = "x", behaves = "current" },
  { id = "far", name = "f", power_w = 60, at = "t", behaves = "current", part_of = "trailer" },
]
"""
BOTH = """use = { days = ["out", "home"] }
day = [{ id = "out", is_trailer_attached = true }, { id = "home", otherwise = "hooked-up" }]
"""
NEVER = 'use = { days = ["home"] }\nday = [{ id = "home" }]\n'


def test_each_combination_of_the_day_plans_once_and_everything_first(make_design):
    design = make_design(TEXT, use=BOTH)
    found = situations(design, forest_of(design))
    assert [(sorted(one.present), one.suffix, one.is_planned) for one in found] == [
        (["trailer", "vehicle"], "", True),
        (["vehicle"], ", trailer detached", True),
    ]


def test_everything_attached_counts_though_no_plan_has_it(make_design):
    design = make_design(TEXT, use=NEVER)
    found = situations(design, forest_of(design))
    assert [(one.suffix, one.is_planned) for one in found] == [("", False), (", trailer detached", True)]
    result = network_result(design)
    names = [point.corner for point in result.points]
    assert "battery low, loads of home 00:00, trailer detached" in names
    assert "battery low, loads of home 00:00" not in names
    # its own charger is still seen at work
    assert result.peak_a[3] == pytest.approx(25.0)


def test_without_anything_detachable_there_is_one_situation(make_design):
    design = make_design('part = [{ id = "b", part = "bank" }]', use=BOTH)
    (only,) = situations(design, forest_of(design))
    assert only.suffix == ""


def test_a_ring_through_the_trailer_opens_when_that_is_away(make_design):
    design = make_design(TEXT, use=BOTH)
    result = network_result(design)
    at = {point.corner: point for point in result.points}
    attached = at["battery low, loads of out 00:00"]
    away = at["battery low, loads of home 00:00, trailer detached"]
    x = design.node_of("x")
    # 20 mohm straight or 10 + 10 mohm by the trailer, whose own 5 A come half way round
    straight_a = (10.0 * 20.0 + 5.0 * 10.0) / 40.0
    assert attached.run_a[0] == pytest.approx(straight_a)
    assert attached.node_v[x] == pytest.approx(10.0 - 0.020 * straight_a)
    assert away.run_a[0] == pytest.approx(10.0)
    assert away.node_v[x] == pytest.approx(10.0 - 0.020 * 10.0)
    assert away.run_a[1:].tolist() == [0.0, 0.0, 0.0]
    assert math.isnan(away.node_v[design.node_of("t")])
    assert result.node_low_v[x] == pytest.approx(9.8)


def test_a_charger_on_the_trailer_does_not_charge_when_that_is_away(make_design):
    design = make_design(TEXT, use=BOTH)
    at = {point.corner: point for point in network_result(design).points}
    battery = design.node_of("b")
    for name, expected_a in (("charging, hooked up", -25.0), ("charging, hooked up, trailer detached", 0.0)):
        outputs = [float(at[name].run_a[k]) for k in (0, 1)]
        loads_a = 10.0  # the lamp; what is on the trailer is not always on
        assert at[name].node_v[battery] == 14.2
        assert np.nansum(outputs) == pytest.approx(expected_a + loads_a)


def test_when_the_battery_is_left_behind_only_what_is_with_it_counts(make_design):
    text = TEXT.replace('{ id = "b", part = "bank" }', '{ id = "b", part = "bank", part_of = "trailer" }')
    design = make_design(text, use=NEVER)
    found = situations(design, forest_of(design))
    assert [one.suffix for one in found] == ["", ", vehicle detached"]
    assert found[1].forest.tree(design.node_of("starter-battery")) is None


def test_a_detached_run_that_nothing_ever_feeds_stays_unknown(make_design):
    text = TEXT.replace('start = "b", end = "t"', 'start = "m.out", end = "t"').replace(
        'start = "t", end = "x"', 'start = "t", end = "far"'
    )
    text = text.replace('at = "t", behaves', "behaves")
    result = network_result(make_design(text, use=BOTH))
    assert np.isnan(result.peak_a[1:]).all()
