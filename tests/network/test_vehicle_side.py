import pytest

from ampwright.network.resistance import working_ohm
from ampwright.network.situations import situations
from ampwright.network.tree import forest_of
from ampwright.network.vehicle_side import starter_loads, vehicle_corners

TEXT = """
part = [{ id = "b", part = "bank" }, { id = "d", part = "dcdc" }]
run = [
  { id = "R1", start = "d.out", end = "b", cable = "wire", length_m = 1, joint_ohm = 0 },
  { id = "R2", start = "starter-battery", end = "d.in", cable = "wire", length_m = 10, joint_ohm = 0 },
]
load = [
  { id = "day", name = "l", power_w = 60, at = "starter-battery", when = [{ start = "08:00", end = "20:00" }] },
  { id = "night", name = "n", power_w = 30, at = "starter-battery", when = [{ start = "20:00", end = "08:00" }] },
  { id = "both", name = "n", power_w = 10, at = "starter-battery" },
  { id = "other", name = "o", power_w = 10, at = "b", when = [{ start = "09:00", end = "10:00" }] },
]
"""


@pytest.fixture
def side(make_design):
    design = make_design(TEXT)
    (here,) = situations(design, forest_of(design))
    return design, here, here.forest.tree(design.node_of("starter-battery"))


def test_only_loads_of_that_side_make_its_sets(side):
    design, here, tree = side
    named = [tuple(design.loads[k].id for k in one) for one in starter_loads(design, here, tree)]
    assert named == [("day", "both"), ("night", "both")]


def test_each_set_at_each_voltage(side):
    design, here, tree = side
    found = vehicle_corners(design, here, working_ohm(design))
    assert [corner.sources[0][1] for corner in found] == [12.5, 14.0, 15.0] * 2
    node = design.node_of("starter-battery")
    assert [float(corner.demand.power_w[node]) for corner in found] == [70.0] * 3 + [40.0] * 3
    assert {corner.sources[0][0].root for corner in found} == {tree.root}
