"""A circuit that two batteries feed, joined by a run: how its current divides between them.

Joined at rest they stand at one voltage, so each is taken as that voltage behind its own resistance.
"""

from __future__ import annotations

import math

import numpy as np

from ampwright.fieldwork.bench import Bench, FeedingSource, WayDrop
from ampwright.fieldwork.tolerance import Contribution
from ampwright.network.corners import with_other_battery
from ampwright.network.demand import Demand
from ampwright.network.result import FloatArray
from ampwright.network.sweep import tree_point
from ampwright.network.tree import Tree

__all__ = ["JOINED_HALF_V", "shared_way"]

JOINED_HALF_V = 0.02
"""How far the voltages of two joined batteries at rest may differ, for each 12 V (docs/choices.md#test-joined)."""
NOMINAL_V = 12.0
STEPS_COUNT = 12
CLOSE_V = 1e-9


def shared_way(bench: Bench, node: int, *, demand: Demand, source: FeedingSource) -> WayDrop | None:
    """Return the voltage lost from the posts of the auxiliary battery to a node; None where there is no steady answer."""
    tree = bench.joined_island(node)
    if tree is None:
        return None
    half_v = JOINED_HALF_V * bench.design.system_v / NOMINAL_V

    def lost_and_left_v(ohm: FloatArray, other_v: float = source.rest_v) -> tuple[float, float]:
        joined = with_other_battery(bench.design, tree, demand, other_v)
        return _lost_and_left_v(tree, node, ohm=ohm, demand=joined, source=source)

    drop_v, at_v = lost_and_left_v(bench.ohm)
    doubted = {
        "length": lost_and_left_v(bench.long_ohm)[0],
        "joints": lost_and_left_v(bench.joint_ohm)[0],
        "temperature": lost_and_left_v(bench.warm_ohm)[0],
        "charge": lost_and_left_v(bench.ohm, source.rest_v + half_v)[0],
    }
    if not all(math.isfinite(each) for each in (drop_v, at_v, *doubted.values())):
        return None
    return WayDrop(
        drop_v=drop_v,
        at_v=at_v,
        doubts=tuple(
            Contribution(cause=cause, half_width=abs(drop_v - doubted_v))  # type: ignore[arg-type]
            for cause, doubted_v in doubted.items()
        ),
    )


def _lost_and_left_v(
    tree: Tree, node: int, *, ohm: FloatArray, demand: Demand, source: FeedingSource
) -> tuple[float, float]:
    """Return drop and voltage at a node with the first battery's posts where its own sag leaves them.

    Secant on posts + R I - E; between two batteries that is straight but for the loads of constant power.
    """
    position = int(np.flatnonzero(tree.nodes == node)[0])
    posts_v, before_v, before_miss_v = source.rest_v, math.nan, math.nan
    for _ in range(STEPS_COUNT):
        point = tree_point(tree, ohm, demand=demand, source_v=posts_v)
        if not point.is_found:
            break
        miss_v = posts_v + source.resistance_ohm * float(point.branch_a[0]) - source.rest_v
        if abs(miss_v) < CLOSE_V:
            at_v = float(point.node_v[position])
            return posts_v - at_v, at_v
        slope = 1.0 if math.isnan(before_v) else (miss_v - before_miss_v) / (posts_v - before_v)
        before_v, before_miss_v, posts_v = posts_v, miss_v, posts_v - miss_v / slope
    return math.nan, math.nan
