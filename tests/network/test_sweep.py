import numpy as np
import pytest

from ampwright.network.demand import Demand
from ampwright.network.resistance import working_ohm
from ampwright.network.sweep import collapse_of, path_ohm, tree_point
from ampwright.network.tree import forest_of

CHAIN = """
part = [{ id = "b", part = "bank" }, { id = "x", part = "bar" }, { id = "y", part = "bar" }]
run = [
  { id = "R1", start = "b", end = "x", cable = "wire", length_m = 10, joint_ohm = 0 },
  { id = "R2", start = "y", end = "x", cable = "wire", length_m = 5, joint_ohm = 0 },
]
"""


@pytest.fixture
def chain(make_design):
    design = make_design(CHAIN)
    return design, forest_of(design).tree(design.node_of("b")), working_ohm(design)


def demand_at(design, **watts):
    power = np.zeros(len(design.nodes))
    for name, power_w in watts.items():
        power[design.node_of(name)] = power_w
    zero = np.zeros(len(design.nodes))
    return Demand(power_w=power, current_a=zero, conductance_siemens=zero)


def test_path_is_the_sum_of_the_branches(chain):
    _, tree, ohm = chain
    assert path_ohm(tree, ohm).tolist() == pytest.approx([0.0, 0.02, 0.03])


def test_point_of_a_chain(chain):
    design, tree, ohm = chain
    point = tree_point(tree, ohm, demand=demand_at(design, y=1000.0), source_v=12.0)
    expected_v = (12.0 + np.sqrt(144.0 - 4 * 0.03 * 1000.0)) / 2.0
    assert point.is_found
    assert point.node_v[-1] == pytest.approx(expected_v)
    half = tree_point(tree, ohm, demand=demand_at(design, y=2000.0), source_v=12.0, part_frac=0.5)
    assert half.node_v[-1] == pytest.approx(expected_v)


def test_collapse_of_a_single_load_by_maximum_power_transfer(chain):
    design, tree, ohm = chain
    demand = demand_at(design, y=1201.0)
    assert not tree_point(tree, ohm, demand=demand, source_v=12.0).is_found
    found = collapse_of(tree, ohm, demand=demand, source_v=12.0)
    assert found.node == design.node_of("y")
    assert found.loop_ohm == pytest.approx(0.03)
    assert found.available_w == pytest.approx(1200.0)
    assert found.wanted_w == pytest.approx(1201.0)
    assert found.bearable_frac == pytest.approx(1200.0 / 1201.0, rel=1e-9)


def test_collapse_names_the_shared_feed(chain):
    design, tree, ohm = chain
    found = collapse_of(tree, ohm, demand=demand_at(design, x=1700.0, y=200.0), source_v=12.0)
    assert found.node == design.node_of("x")
    assert found.wanted_w == pytest.approx(1900.0)
    assert found.available_w == pytest.approx(1800.0)
    assert 0.9 < found.bearable_frac < 1800.0 / 1900.0
