"""Largest prospective fault currents: at every fuse and breaker, and where every run begins.

The largest current decides the interrupting capacity a device needs: full battery, cold cable, joints,
devices and channels at zero. The smallest one, which decides whether a device clears in time, is in `far_faults`.
"""

from __future__ import annotations

import math

import numpy as np

from ampwright.job.design import Design
from ampwright.job.design_wiring import DesignDevice, DesignRun
from ampwright.job.nodes import SECOND_NODE, STARTER_NODE
from ampwright.job.supply import is_second_direct
from ampwright.network.demand import panel_currents
from ampwright.network.mesh.fault_net import FaultSource
from ampwright.network.mesh_faults import (
    MeshFeed,
    mesh_device_fault_a,
    mesh_explanation,
    mesh_feed,
    mesh_run_fault_a,
)
from ampwright.network.resistance import cold_copper_ohm
from ampwright.network.result import DeviceFault, FloatArray
from ampwright.network.sweep import path_ohm
from ampwright.network.tree import Forest, Tree
from ampwright.parts.battery import Battery
from ampwright.parts.charger import AlternatorCharger, MainsCharger, PanelController
from ampwright.parts.converter import Converter
from ampwright.parts.inverter import Inverter
from ampwright.parts.panel import Panel
from ampwright.parts.protection import Breaker, Fuse
from ampwright.records import record
from ampwright.said import all_of, said
from ampwright.sources import Source, own_choice

__all__ = ["FULL_VOLTAGE_SOURCE", "device_faults", "run_fault_a"]

FULL_VOLTAGE_SOURCE: Source = own_choice("fault-source-voltage")
"""A full battery feeds a fault from its absorption voltage behind V / short-circuit current."""

NO_ALTERNATOR_FULL_FACTOR = 1.2
"""Full voltage of a starter battery over nominal where no alternator says it: own choice, 2.4 V a cell."""


@record
class _Feed:
    """What feeds faults in one tree."""

    tree: Tree
    """The tree."""
    full_v: float
    """Voltage of the source at its root; 0 where the root is none."""
    source_ohm: float
    """Resistance of that source."""
    root_a: float
    """Current added at the root, whatever the resistance (an alternator)."""
    path_ohm: FloatArray
    """Cold copper from the root to each position (n,)."""
    beyond_a: FloatArray
    """Current limits of chargers and panels at each position and beyond (n,)."""

    def from_root_a(self, ohm: float) -> float:
        """Return what root and alternator drive through some resistance of cable."""
        battery_a = self.full_v / (self.source_ohm + ohm) if self.full_v > 0.0 else 0.0
        return battery_a + self.root_a


def run_fault_a(design: Design, forest: Forest) -> FloatArray:
    """Return the largest fault current at the feeding end of each run (n_runs,); NaN where not known."""
    ohm = cold_copper_ohm(design)
    result = np.full(len(design.runs), np.nan)
    for meshed in _mesh_feeds(design, forest, ohm):
        for branch in meshed.index:
            if branch < len(design.runs):
                result[branch] = mesh_run_fault_a(meshed, design.runs[branch])
    for feed in _feeds(design, forest, ohm):
        for position in range(1, feed.tree.nodes.size):
            branch = int(feed.tree.branch[position])
            if branch < len(design.runs):
                result[branch] = _through_a(feed, position, 0.0)
    return result


def device_faults(design: Design, forest: Forest) -> tuple[DeviceFault, ...]:
    """Return the largest fault current through every fuse and breaker, those of parallel strings included."""
    ohm = cold_copper_ohm(design)
    feeds = _feeds(design, forest, ohm)
    place = {
        int(feed.tree.branch[position]): (feed, position)
        for feed in feeds
        for position in range(1, feed.tree.nodes.size)
    }
    meshed = {branch: feed for feed in _mesh_feeds(design, forest, ohm) for branch in feed.index}
    found = [
        _meshed_fault(meshed[run.index], run, device)
        if run.index in meshed
        else _run_fault(run, device, place.get(run.index))
        for run in design.runs
        for device in run.devices
        if isinstance(device.part, Fuse | Breaker)
    ]
    return (*found, *_string_faults(design, forest))


def _through_a(feed: _Feed, position: int, ohm: float) -> float:
    """Return the larger of what flows into the branch from its feeding side and back from beyond.

    `ohm` is the resistance between the branch's feeding end and the device.
    """
    upstream_ohm = float(feed.path_ohm[feed.tree.parent[position]]) + ohm
    beyond_a = float(feed.beyond_a[position])
    return max(feed.from_root_a(upstream_ohm) + float(feed.beyond_a[0]) - beyond_a, beyond_a)


def _run_fault(run: DesignRun, device: DesignDevice, place: tuple[_Feed, int] | None) -> DeviceFault:
    if place is None:
        why = said(
            "run '{run}' joins sources or nothing feeds it; its fault current is not calculated", run=run.id
        )
        return DeviceFault(run=run.index, part=-1, device=device.id, fault_a=math.nan, explanation=why)
    feed, position = place
    share = min(device.distance_m / run.length_m, 1.0)
    is_near_parent = (device.end == "from") == (feed.tree.direction[position] > 0.0)
    ohm = run.conductor_20_ohm * (share if is_near_parent else 1.0 - share)
    path = float(feed.path_ohm[feed.tree.parent[position]]) + ohm
    fault_a = _through_a(feed, position, ohm)
    others_a = float(feed.beyond_a[0] - feed.beyond_a[position]) + feed.root_a
    source = said(
        "{full_v:.1f} V behind {source_ohm:.2f} mohm of source and cold cable",
        full_v=feed.full_v,
        source_ohm=1000.0 * (feed.source_ohm + path),
    )
    parts = [source] if feed.full_v > 0.0 else []
    parts += (
        [said("{others_a:.0f} A from chargers, panels, alternator or converter", others_a=others_a)]
        if others_a > 0.0
        else []
    )
    if fault_a == feed.beyond_a[position] and fault_a > 0.0:
        parts = [said("{fault_a:.0f} A fed back from beyond the device", fault_a=fault_a)]
    why = all_of(parts) or said("no source")
    return DeviceFault(run=run.index, part=-1, device=device.id, fault_a=fault_a, explanation=why)


def _string_faults(design: Design, forest: Forest) -> tuple[DeviceFault, ...]:
    """Return those of string devices: a fault in a string is fed by the others, one outside by each."""
    injected = {
        int(forest.root[node]): feed_a
        for tree, feed_a in _limited_by_tree(design, forest)
        for node in (tree.root, tree.other_battery)
        if node >= 0
    }
    found: list[DeviceFault] = []
    for placed in design.parts:
        if placed.string_device is None or not isinstance(placed.part, Battery | Panel):
            continue
        own_a = placed.part.short_circuit_a
        others_a = (placed.strings - 1) * own_a
        root = int(forest.root[design.node_of(placed.id)])
        if root not in injected:
            fault_a, why = (
                math.nan,
                said("'{part}' is joined to another source; not calculated", part=placed.id),
            )
        else:
            chargers_a = injected[root]
            if isinstance(placed.part, Panel):
                chargers_a -= placed.strings * own_a
            others_a += max(chargers_a, 0.0) + _joined_a(design, forest, root)
            fault_a = max(own_a, others_a)
            why = said(
                "own string {own_a:.0f} A, all other strings and chargers {others_a:.0f} A",
                own_a=own_a,
                others_a=others_a,
            )
        found.append(
            DeviceFault(
                run=-1,
                part=placed.index,
                device=said("{part} string", part=placed.id),
                fault_a=fault_a,
                explanation=why,
            )
        )
    return tuple(found)


def _joined_a(design: Design, forest: Forest, root: int) -> float:
    """Return at most what the starter battery and alternator add to a string of a battery joined to them."""
    tree = forest.tree(root)
    if tree is None or tree.other_battery < 0:
        return 0.0
    return design.vehicle.starter_short_circuit_a + design.vehicle.alternator_a


def _is_simple(tree: Tree) -> bool:
    """Tell whether one path leads to each node and one battery at most feeds it."""
    return tree.is_radial and tree.other_battery < 0


def _limited_at_node(design: Design) -> FloatArray:
    at_node = np.zeros(len(design.nodes))
    for node, limit_a in _limited_sources(design):
        at_node[node] += limit_a
    return at_node


def _limited_by_tree(design: Design, forest: Forest) -> tuple[tuple[Tree, float], ...]:
    at_node = _limited_at_node(design)
    return tuple((tree, float(at_node[tree.nodes].sum())) for tree in forest.trees if tree.is_solvable)


def _feeds(design: Design, forest: Forest, ohm: FloatArray) -> tuple[_Feed, ...]:
    at_node = _limited_at_node(design)
    feeds: list[_Feed] = []
    for tree in forest.trees:
        if not tree.is_solvable or not _is_simple(tree):
            continue
        beyond_a: FloatArray = at_node[tree.nodes]
        for position in range(beyond_a.size - 1, 0, -1):
            beyond_a[tree.parent[position]] += beyond_a[position]
        full_v, short_circuit_a, root_a = _root_source(design, tree.root)
        feeds.append(
            _Feed(
                tree=tree,
                full_v=full_v,
                source_ohm=full_v / short_circuit_a if short_circuit_a > 0.0 else math.inf,
                root_a=root_a,
                path_ohm=path_ohm(tree, ohm),
                beyond_a=beyond_a,
            )
        )
    return tuple(feeds)


def _mesh_feeds(design: Design, forest: Forest, ohm: FloatArray) -> tuple[MeshFeed, ...]:
    feeds: list[MeshFeed] = []
    for tree, limited_a in _limited_by_tree(design, forest):
        if _is_simple(tree):
            continue
        sources: list[FaultSource] = []
        added_a = limited_a
        for node in (tree.root, tree.other_battery):
            full_v, short_circuit_a, root_a = _root_source(design, node) if node >= 0 else (0.0, 0.0, 0.0)
            added_a += root_a
            if short_circuit_a > 0.0:
                sources.append(FaultSource(node=node, open_v=full_v, source_ohm=full_v / short_circuit_a))
        feeds.append(mesh_feed(tree, ohm, tuple(sources), added_a))
    return tuple(feeds)


def _meshed_fault(feed: MeshFeed, run: DesignRun, device: DesignDevice) -> DeviceFault:
    fault_a = mesh_device_fault_a(feed, run, device.distance_m, is_from=device.end == "from")
    return DeviceFault(
        run=run.index, part=-1, device=device.id, fault_a=fault_a, explanation=mesh_explanation(feed)
    )


def _root_source(design: Design, root: int) -> tuple[float, float, float]:
    """Return full voltage and short-circuit current of the source at a root, and an alternator's current."""
    placed, vehicle = design.parts[design.battery], design.vehicle
    if root == design.node_of(placed.id):
        part = design.battery_part()
        return part.charge_v * placed.in_series, part.short_circuit_a * placed.strings, 0.0
    if root == design.node_of(STARTER_NODE):
        high_v = vehicle.alternator_high_v if vehicle.has_alternator else 0.0
        full_v = high_v or NO_ALTERNATOR_FULL_FACTOR * vehicle.system_v
        return full_v, vehicle.starter_short_circuit_a, vehicle.alternator_a
    if vehicle.second is not None and root == design.node_of(SECOND_NODE):
        return 0.0, 0.0, vehicle.second.alternator_a
    for other, converter in design.placed(Converter):
        if root == design.node_of(f"{other.id}.out"):
            return 0.0, 0.0, converter.limit_a
    return 0.0, 0.0, 0.0


def _limited_sources(design: Design) -> tuple[tuple[int, float], ...]:
    """Return node and largest current of every charging part, as built and not as set, of panels and a second alternator."""
    found = [(node, current_a) for node, current_a, _ in panel_currents(design)]
    second = design.vehicle.second
    if second is not None and is_second_direct(design):
        found.append((design.node_of(SECOND_NODE), second.alternator_a))
    for placed in design.parts:
        part = placed.part
        if isinstance(part, AlternatorCharger | MainsCharger | PanelController):
            found.append((design.node_of(f"{placed.id}.out"), part.output_max_a))
        elif isinstance(part, Inverter):
            found.append((design.node_of(placed.id), part.charger_max_a))
    return tuple(found)
