"""One tree at one source voltage: gather its arrays, call the kernel, explain a collapse."""

from __future__ import annotations

import numpy as np

from ampwright.network.demand import Demand
from ampwright.network.kernel import tree_solution
from ampwright.network.result import Collapse, FloatArray
from ampwright.network.tree import Tree
from ampwright.records import record

__all__ = ["TreePoint", "collapse_of", "path_ohm", "tree_point"]

BISECTIONS = 40
"""Halvings of the bearable part, to 1e-12 of it."""


@record
class TreePoint:
    """Answer of one tree, by position in it."""

    node_v: FloatArray
    """Voltages (n,); NaN without an answer."""
    branch_a: FloatArray
    """Current from the parent into each node (n,); entry 0 is what the source gives."""
    is_found: bool
    """True when there is a steady voltage."""


def _branch_ohm(tree: Tree, ohm: FloatArray) -> FloatArray:
    """Return the resistance of the branch from the parent at each position, 0 at the root (n,)."""
    values: FloatArray = ohm[tree.branch] if ohm.size else np.zeros(tree.nodes.size)
    values[0] = 0.0
    return values


def path_ohm(tree: Tree, ohm: FloatArray) -> FloatArray:
    """Return the resistance from the root to each position (n,)."""
    path = _branch_ohm(tree, ohm)
    for position in range(1, path.size):
        path[position] += path[tree.parent[position]]
    return path


def tree_point(
    tree: Tree, ohm: FloatArray, *, demand: Demand, source_v: float, part_frac: float = 1.0
) -> TreePoint:
    """Return voltages and currents of a radial tree.

    Parameters
    ----------
    ohm : (n_branches,) resistance of every branch of the design
    part_frac : part of all constant powers that is counted
    """
    nodes = tree.nodes
    node_v, branch_a, _, is_found = tree_solution(
        tree.parent,
        _branch_ohm(tree, ohm),
        demand.power_w[nodes] * part_frac,
        demand.current_a[nodes],
        demand.conductance_siemens[nodes],
        float(source_v),
    )
    return TreePoint(node_v=node_v, branch_a=branch_a, is_found=bool(is_found))


def collapse_of(tree: Tree, ohm: FloatArray, *, demand: Demand, source_v: float) -> Collapse:
    """Return what a tree without a steady voltage fails at.

    A resistive loop of R ohm gives at most V²/(4·R) (maximum power transfer). The node named is the one whose
    wants, with all beyond it, are the largest part of that.
    """
    beyond_w = demand.power_w[tree.nodes] + source_v * demand.current_a[tree.nodes]
    for position in range(beyond_w.size - 1, 0, -1):
        beyond_w[tree.parent[position]] += beyond_w[position]
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
