"""One island at one source voltage: gather its arrays, call the right kernel, explain a collapse."""

from __future__ import annotations

import numpy as np

from ampwright.network.demand import Demand
from ampwright.network.mesh.island import core_of, island_currents, island_of
from ampwright.network.result import Collapse, FloatArray
from ampwright.network.tree import Tree
from ampwright.records import record

__all__ = ["TreePoint", "collapse_of", "path_ohm", "tree_point"]

BISECTIONS = 40
"""Halvings of the bearable part, to 1e-12 of it."""


@record
class TreePoint:
    """Answer of one island, by position in it."""

    node_v: FloatArray
    """Voltages (n,); NaN without an answer."""
    branch_a: FloatArray
    """Current from the parent into each node (n,); entry 0 is what the source gives."""
    chord_a: FloatArray
    """Current of each chord from its start to its end (n_chords,)."""
    is_found: bool
    """True when there is a steady voltage."""


def _branch_ohm(tree: Tree, ohm: FloatArray) -> FloatArray:
    """Return the resistance of the branch from the parent at each position, 0 at the root (n,)."""
    values: FloatArray = ohm[tree.branch] if ohm.size else np.zeros(tree.nodes.size)
    values[0] = 0.0
    return values


def path_ohm(tree: Tree, ohm: FloatArray) -> FloatArray:
    """Return the resistance from the root to each position (n,): of the path, or with loops the effective one."""
    path = _branch_ohm(tree, ohm)
    inside = core_of(tree)
    if not tree.is_radial:
        core = island_of(tree, ohm, inside)
        values = np.zeros(core.count)
        values[1:] = np.diag(np.linalg.inv(core.matrix[1:, 1:]))
        path[inside] = values[core.place[inside]]
    for position in range(1, path.size):
        if tree.is_radial or not inside[position]:
            path[position] += path[tree.parent[position]]
    return path


def tree_point(
    tree: Tree, ohm: FloatArray, *, demand: Demand, source_v: float, part_frac: float = 1.0
) -> TreePoint:
    """Return voltages and currents of an island.

    Parameters
    ----------
    ohm : (n_branches,) resistance of every branch of the design
    part_frac : part of all constant powers that is counted
    """
    from ampwright.network.kernel import tree_solution  # noqa: PLC0415 - the compiler is heavy

    nodes = tree.nodes
    loads = (
        demand.power_w[nodes] * part_frac,
        demand.current_a[nodes],
        demand.conductance_siemens[nodes],
    )
    if not tree.is_radial:
        return _mesh_point(tree, ohm, loads, float(source_v))
    node_v, branch_a, _, is_found = tree_solution(
        tree.parent, _branch_ohm(tree, ohm), *loads, float(source_v)
    )
    return TreePoint(node_v=node_v, branch_a=branch_a, chord_a=np.zeros(0), is_found=bool(is_found))


def _mesh_point(
    tree: Tree, ohm: FloatArray, loads: tuple[FloatArray, FloatArray, FloatArray], source_v: float
) -> TreePoint:
    from ampwright.network.mesh.kernel import mesh_solution  # noqa: PLC0415 - the compiler is heavy

    inside = core_of(tree)
    core = island_of(tree, ohm, inside)
    node_v, _, is_found = mesh_solution(
        tree.parent, _branch_ohm(tree, ohm), core.place, core.matrix, *loads, source_v
    )
    branch_a = loads[0] / node_v + loads[1] + loads[2] * node_v
    for position in np.flatnonzero(~inside)[::-1].tolist():
        branch_a[tree.parent[position]] += branch_a[position]
    drawn_a = np.where(inside, branch_a, 0.0)
    flow_a = island_currents(core, node_v, drawn_a) if is_found else np.full(core.branch.size, np.nan)
    spanning = np.flatnonzero(inside)[1:]
    branch_a[spanning] = flow_a[: spanning.size] * tree.direction[spanning]
    branch_a[0] = drawn_a.sum()
    return TreePoint(
        node_v=node_v, branch_a=branch_a, chord_a=flow_a[spanning.size :], is_found=bool(is_found)
    )


def collapse_of(tree: Tree, ohm: FloatArray, *, demand: Demand, source_v: float) -> Collapse:
    """Return what an island without a steady voltage fails at.

    A resistive source of R ohm gives at most V²/(4·R) (maximum power transfer); with loops R is the effective
    resistance. The node named is the one whose wants, with all that can only be fed through it, are the
    largest part of that.
    """
    wants_w = demand.power_w[tree.nodes] + source_v * demand.current_a[tree.nodes]
    beyond_w = _beyond(tree, wants_w)
    path = path_ohm(tree, ohm)
    position = int(np.argmax(beyond_w * path))
    loop_ohm = float(path[position])
    low, high = 0.0, 1.0
    for _ in range(BISECTIONS):
        middle = 0.5 * (low + high)
        point = tree_point(tree, ohm, demand=demand, source_v=source_v, part_frac=middle)
        low, high = (middle, high) if point.is_found else (low, middle)
    return Collapse(
        node=int(tree.nodes[position]),
        source_v=source_v,
        loop_ohm=loop_ohm,
        available_w=source_v * source_v / (4.0 * loop_ohm) if loop_ohm > 0.0 else 0.0,
        wanted_w=float(beyond_w[position]),
        bearable_frac=low,
    )


def _beyond(tree: Tree, values: FloatArray) -> FloatArray:
    """Return the sum of a value over each position and all that can only be fed through it (n,)."""
    beyond = values.copy()
    if tree.is_radial:
        for position in range(beyond.size - 1, 0, -1):
            beyond[tree.parent[position]] += beyond[position]
        return beyond
    neighbours: list[list[int]] = [[] for _ in range(values.size)]
    spanning = zip(range(1, values.size), tree.parent[1:].tolist(), strict=True)
    for start, end in (*spanning, *tree.chord_ends.tolist()):
        neighbours[start].append(end)
        neighbours[end].append(start)
    for position in range(values.size):
        cut_off = _cut_off(neighbours, position)
        beyond[position] += values[cut_off].sum()
    return beyond


def _cut_off(neighbours: list[list[int]], gone: int) -> list[int]:
    """Return the positions that the root does not reach once one of them is gone; that one is not among them."""
    reached = [False] * len(neighbours)
    reached[gone] = True
    waiting = [0] if gone else []
    while waiting:
        position = waiting.pop()
        if not reached[position]:
            reached[position] = True
            waiting += [other for other in neighbours[position] if not reached[other]]
    return [position for position, is_reached in enumerate(reached) if not is_reached]
