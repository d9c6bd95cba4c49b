"""The design's wiring as trees, each hanging from a source; what is no tree is named, not solved.

Branches are the runs, then the links: branch b is run b, or link b - n_runs.
"""

from __future__ import annotations

from collections import deque

import numpy as np

from ampwright.job.design import Design
from ampwright.job.nodes import STARTER_NODE
from ampwright.network.result import FloatArray, IntArray
from ampwright.parts.charger import PanelController
from ampwright.parts.panel import Panel
from ampwright.records import record

__all__ = ["Forest", "Tree", "forest_of"]


@record
class Tree:
    """One radial part of the network in topological order: a parent stands before its children."""

    root: int
    """Index of the node of its source."""
    nodes: IntArray
    """Index of the node at each position, the root first (n,)."""
    parent: IntArray
    """Position of each node's parent (n,); -1 for the root."""
    branch: IntArray
    """Branch from the parent (n,); -1 for the root."""
    direction: FloatArray
    """+1 where that branch is written from the parent to the node, -1 where the other way (n,)."""
    is_radial: bool
    """False when a run was left out of it because it closes a loop or joins two sources."""


@record
class Forest:
    """All trees of a design."""

    trees: tuple[Tree, ...]
    """Trees in order of their sources: auxiliary battery, starter battery, panel controllers, panels."""
    root: IntArray
    """Index of the root of each node's tree (n_nodes,); -1 where nothing feeds it."""
    loops: tuple[int, ...]
    """Runs left out of the trees."""
    unfed: tuple[int, ...]
    """Nodes that nothing feeds."""

    def tree(self, root: int) -> Tree | None:
        """Return the tree of a root; None where there is none."""
        return next((tree for tree in self.trees if tree.root == root), None)


class _Search:
    """Growing state of the search from the roots."""

    def __init__(self, design: Design) -> None:
        self.ends = [(run.start, run.end) for run in design.runs]
        self.ends += [(link.start, link.end) for link in design.links]
        self.run_count = len(design.runs)
        self.neighbours: list[list[tuple[int, int]]] = [[] for _ in design.nodes]
        for branch, (start, end) in enumerate(self.ends):
            self.neighbours[start].append((branch, end))
            self.neighbours[end].append((branch, start))
        self.root = [-1] * len(design.nodes)
        self.parent = [-1] * len(design.nodes)
        self.branch = [-1] * len(design.nodes)
        self.order: list[int] = []

    def grow(self, roots: tuple[int, ...]) -> None:
        """Claim all nodes reached from the roots; links are followed at once, so only runs close loops."""
        queue = deque((root, -1, -1) for root in roots if self.root[root] < 0)
        while queue:
            node, parent, branch = queue.popleft()
            if self.root[node] >= 0:
                continue
            self.root[node] = self.root[parent] if parent >= 0 else node
            self.parent[node], self.branch[node] = parent, branch
            self.order.append(node)
            for next_branch, other in self.neighbours[node]:
                if self.root[other] < 0:
                    step = (other, node, next_branch)
                    if next_branch >= self.run_count:
                        queue.appendleft(step)
                    else:
                        queue.append(step)


def forest_of(design: Design) -> Forest:
    """Return the trees of a design, oriented from their sources.

    A panel's tree hangs from the controller it feeds, so that several panels may share one; a panel that
    meets no controller is the root of its own.
    """
    search = _Search(design)
    search.grow(_first_roots(design))
    search.grow(tuple(design.node_of(placed.id) for placed, _ in design.placed(Panel)))
    used = {branch for branch in search.branch if branch >= 0}
    left_out = [
        branch
        for branch, (start, _) in enumerate(search.ends)
        if search.root[start] >= 0 and branch not in used
    ]
    spoilt = {search.root[node] for branch in left_out for node in search.ends[branch]}
    roots = [node for node in search.order if search.root[node] == node]
    return Forest(
        trees=tuple(_tree(search, root, is_radial=root not in spoilt) for root in roots),
        root=np.array(search.root, dtype=np.int64),
        loops=tuple(branch for branch in left_out if branch < search.run_count),
        unfed=tuple(node for node, root in enumerate(search.root) if root < 0),
    )


def _first_roots(design: Design) -> tuple[int, ...]:
    """Nodes of the batteries, and the panel side of every controller that panels can be reached from."""
    names = [design.parts[design.battery].id, STARTER_NODE]
    names += [f"{placed.id}.in" for placed, _ in design.placed(PanelController)]
    wired = {node for run in design.runs for node in (run.start, run.end)}
    nodes = [design.node_of(name) for name in names]
    return tuple(node for position, node in enumerate(nodes) if node >= 0 and (position < 2 or node in wired))


def _tree(search: _Search, root: int, *, is_radial: bool) -> Tree:
    nodes = [node for node in search.order if search.root[node] == root]
    position = {node: k for k, node in enumerate(nodes)}
    position[-1] = -1
    branch = [search.branch[node] for node in nodes]
    direction = [
        1.0 if b < 0 or search.ends[b][1] == node else -1.0 for node, b in zip(nodes, branch, strict=True)
    ]
    return Tree(
        root=root,
        nodes=np.array(nodes, dtype=np.int64),
        parent=np.array([position[search.parent[node]] for node in nodes], dtype=np.int64),
        branch=np.array(branch, dtype=np.int64),
        direction=np.array(direction),
        is_radial=is_radial,
    )
