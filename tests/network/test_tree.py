import numpy as np

from ampwright.network.tree import forest_of

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


def test_the_run_that_closes_a_loop_is_named_and_its_tree_not_radial(make_design):
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
    assert len(forest.loops) == 1
    assert tree is not None
    assert not tree.is_radial
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
    assert forest_of(design).loops in {(1,), (2,)}


def test_a_run_that_joins_both_batteries_spoils_both_trees(make_design):
    design = make_design("""
part = [{ id = "b", part = "bank" }]
run = [{ id = "R1", start = "starter-battery", end = "b", cable = "wire", length_m = 1 }]
""")
    forest = forest_of(design)
    assert forest.loops == (0,)
    assert [tree.is_radial for tree in forest.trees] == [False, False]


def test_nodes_that_nothing_feeds_are_named(make_design):
    design = make_design("""
part = [{ id = "b", part = "bank" }, { id = "x", part = "bar" }, { id = "y", part = "bar" }]
run = [{ id = "R1", start = "x", end = "y", cable = "wire", length_m = 1 }]
""")
    forest = forest_of(design)
    assert [design.nodes[k] for k in forest.unfed] == ["x", "y"]
    assert forest.loops == ()
    assert forest.tree(design.node_of("x")) is None
