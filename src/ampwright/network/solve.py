"""Design -> NetworkResult: the room's one public function."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from ampwright.job.design import Design
from ampwright.job.wiring import Attached
from ampwright.network.all_corners import all_corners
from ampwright.network.alone import AloneGroup, alone_groups
from ampwright.network.converted import over_limit
from ampwright.network.corner import Corner
from ampwright.network.demand import load_current_a, nominal_by_root
from ampwright.network.far_faults import far_faults
from ampwright.network.faults import device_faults, run_fault_a
from ampwright.network.resistance import working_ohm
from ampwright.network.result import (
    AlonePoint,
    Collapse,
    DeviceFault,
    FloatArray,
    NetworkResult,
    OperatingPoint,
)
from ampwright.network.situations import situations
from ampwright.network.sweep import collapse_of, path_ohm, tree_point
from ampwright.network.tree import Forest, forest_of
from ampwright.records import record

__all__ = ["network_result"]

Flags = NDArray[np.bool_]


def network_result(design: Design) -> NetworkResult:
    """Return operating points at all corners, their extremes, and the largest and smallest fault currents."""
    forest = forest_of(design)
    ohm = working_ohm(design)
    cases = situations(design, forest)
    groups = alone_groups(design, forest)
    carriers = _carriers(design, forest)
    every = all_corners(design, cases, groups, ohm)
    lasting, alone, overload, crank = (
        tuple(_point(design, corner, ohm, carriers) for corner in chosen)
        for chosen in (every.lasting, every.alone, every.overload, every.crank)
    )
    points = (*lasting, *alone)
    extremes, short = _extremes(design, forest, points), _extremes(design, forest, overload)
    closed = cases[0].joined
    far = far_faults(design, tuple(here.forest for here in cases))
    return NetworkResult(
        points=points,
        peak_a=extremes.run_a,
        link_peak_a=extremes.link_a,
        node_low_v=extremes.low_v,
        node_high_v=extremes.high_v,
        path_ohm=_path_ohm(design, forest, ohm),
        root=forest.root,
        loops=forest.loops,
        unfed=forest.unfed,
        device_fault=_larger_faults(
            device_faults(design, forest), None if closed is None else device_faults(design, closed)
        ),
        run_fault_a=run_fault_a(design, forest)
        if closed is None
        else np.fmax(run_fault_a(design, forest), run_fault_a(design, closed)),
        meshed=forest.meshed,
        run_far_fault_a=far.run_a,
        far_fault=far.device,
        run_far_fault_note=far.run_note,
        alone=_alone_points(design, forest, groups, alone),
        short_points=(*overload, *crank),
        joined_runs=() if closed is None else closed.meshed,
        short_peak_a=short.run_a,
        short_low_v=short.low_v,
        crank_v=_extremes(design, forest, crank).low_v,
    )


def _larger_faults(
    apart: tuple[DeviceFault, ...], joined: tuple[DeviceFault, ...] | None
) -> tuple[DeviceFault, ...]:
    """Return the larger fault at each device, with the relays between the batteries open or closed."""
    if joined is None:
        return apart
    return tuple(
        second if second.fault_a > first.fault_a else first
        for first, second in zip(apart, joined, strict=True)
    )


def _carriers(design: Design, forest: Forest) -> tuple[Attached | None, ...]:
    """Return what carries each branch; None where nothing feeds it though everything is attached."""
    branches = [(run.start, run.part_of) for run in design.runs]
    branches += [(link.start, design.parts[link.part].part_of) for link in design.links]
    return tuple(carrier if forest.root[node] >= 0 else None for node, carrier in branches)


def _point(
    design: Design, corner: Corner, ohm: FloatArray, carriers: tuple[Attached | None, ...]
) -> OperatingPoint:
    node_v = np.full(len(design.nodes), np.nan)
    is_away = [carrier is not None and carrier not in corner.present for carrier in carriers]
    branch_a = np.where(np.array(is_away, dtype=np.bool_), 0.0, np.nan)
    collapse: list[Collapse] = []
    is_solved = True
    for tree, source_v in corner.sources:
        if not tree.is_solvable:
            is_solved = False
            continue
        answer = tree_point(tree, ohm, demand=corner.demand, source_v=source_v)
        if not answer.is_found:
            is_solved = False
            collapse.append(collapse_of(tree, ohm, demand=corner.demand, source_v=source_v))
            continue
        sunk = over_limit(design, tree, float(answer.branch_a[0]))
        if sunk is not None:
            is_solved = False
            collapse.append(sunk)
            continue
        node_v[tree.nodes] = answer.node_v
        branch_a[tree.branch[1:]] = answer.branch_a[1:] * tree.direction[1:]
        branch_a[tree.chords] = answer.chord_a
    run_count = len(design.runs)
    return OperatingPoint(
        corner=corner.name,
        node_v=node_v,
        run_a=branch_a[:run_count],
        link_a=branch_a[run_count:],
        is_solved=is_solved,
        collapse=tuple(collapse),
        lasts_s=corner.lasts_s,
    )


@record
class _Extremes:
    """What is extreme over some corners; NaN where one of them has no answer or none feeds it."""

    run_a: FloatArray
    """Largest current of each run (n_runs,)."""
    link_a: FloatArray
    """Largest current of each link (n_links,)."""
    low_v: FloatArray
    """Lowest voltage of each node (n_nodes,)."""
    high_v: FloatArray
    """Highest voltage of each node (n_nodes,)."""


def _extremes(design: Design, forest: Forest, points: tuple[OperatingPoint, ...]) -> _Extremes:
    nothing = np.full(len(design.nodes), np.nan)
    node_v = np.array([point.node_v for point in points] or [nothing])
    run_a = np.abs(np.array([point.run_a for point in points] or [np.full(len(design.runs), np.nan)]))
    link_a = np.abs(np.array([point.link_a for point in points] or [np.full(len(design.links), np.nan)]))
    spoilt = _spoilt_nodes(forest, points)
    run_spoilt = np.array([spoilt[run.start] or spoilt[run.end] for run in design.runs], dtype=np.bool_)
    link_spoilt = np.array([spoilt[link.end] for link in design.links], dtype=np.bool_)
    return _Extremes(
        run_a=np.where(run_spoilt, np.nan, np.fmax.reduce(run_a)),
        link_a=np.where(link_spoilt, np.nan, np.fmax.reduce(link_a)),
        low_v=np.where(spoilt, np.nan, np.fmin.reduce(node_v)),
        high_v=np.where(spoilt, np.nan, np.fmax.reduce(node_v)),
    )


def _spoilt_nodes(forest: Forest, points: tuple[OperatingPoint, ...]) -> Flags:
    """Return the nodes of islands that cannot be solved, or are without a steady voltage at some corner: not known."""
    spoilt = np.zeros(forest.root.size, dtype=np.bool_)
    for tree in forest.trees:
        if not tree.is_solvable:
            spoilt[tree.nodes] = True
    for node in {item.node for point in points for item in point.collapse}:
        island = forest.island(node)
        if island is not None:
            spoilt[island.nodes] = True
    return spoilt


def _path_ohm(design: Design, forest: Forest, ohm: FloatArray) -> FloatArray:
    paths = np.full(len(design.nodes), np.nan)
    for tree in (*forest.trees, *forest.turned):
        if tree.is_solvable:
            own = forest.root[tree.nodes] == tree.root
            paths[tree.nodes[own]] = path_ohm(tree, ohm)[own]
    return paths


def _alone_points(
    design: Design, forest: Forest, groups: tuple[AloneGroup, ...], points: tuple[OperatingPoint, ...]
) -> tuple[AlonePoint, ...]:
    """Return the pairs of points of the groups, as `alone_corners` gives them: low, then charging."""
    found: list[AlonePoint] = []
    for group, low, high in zip(groups, points[::2], points[1::2], strict=True):
        low_a, high_a = (_taken_a(design, forest, group, point) for point in (low, high))
        found.append(
            AlonePoint(
                node=group.node,
                link=group.link,
                loads=group.loads,
                low_v=float(low.node_v[group.node]),
                low_a=low_a,
                high_v=float(high.node_v[group.node]),
                high_a=high_a,
            )
        )
    return tuple(found)


def _taken_a(design: Design, forest: Forest, group: AloneGroup, point: OperatingPoint) -> float:
    """Return the current into a group: through its channel, or what its one load draws at its voltage."""
    if group.link >= 0:
        return float(point.link_a[group.link])
    load, node_v = design.loads[group.loads[0]], float(point.node_v[group.node])
    if math.isnan(node_v):
        return math.nan
    nominal_v = nominal_by_root(design).get(int(forest.root[group.node]), design.system_v)
    return load_current_a(load, node_v, nominal_v)
