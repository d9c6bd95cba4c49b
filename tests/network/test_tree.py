import numpy as np
import pytest

from ampwright.network.tree import MOST_MESH_NODES, forest_of

PANELS = """
part = [
  { id = "b", part = "bank" }, { id = "c", part = "mppt" },
  { id = "p1", part = "panel" }, { id = "p2", part = "panel" },
]
run = [
  { id = "R1", start = "c.out", end = "b", cable = "wire", length_m = 1 },
  { id = "R2", start = "p1", end = "c.in", cable = "wire", length_m = 1 },
  { id = "R3", start = "c.in", end = "p2", cable = "wire", length_m = 1 },
]
"""


def test_runs_are_oriented_from_the_root_however_written(make_design):
    design = make_design(PANELS)
    forest = forest_of(design)
    battery = forest.tree(design.node_of("b"))
    assert battery is not None
    assert [design.nodes[k] for k in battery.nodes] == ["b", "c.out"]
    assert battery.direction.tolist() == [1.0, -1.0]
    assert battery.branch.tolist() == [-1, 0]
    assert battery.is_radial


def test_several_panels_hang_from_their_controller(make_design):
    design = make_design(PANELS)
    forest = forest_of(design)
    tree = forest.tree(design.node_of("c.in"))
    assert tree is not None
    assert {design.nodes[k] for k in tree.nodes} == {"c.in", "p1", "p2"}
    assert sorted(zip(tree.branch[1:], tree.direction[1:], strict=True)) == [(1, -1.0), (2, 1.0)]
    assert forest.loops == ()
    assert forest.unfed == ()


def test_a_panel_without_controller_is_its_own_root(make_design):
    design = make_design('part = [{ id = "b", part = "bank" }, { id = "p", part = "panel" }]')
    node = design.node_of("p")
    assert forest_of(design).root[node] == node


def test_parents_stand_before_their_children(make_design):
    design = make_design("""
part = [{ id = "b", part = "bank" }, { id = "s", part = "shunt" }, { id = "m", part = "module" }]
run = [
  { id = "R1", start = "s.in", end = "b", cable = "wire", length_m = 1 },
  { id = "R2", start = "m.in", end = "s.out", cable = "wire", length_m = 1 },
]
""")
    forest = forest_of(design)
    tree = forest.tree(design.node_of("b"))
    assert tree is not None
    assert tree.nodes.size == 7
    assert (tree.parent[1:] < np.arange(1, 7)).all()
    assert forest.root[design.node_of("m.3")] == tree.root


def test_a_ring_keeps_its_tree_and_has_one_chord(make_design):
    design = make_design("""
part = [{ id = "b", part = "bank" }, { id = "x", part = "bar" }, { id = "y", part = "bar" }]
run = [
  { id = "R1", start = "b", end = "x", cable = "wire", length_m = 1 },
  { id = "R2", start = "b", end = "y", cable = "wire", length_m = 1 },
  { id = "R3", start = "x", end = "y", cable = "wire", length_m = 1 },
]
""")
    forest = forest_of(design)
    tree = forest.tree(design.node_of("b"))
    assert forest.loops == ()
    assert forest.meshed == (0, 1, 2)
    assert tree is not None
    assert not tree.is_radial
    assert tree.is_solvable
    assert tree.nodes.size == 3
    (chord,) = tree.chords.tolist()
    ends = [int(tree.nodes[k]) for k in tree.chord_ends[0]]
    assert ends == [design.runs[chord].start, design.runs[chord].end]
    starter = forest.tree(design.node_of("starter-battery"))
    assert starter is not None
    assert starter.is_radial


def test_two_channels_on_one_load_are_a_loop_of_runs(make_design):
    design = make_design("""
part = [{ id = "b", part = "bank" }, { id = "m", part = "module" }, { id = "x", part = "bar" }]
run = [
  { id = "R1", start = "b", end = "m.in", cable = "wire", length_m = 1 },
  { id = "R2", start = "m.1", end = "x", cable = "wire", length_m = 1 },
  { id = "R3", start = "x", end = "m.2", cable = "wire", length_m = 1 },
]
""")
    assert forest_of(design).meshed == (1, 2)


def test_only_runs_of_the_loop_are_meshed(make_design):
    design = make_design("""
part = [{ id = "b", part = "bank" }, { id = "x", part = "bar" }, { id = "y", part = "bar" }]
run = [
  { id = "R1", start = "b", end = "x", cable = "wire", length_m = 1 },
  { id = "R2", start = "x", end = "y", cable = "wire", length_m = 1 },
  { id = "R3", start = "y", end = "x", cable = "wire", length_m = 1 },
  { id = "R4", start = "y", end = "lamp", cable = "wire", length_m = 1 },
]
load = [{ id = "lamp", name = "l", power_w = 5 }]
""")
    assert forest_of(design).meshed == (1, 2)


def test_a_run_between_both_batteries_makes_one_island_seen_from_either(make_design):
    design = make_design("""
part = [{ id = "b", part = "bank" }]
run = [{ id = "R1", start = "starter-battery", end = "b", cable = "wire", length_m = 1 }]
""")
    forest = forest_of(design)
    battery, starter = design.node_of("b"), design.node_of("starter-battery")
    assert forest.loops == ()
    assert forest.meshed == (0,)
    assert [(tree.root, tree.other_battery) for tree in forest.trees] == [(battery, starter)]
    assert [(tree.root, tree.other_battery) for tree in forest.turned] == [(starter, battery)]
    assert forest.root[starter] == starter
    assert forest.tree(starter) is forest.turned[0]
    assert forest.island(starter) is forest.trees[0]


def test_a_run_from_a_panel_input_to_the_battery_is_not_solved(make_design):
    join = '{ id = "R9", start = "c.in", end = "b", cable = "wire", length_m = 1 },\n]'
    design = make_design(PANELS.rstrip().rstrip("]") + join)
    forest = forest_of(design)
    assert [design.runs[k].id for k in forest.loops] == ["R9"]
    solvable = {design.nodes[tree.root]: tree.is_solvable for tree in forest.trees}
    assert solvable == {"b": False, "c.in": False, "starter-battery": True}


def test_what_is_detached_has_no_part_in_the_trees(make_design):
    design = make_design("""
part = [{ id = "b", part = "bank" }, { id = "x", part = "bar", part_of = "trailer" }]
run = [
  { id = "R1", start = "b", end = "x", cable = "wire", length_m = 1, part_of = "trailer" },
  { id = "R2", start = "b", end = "lamp", cable = "wire", length_m = 1 },
]
load = [{ id = "lamp", name = "l", power_w = 5 }]
""")
    away = forest_of(design, frozenset({"vehicle"}))
    assert forest_of(design).unfed == ()
    assert [design.nodes[k] for k in away.unfed] == ["x"]


@pytest.mark.parametrize(("count", "is_solvable"), [(30, True), (MOST_MESH_NODES + 1, False)])
def test_too_large_an_island_with_a_loop_is_named(make_design, count, is_solvable):
    bars = "".join(f'{{ id = "x{k}", part = "bar" }},' for k in range(count))
    runs = "".join(
        f'{{ id = "R{k}", start = "b", end = "x{k}", cable = "wire", length_m = 1 }},' for k in range(count)
    )
    loop = '{ id = "L", start = "x0", end = "x1", cable = "wire", length_m = 1 }'
    forest = forest_of(make_design(f'part = [{{ id = "b", part = "bank" }}, {bars}]\nrun = [{runs}{loop}]'))
    assert forest.trees[0].is_solvable is is_solvable
    assert forest.loops == (() if is_solvable else (count,))


def test_nodes_that_nothing_feeds_are_named(make_design):
    design = make_design("""
part = [{ id = "b", part = "bank" }, { id = "x", part = "bar" }, { id = "y", part = "bar" }]
run = [{ id = "R1", start = "x", end = "y", cable = "wire", length_m = 1 }]
""")
    forest = forest_of(design)
    assert [design.nodes[k] for k in forest.unfed] == ["x", "y"]
    assert forest.loops == ()
    assert forest.tree(design.node_of("x")) is None
