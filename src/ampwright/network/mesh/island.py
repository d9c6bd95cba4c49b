"""One island with loops in the form nodal analysis wants: nodes joined without resistance made one."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ampwright.network.result import FloatArray, IntArray
from ampwright.network.tree import Tree
from ampwright.records import record

__all__ = ["Island", "branches_of", "core_of", "island_currents", "island_of"]

Flags = NDArray[np.bool_]


@record
class Island:
    """Some positions of a tree and the branches between them; nodes joined without resistance are one."""

    place: IntArray
    """Merged node of each position of the tree, the root's 0 (n,); -1 for positions left out."""
    count: int
    """How many merged nodes."""
    branch: IntArray
    """Branch of the design (m,), those of the spanning tree first."""
    ends: IntArray
    """Positions of start and end of each, as written (m, 2)."""
    ohm: FloatArray
    """Resistance of each (m,); 0 where its ends are one."""
    matrix: FloatArray
    """Conductance matrix of those with resistance (count, count)."""


def island_of(tree: Tree, ohm: FloatArray, inside: Flags | None = None) -> Island:
    """Return the island of a tree and its chords.

    Parameters
    ----------
    ohm : (n_branches,) resistance of every branch of the design
    inside : (n,) positions wanted, a part that hangs together with the root and holds all chords; None = all
    """
    from ampwright.network.mesh.kernel import conductance_matrix  # noqa: PLC0415 - the compiler is heavy

    if inside is None:
        inside = np.ones(tree.nodes.size, dtype=np.bool_)
    branch, ends = branches_of(tree, np.flatnonzero(inside)[1:])
    values: FloatArray = ohm[branch] if branch.size else np.zeros(0)
    place, count = _places(inside, ends[values == 0.0])
    kept = values > 0.0
    merged = place[ends[kept]]
    return Island(
        place=place,
        count=count,
        branch=branch,
        ends=ends,
        ohm=values,
        matrix=conductance_matrix(merged[:, 0], merged[:, 1], values[kept], count),
    )


def branches_of(tree: Tree, positions: IntArray) -> tuple[IntArray, IntArray]:
    """Return the branches from the parents to some positions, then the chords (m,), and their ends (m, 2).

    The ends are positions of start and end as written.
    """
    is_along = (tree.direction[positions] > 0.0)[:, np.newaxis]
    spanning = np.column_stack((tree.parent[positions], positions))
    ends = np.vstack((np.where(is_along, spanning, spanning[:, ::-1]), tree.chord_ends))
    return np.concatenate((tree.branch[positions], tree.chords)), ends


def core_of(tree: Tree) -> Flags:
    """Return the positions on the ways from the root to all chords and a second battery (n,).

    What hangs on them has no loop and no source of its own.
    """
    inside = np.zeros(tree.nodes.size, dtype=np.bool_)
    inside[0] = True
    for end in (*tree.chord_ends.ravel().tolist(), *np.flatnonzero(tree.nodes == tree.other_battery)):
        position = end
        while not inside[position]:
            inside[position] = True
            position = int(tree.parent[position])
    return inside


def _places(inside: Flags, joined: IntArray) -> tuple[IntArray, int]:
    """Return the merged node of each position, numbered in order, and how many there are."""
    leader = list(range(inside.size))
    for start, end in joined.tolist():
        low, high = sorted((_first(leader, start), _first(leader, end)))
        leader[high] = low
    leaders = {position: _first(leader, position) for position in np.flatnonzero(inside).tolist()}
    number = {head: k for k, head in enumerate(sorted(set(leaders.values())))}
    place = np.full(inside.size, -1, dtype=np.int64)
    for position, head in leaders.items():
        place[position] = number[head]
    return place, len(number)


def _first(leader: list[int], position: int) -> int:
    while leader[position] != position:
        position = leader[position]
    return position


def island_currents(island: Island, node_v: FloatArray, drawn_a: FloatArray) -> FloatArray:
    """Return the current of each branch from its start to its end (m,).

    `drawn_a` (n,) is what leaves at each position, all that hangs on it and is left out of the island included.
    Through resistance by Ohm's law; through branches without any by what the nodes leave over. Those never
    close a loop among themselves, since every run has copper, so the answer is the only one.
    """
    start, end = island.ends[:, 0], island.ends[:, 1]
    is_short = island.ohm == 0.0
    divisor = np.where(is_short, 1.0, island.ohm)
    branch_a: FloatArray = np.where(is_short, 0.0, (node_v[start] - node_v[end]) / divisor)
    if not is_short.any():
        return branch_a
    size = node_v.size
    left_a = -drawn_a + np.bincount(end, weights=branch_a, minlength=size)
    left_a -= np.bincount(start, weights=branch_a, minlength=size)
    shorts = np.flatnonzero(is_short)
    incidence = np.zeros((size, shorts.size))
    incidence[start[shorts], np.arange(shorts.size)] += 1.0
    incidence[end[shorts], np.arange(shorts.size)] -= 1.0
    # the root's own balance holds whatever the source gives, so it says nothing
    branch_a[shorts] = np.linalg.lstsq(incidence[1:], left_a[1:], rcond=None)[0]
    return branch_a
