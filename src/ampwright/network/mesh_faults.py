"""Largest fault currents where cables close a loop or two batteries are joined.

As in `faults` the cable is cold and all else counts as zero. Limited sources (chargers, panels, the alternator) are
added whole wherever they sit, so the figures are upper bounds there.
"""

from __future__ import annotations

from ampwright.job.design_wiring import DesignRun
from ampwright.network.mesh.fault_net import FaultNet, FaultSource, fault_in_branch, fault_net
from ampwright.network.result import FloatArray
from ampwright.network.tree import Tree
from ampwright.records import record
from ampwright.said import said

__all__ = ["MeshFeed", "mesh_device_fault_a", "mesh_explanation", "mesh_feed", "mesh_run_fault_a"]


@record
class MeshFeed:
    """What feeds faults in one island with loops or two batteries."""

    net: FaultNet | None
    """Island with its batteries; None for an island of panels."""
    index: dict[int, int]
    """Position of each branch in the arrays of the island."""
    limited_a: float
    """Sum of all sources with a limit."""
    batteries: int
    """How many batteries feed it."""


def mesh_feed(tree: Tree, ohm: FloatArray, sources: tuple[FaultSource, ...], limited_a: float) -> MeshFeed:
    """Return the feed of one island; `ohm` is the cold copper of every branch of the design."""
    net = fault_net(tree, ohm, sources) if sources else None
    branches = [*tree.branch[1:].tolist(), *tree.chords.tolist()]
    return MeshFeed(
        net=net,
        index={branch: k for k, branch in enumerate(branches)},
        limited_a=limited_a,
        batteries=len(sources),
    )


def mesh_device_fault_a(feed: MeshFeed, run: DesignRun, distance_m: float, *, is_from: bool) -> float:
    """Return the largest current through a device in a run, the fault right beside it on either side."""
    share = min(distance_m / run.length_m, 1.0)
    return _through_a(feed, run.index, share if is_from else 1.0 - share)


def mesh_run_fault_a(feed: MeshFeed, run: DesignRun) -> float:
    """Return the largest current through either end of a run."""
    return max(_through_a(feed, run.index, 0.0), _through_a(feed, run.index, 1.0))


def _through_a(feed: MeshFeed, branch: int, share_frac: float) -> float:
    if feed.net is None:
        return feed.limited_a
    return max(fault_in_branch(feed.net, feed.index[branch], share_frac)) + feed.limited_a


def mesh_explanation(feed: MeshFeed) -> str:
    """Return in words what feeds a fault in this island."""
    batteries = {0: said("no battery"), 1: said("the battery")}.get(feed.batteries, said("both batteries"))
    limited = said(
        " and at most {limited_a:.0f} A from chargers, panels or alternator", limited_a=feed.limited_a
    )
    return said("{batteries} through all parallel ways of cold cable", batteries=batteries) + (
        limited if feed.limited_a > 0.0 else ""
    )
