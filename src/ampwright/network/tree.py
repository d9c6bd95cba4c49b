"""The design's wiring as islands, each hanging from a source: a spanning tree, and the branches that close loops.

Branches are the runs, then the links: branch b is run b, or link b - n_runs.
"""

from __future__ import annotations

from collections import deque

import numpy as np

from ampwright.job.design import Design
from ampwright.job.joins import relay_joins
from ampwright.job.nodes import SECOND_NODE, STARTER_NODE
from ampwright.job.supply import is_second_direct
from ampwright.job.wiring import Attached
from ampwright.network.result import FloatArray, IntArray
from ampwright.parts.charger import PanelController
from ampwright.parts.converter import Converter
from ampwright.parts.panel import Panel
from ampwright.records import record

__all__ = ["EVERYTHING", "Forest", "Tree", "forest_of"]

EVERYTHING: frozenset[Attached] = frozenset(("vehicle", "body", "trailer"))
"""Body and trailer attached."""


MOST_MESH_NODES = 400
"""Nodes of the largest island with loops that is solved; without loops there is no such limit."""


@record
class Tree:
    """One island: its spanning tree in topological order (a parent stands before its children), and its chords."""

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
    chords: IntArray
    """Branches beside the spanning tree, each closing a loop (n_chords,)."""
    chord_ends: IntArray
    """Positions of start and end of each of them, as written (n_chords, 2)."""
    other_battery: int
    """Node of a second battery in it; -1 = none."""
    is_solvable: bool
    """False when a run joins it to a source that no steady condition can be given for, or it is too large."""

    @property
    def is_radial(self) -> bool:
        """True when it has no loop."""
        return self.chords.size == 0


@record
class Forest:
    """All islands of a design."""

    trees: tuple[Tree, ...]
    """Islands in order of their sources: auxiliary battery, starter battery, second alternator, converters,
    panel controllers, panels."""
    turned: tuple[Tree, ...]
    """The island of two joined batteries once more, hanging from the other one; empty where none are joined."""
    root: IntArray
    """Index of the root nearest each node (n_nodes,); -1 where nothing feeds it."""
    loops: tuple[int, ...]
    """Runs that join sources and cannot be solved, or close loops in too large an island."""
    meshed: tuple[int, ...]
    """Runs that are part of a loop or lie between two batteries: their current may flow either way."""
    unfed: tuple[int, ...]
    """Nodes that nothing feeds."""

    def tree(self, root: int) -> Tree | None:
        """Return the island hanging from a root; None where there is none."""
        return next((tree for tree in (*self.trees, *self.turned) if tree.root == root), None)

    def island(self, node: int) -> Tree | None:
        """Return the island that holds a node; None where nothing feeds it."""
        return next((tree for tree in self.trees if node in tree.nodes), None)


class _Graph:
    """Nodes and the branches present, and the growing search from the roots."""

    def __init__(self, design: Design, present: frozenset[Attached], away: frozenset[int]) -> None:
        self.ends = [(run.start, run.end) for run in design.runs]
        self.ends += [(link.start, link.end) for link in design.links]
        carriers = [run.part_of for run in design.runs]
        carriers += [design.parts[link.part].part_of for link in design.links]
        self.branches = [b for b, carrier in enumerate(carriers) if carrier in present and b not in away]
        self.run_count = len(design.runs)
        self.neighbours: list[list[tuple[int, int]]] = [[] for _ in design.nodes]
        for branch in self.branches:
            start, end = self.ends[branch]
            self.neighbours[start].append((branch, end))
            self.neighbours[end].append((branch, start))
        self.root = [-1] * len(design.nodes)
        self.order: list[int] = []

    def grow(self, roots: tuple[int, ...]) -> None:
        """Give every node not reached yet to the root that comes to it first."""
        reached = self.walk(tuple(root for root in roots if self.root[root] < 0), self.root)
        for node, parent, _ in reached:
            self.root[node] = self.root[parent] if parent >= 0 else node
            self.order.append(node)

    def walk(self, roots: tuple[int, ...], taken: list[int]) -> list[tuple[int, int, int]]:
        """Return node, parent and branch in the order reached; nodes with an entry in `taken` are closed.

        Links are followed at once, so only runs close loops.
        """
        closed = [root >= 0 for root in taken]
        found: list[tuple[int, int, int]] = []
        queue = deque((root, -1, -1) for root in roots)
        while queue:
            node, parent, branch = queue.popleft()
            if closed[node]:
                continue
            closed[node] = True
            found.append((node, parent, branch))
            for next_branch, other in self.neighbours[node]:
                if not closed[other]:
                    step = (other, node, next_branch)
                    if next_branch >= self.run_count:
                        queue.appendleft(step)
                    else:
                        queue.append(step)
        return found


def forest_of(
    design: Design, present: frozenset[Attached] = EVERYTHING, *, is_joined: bool = False
) -> Forest:
    """Return the islands of a design, oriented from their sources.

    A panel's tree hangs from the controller it feeds, so that several panels may share one; a panel that
    meets no controller is the root of its own. Two batteries joined by a run make one island.

    Parameters
    ----------
    present : what is attached; runs and parts carried on anything else are absent
    is_joined : True with the relays between the two batteries closed
    """
    away = () if is_joined else (len(design.runs) + join.link for join in relay_joins(design))
    graph = _Graph(design, present, frozenset(away))
    batteries = _batteries(design, present)
    graph.grow(
        (
            *batteries,
            *_second_alternator(design, present),
            *_wired(design, present, Converter, ".out"),
            *_wired(design, present, PanelController, ".in"),
        )
    )
    panels = [placed for placed, _ in design.placed(Panel) if placed.part_of in present]
    graph.grow(tuple(design.node_of(placed.id) for placed in panels))
    joins = {
        branch: roots
        for branch in graph.branches
        if (roots := {graph.root[node] for node in graph.ends[branch]}) != {-1} and len(roots) == 2
    }
    solvable = [roots for roots in joins.values() if roots <= set(batteries)]
    unsolved = {branch: roots for branch, roots in joins.items() if not roots <= set(batteries)}
    spoilt: set[int] = set().union(*unsolved.values())
    if solvable and spoilt & set(batteries):
        spoilt |= set(batteries)
    sources = [node for node in graph.order if graph.root[node] == node]
    trees, turned = _trees(graph, sources, batteries if solvable else (), spoilt)
    return Forest(
        trees=trees,
        turned=turned,
        root=np.array(graph.root, dtype=np.int64),
        loops=tuple(sorted(branch for branch in {*unsolved, *_too_large(trees)} if branch < graph.run_count)),
        meshed=tuple(sorted({b for tree in trees for b in _meshed(tree) if b < graph.run_count})),
        unfed=tuple(node for node, root in enumerate(graph.root) if root < 0),
    )


def _batteries(design: Design, present: frozenset[Attached]) -> tuple[int, ...]:
    placed, starter = design.parts[design.battery], design.node_of(STARTER_NODE)
    found = [design.node_of(placed.id)] if placed.part_of in present else []
    return tuple(found + [starter] * (starter >= 0 and "vehicle" in present))


def _second_alternator(design: Design, present: frozenset[Attached]) -> tuple[int, ...]:
    """Return the node of a second alternator that stands apart; on the auxiliary battery it is one of its chargers."""
    node = design.node_of(SECOND_NODE)
    return (node,) if node >= 0 and "vehicle" in present and not is_second_direct(design) else ()


def _wired(
    design: Design, present: frozenset[Attached], kind: type[Converter | PanelController], ending: str
) -> tuple[int, ...]:
    """Return the terminal of every part of a kind that a run leads to: converters feed there, panels meet there."""
    wired = {node for run in design.runs for node in (run.start, run.end)}
    wired |= {load.node for load in design.loads if kind is Converter}
    nodes = [
        design.node_of(f"{placed.id}{ending}")
        for placed, _ in design.placed(kind)
        if placed.part_of in present
    ]
    return tuple(node for node in nodes if node in wired)


def _trees(
    graph: _Graph, roots: list[int], joined: tuple[int, ...], spoilt: set[int]
) -> tuple[tuple[Tree, ...], tuple[Tree, ...]]:
    """Return the islands, joined batteries being one, and the joined one hanging from its second battery."""
    trees: list[Tree] = []
    turned: list[Tree] = []
    for root in roots:
        is_solvable = root not in spoilt
        if root not in joined:
            trees.append(_tree(graph, root, (root,), is_solvable=is_solvable))
        elif root == joined[0]:
            trees.append(_tree(graph, root, joined, is_solvable=is_solvable))
            turned.append(_tree(graph, joined[1], (joined[1], joined[0]), is_solvable=is_solvable))
    return tuple(trees), tuple(turned)


def _tree(graph: _Graph, root: int, members: tuple[int, ...], *, is_solvable: bool) -> Tree:
    """Span the nodes that belong to the members, from the root."""
    outside = [-1 if owner in members else 0 for owner in graph.root]
    reached = graph.walk((root,), outside)
    nodes = [node for node, _, _ in reached]
    position = {node: k for k, node in enumerate(nodes)}
    used = {branch for _, _, branch in reached}
    chords = [
        branch
        for branch in graph.branches
        if branch not in used and all(node in position for node in graph.ends[branch])
    ]
    return Tree(
        root=root,
        nodes=np.array(nodes, dtype=np.int64),
        parent=np.array([position.get(parent, -1) for _, parent, _ in reached], dtype=np.int64),
        branch=np.array([branch for _, _, branch in reached], dtype=np.int64),
        direction=np.array([1.0 if b < 0 or graph.ends[b][1] == node else -1.0 for node, _, b in reached]),
        chords=np.array(chords, dtype=np.int64),
        chord_ends=np.array(
            [[position[node] for node in graph.ends[b]] for b in chords], dtype=np.int64
        ).reshape(-1, 2),
        other_battery=next((node for node in members if node != root), -1),
        is_solvable=is_solvable and (not chords or len(nodes) <= MOST_MESH_NODES),
    )


def _too_large(trees: tuple[Tree, ...]) -> set[int]:
    """Return the chords of islands with more nodes than are solved."""
    return {branch for tree in trees if tree.nodes.size > MOST_MESH_NODES for branch in tree.chords.tolist()}


def _meshed(tree: Tree) -> set[int]:
    """Return the branches on the loop of each chord and, with two batteries, between these."""
    ways = [(int(start), int(end)) for start, end in tree.chord_ends]
    if tree.other_battery >= 0:
        ways.append((0, int(np.flatnonzero(tree.nodes == tree.other_battery)[0])))
    found = set(tree.chords.tolist())
    for first, second in ways:
        a, b = first, second
        while a != b:
            deeper = max(a, b)
            found.add(int(tree.branch[deeper]))
            up = int(tree.parent[deeper])
            a, b = (up, b) if deeper == a else (a, up)
    return found
