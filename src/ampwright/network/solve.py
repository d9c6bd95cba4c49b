"""Design -> NetworkResult: the room's one public function."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ampwright.job.design import Design
from ampwright.network.corners import Corner, corners
from ampwright.network.faults import device_faults, run_fault_a
from ampwright.network.resistance import working_ohm
from ampwright.network.result import Collapse, FloatArray, NetworkResult, OperatingPoint
from ampwright.network.sweep import collapse_of, path_ohm, tree_point
from ampwright.network.tree import Forest, forest_of

__all__ = ["network_result"]


def network_result(design: Design) -> NetworkResult:
    """Return operating points at all corners, their extremes, and the largest fault currents."""
    forest = forest_of(design)
    ohm = working_ohm(design)
    points = tuple(_point(design, corner, ohm) for corner in corners(design, forest, ohm))
    spoilt = _spoilt_nodes(forest, points)
    node_v = np.array([point.node_v for point in points])
    run_a = np.abs(np.array([point.run_a for point in points]))
    link_a = np.abs(np.array([point.link_a for point in points]))
    run_spoilt = np.array([spoilt[run.start] or spoilt[run.end] for run in design.runs], dtype=np.bool_)
    link_spoilt = np.array([spoilt[link.end] for link in design.links], dtype=np.bool_)
    return NetworkResult(
        points=points,
        peak_a=np.where(run_spoilt, np.nan, np.fmax.reduce(run_a)),
        link_peak_a=np.where(link_spoilt, np.nan, np.fmax.reduce(link_a)),
        node_low_v=np.where(spoilt, np.nan, np.fmin.reduce(node_v)),
        node_high_v=np.where(spoilt, np.nan, np.fmax.reduce(node_v)),
        path_ohm=_path_ohm(design, forest, ohm),
        root=forest.root,
        loops=forest.loops,
        unfed=forest.unfed,
        device_fault=device_faults(design, forest),
        run_fault_a=run_fault_a(design, forest),
    )


def _point(design: Design, corner: Corner, ohm: FloatArray) -> OperatingPoint:
    node_v = np.full(len(design.nodes), np.nan)
    branch_a = np.full(ohm.size, np.nan)
    collapse: list[Collapse] = []
    is_solved = True
    for tree, source_v in corner.sources:
        if not tree.is_radial:
            is_solved = False
            continue
        answer = tree_point(tree, ohm, demand=corner.demand, source_v=source_v)
        if not answer.is_found:
            is_solved = False
            collapse.append(collapse_of(tree, ohm, demand=corner.demand, source_v=source_v))
            continue
        node_v[tree.nodes] = answer.node_v
        branch_a[tree.branch[1:]] = answer.branch_a[1:] * tree.direction[1:]
    run_count = len(design.runs)
    return OperatingPoint(
        corner=corner.name,
        node_v=node_v,
        run_a=branch_a[:run_count],
        link_a=branch_a[run_count:],
        is_solved=is_solved,
        collapse=tuple(collapse),
    )


def _spoilt_nodes(forest: Forest, points: tuple[OperatingPoint, ...]) -> NDArray[np.bool_]:
    """Return the nodes of trees with a loop, or without a steady voltage at some corner: not known."""
    roots = {tree.root for tree in forest.trees if not tree.is_radial}
    roots |= {int(forest.root[item.node]) for point in points for item in point.collapse}
    return np.array([root in roots for root in forest.root.tolist()], dtype=np.bool_)


def _path_ohm(design: Design, forest: Forest, ohm: FloatArray) -> FloatArray:
    paths = np.full(len(design.nodes), np.nan)
    for tree in forest.trees:
        if tree.is_radial:
            paths[tree.nodes] = path_ohm(tree, ohm)
    return paths
