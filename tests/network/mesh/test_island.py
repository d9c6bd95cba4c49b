import numpy as np
import pytest

from ampwright.network.demand import Demand
from ampwright.network.mesh.island import branches_of, core_of, island_currents, island_of
from ampwright.network.resistance import working_ohm
from ampwright.network.sweep import path_ohm, tree_point
from ampwright.network.tree import Tree, forest_of


def ring_tree():
    """A ring of 4 with a branch of no resistance in it: 0-1 (10), 1-2 (0), 2-3 (20), chord 3-0 (30 mohm)."""
    return Tree(
        root=5, nodes=np.array([5, 6, 7, 8]), parent=np.array([-1, 0, 1, 2]),
        branch=np.array([-1, 0, 1, 2]), direction=np.array([1.0, 1.0, -1.0, 1.0]),
        chords=np.array([3]), chord_ends=np.array([[3, 0]]), other_battery=-1, is_solvable=True,
    )  # fmt: skip


OHM = np.array([0.010, 0.0, 0.020, 0.030])


def test_nodes_joined_without_resistance_are_one():
    island = island_of(ring_tree(), OHM)
    assert island.place.tolist() == [0, 1, 1, 2]
    assert island.count == 3
    assert island.branch.tolist() == [0, 1, 2, 3]
    assert island.ends.tolist() == [[0, 1], [2, 1], [2, 3], [3, 0]]


def test_branches_run_as_written():
    branch, ends = branches_of(ring_tree(), np.array([2]))
    assert branch.tolist() == [1, 3]
    assert ends.tolist() == [[2, 1], [3, 0]]


def test_effective_resistance_of_a_ring():
    values = path_ohm(ring_tree(), OHM)
    assert values == pytest.approx([0.0, 10 * 50 / 60 / 1000, 10 * 50 / 60 / 1000, 30 * 30 / 60 / 1000])


def test_the_core_is_the_way_from_the_root_to_all_chords():
    tree = Tree(
        root=0, nodes=np.arange(6), parent=np.array([-1, 0, 1, 1, 2, 3]), branch=np.arange(-1, 5),
        direction=np.ones(6), chords=np.array([5]), chord_ends=np.array([[2, 3]]), other_battery=-1,
        is_solvable=True,
    )  # fmt: skip
    inside = core_of(tree)
    assert inside.tolist() == [True, True, True, True, False, False]
    island = island_of(tree, np.full(6, 0.01), inside)
    assert island.place.tolist() == [0, 1, 2, 3, -1, -1]
    assert island.branch.tolist() == [0, 1, 2, 5]


def test_currents_of_a_ring_as_written():
    zero = np.zeros(9)
    drawn_a = np.array([6.0, 6.0, 12.0])
    demand = Demand(power_w=zero, current_a=np.array([0.0] * 6 + drawn_a.tolist()), conductance_siemens=zero)
    point = tree_point(ring_tree(), OHM, demand=demand, source_v=12.0)
    first_a = (6.0 * 50.0 + 6.0 * 50.0 + 12.0 * 30.0) / 60.0
    assert point.is_found
    assert point.branch_a == pytest.approx([24.0, first_a, first_a - 6.0, first_a - 12.0])
    assert point.chord_a == pytest.approx([-(24.0 - first_a)])
    assert point.node_v[1] == point.node_v[2] == pytest.approx(12.0 - 0.010 * first_a)


def test_without_an_answer_nothing_is_known():
    zero = np.zeros(9)
    demand = Demand(power_w=np.array([0.0] * 8 + [1e5]), current_a=zero, conductance_siemens=zero)
    point = tree_point(ring_tree(), OHM, demand=demand, source_v=12.0)
    assert not point.is_found
    assert np.isnan(point.node_v).all()
    assert np.isnan(point.branch_a).all()
    assert np.isnan(point.chord_a).all()


def test_ohms_law_alone_where_everything_has_resistance(make_design):
    design = make_design("""
part = [{ id = "b", part = "bank" }, { id = "x", part = "bar" }]
run = [
  { id = "R1", start = "b", end = "x", cable = "wire", length_m = 5, joint_ohm = 0 },
  { id = "R2", start = "x", end = "b", cable = "wire", length_m = 10, joint_ohm = 0 },
]
""")
    tree = forest_of(design).tree(design.node_of("b"))
    island = island_of(tree, working_ohm(design))
    node_v = np.array([12.0, 11.9])
    flow = dict(zip(island.branch.tolist(), island_currents(island, node_v, np.zeros(2)), strict=True))
    assert flow == pytest.approx({0: 10.0, 1: -5.0})
