"""Faults in one island with loops or with two batteries: every source drives its share through every branch.

Sources are voltages behind resistances, so the network is linear: one inverse answers for a fault anywhere.
"""

from __future__ import annotations

import numpy as np

from ampwright.network.mesh.island import Island, branches_of, core_of, island_of
from ampwright.network.result import FloatArray, IntArray
from ampwright.network.tree import Tree
from ampwright.records import record

__all__ = ["FaultNet", "FaultSource", "fault_at_position", "fault_in_branch", "fault_net"]


@record
class FaultSource:
    """A battery: a voltage behind a resistance."""

    node: int
    """Index of its node."""
    open_v: float
    """Its voltage at rest."""
    source_ohm: float
    """Its internal resistance, above zero."""


@record
class FaultNet:
    """An island with its sources, ready for faults; all by position in its tree."""

    transfer_ohm: FloatArray
    """Voltage at each position for 1 A into each other (n, n)."""
    open_v: FloatArray
    """Voltage of each position before the fault, no loads (n,)."""
    branch: IntArray
    """Branch of the design: from the parent to positions 1 and up, then the chords (m,)."""
    ends: IntArray
    """Positions of start and end of each, as written (m, 2)."""
    ohm: FloatArray
    """Resistance of each (m,)."""


def fault_net(tree: Tree, ohm: FloatArray, sources: tuple[FaultSource, ...]) -> FaultNet:
    """Return the island of a tree with its sources, one of them at its root, any other its second battery.

    Parameters
    ----------
    ohm : (n_branches,) resistance of every branch of the design
    """
    from ampwright.network.mesh.kernel import transfer_ohm  # noqa: PLC0415 - the compiler is heavy

    inside = core_of(tree)
    core = island_of(tree, ohm, inside)
    position = {node: k for k, node in enumerate(tree.nodes.tolist())}
    shunt, driven_a = np.zeros(core.count), np.zeros(core.count)
    for source in sources:
        place = core.place[position[source.node]]
        shunt[place] += 1.0 / source.source_ohm
        driven_a[place] += source.open_v / source.source_ohm
    core_ohm = transfer_ohm(core.matrix, shunt)
    branch, ends = branches_of(tree, np.arange(1, tree.nodes.size))
    values: FloatArray = ohm[branch]
    place, own_ohm = _hung_on(tree, core, values)
    return FaultNet(
        transfer_ohm=core_ohm[np.ix_(place, place)] + own_ohm,
        open_v=(core_ohm @ driven_a)[place],
        branch=branch,
        ends=ends,
        ohm=values,
    )


def _hung_on(tree: Tree, core: Island, values: FloatArray) -> tuple[IntArray, FloatArray]:
    """Return the node of the core each position hangs on (n,), and what two ways from there have in common (n, n).

    Parameters
    ----------
    values : resistance of the branches, those from the parents first
    """
    place = core.place.copy()
    common = np.zeros((place.size, place.size))
    for k in np.flatnonzero(place < 0).tolist():
        up = int(tree.parent[k])
        place[k] = place[up]
        common[k, :k] = common[:k, k] = common[up, :k]
        common[k, k] = common[up, up] + values[k - 1]
    return place, common


def fault_at_position(net: FaultNet, position: int) -> tuple[float, FloatArray]:
    """Return the current of a bolted fault at a position, and the current of each branch as written (m,).

    A branch without resistance gets NaN: nothing that has to be known sits in one.
    """
    column = net.transfer_ohm[:, position]
    total_a = float(net.open_v[position] / column[position])
    node_v = net.open_v - column * total_a
    start, end = net.ends[:, 0], net.ends[:, 1]
    ohm = np.where(net.ohm > 0.0, net.ohm, np.nan)
    return total_a, (node_v[start] - node_v[end]) / ohm


def fault_in_branch(net: FaultNet, index: int, share_frac: float) -> tuple[float, float]:
    """Return what flows into a bolted fault inside a branch from its start and from its end.

    At an end of the branch all that does not come through the branch itself counts to that end.

    Parameters
    ----------
    index : position of the branch in the arrays of branches; it has resistance
    share_frac : part of the branch between its start and the fault
    """
    ohm = float(net.ohm[index])
    start, end = net.ends[index]
    x, z = share_frac, net.transfer_ohm
    own_ohm = (
        (1.0 - x) ** 2 * z[start, start] + x**2 * z[end, end] + 2.0 * x * (1.0 - x) * z[start, end]
    ) + ohm * x * (1.0 - x)
    open_v = (1.0 - x) * net.open_v[start] + x * net.open_v[end]
    total_a = float(open_v / own_ohm)
    if x <= 0.5:
        far_v = net.open_v[end] - ((1.0 - x) * z[end, start] + x * z[end, end]) * total_a
        from_end_a = float(far_v) / (ohm * (1.0 - x))
        return total_a - from_end_a, from_end_a
    far_v = net.open_v[start] - ((1.0 - x) * z[start, start] + x * z[start, end]) * total_a
    from_start_a = float(far_v) / (ohm * x)
    return from_start_a, total_a - from_start_a
