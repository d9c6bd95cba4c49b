"""Smallest fault currents: a bolted fault at the far end of every run, and what each device sees of it.

The smallest current decides whether a device clears in time: battery cold and half empty, cable hot, joints,
devices, channels and chassis counted, no help from chargers, panels or alternator.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from ampwright.job.design import Design
from ampwright.job.nodes import STARTER_NODE
from ampwright.network.mesh.fault_net import FaultSource, fault_at_position, fault_net
from ampwright.network.resistance import hot_ohm
from ampwright.network.result import FarFault, FloatArray
from ampwright.network.sweep import path_ohm
from ampwright.network.tree import Forest, Tree
from ampwright.parts.protection import Breaker, Fuse
from ampwright.records import record
from ampwright.said import said
from ampwright.sources import Source, own_choice

__all__ = ["HALF_EMPTY_SOURCE", "FarFaults", "far_faults", "weak_battery", "weak_starter"]

HALF_EMPTY_SOURCE: Source = own_choice("fault-weak-battery")
"""A weak battery: half empty, at the coldest air of the season or its own limit, if that is warmer."""

HALF_CELL_V = {"lfp": 3.266, "agm": 2.05, "gel": 2.058, "flooded": 2.033}
"""Rest voltage of a half-charged cell; the sources are those of the energy room's table of open-circuit voltages."""
CELL_NOMINAL_V = {"lfp": 3.2, "agm": 2.0, "gel": 2.0, "flooded": 2.0}
"""Nominal cell voltage, by which the cells of a case are counted (common practice)."""
DOUBLING_K = {"lfp": 25.0, "agm": 50.0, "gel": 50.0, "flooded": 50.0}
"""Kelvin of cold that double a battery's resistance, as for energy (docs/choices.md, energy-cold-resistance)."""
REFERENCE_DEGC = 25.0
"""Temperature of a battery's stated resistance, by the definition of that field."""
LEAST_SHARE_FRAC = 1e-6
"""A device that sees less than this part of the fault is not on its way (rounding)."""
NO_BATTERY = said(
    "fed by panels, an alternator or a converter alone: their smallest current is no measure for a device"
)
UNFED = said("nothing feeds it, or it is joined to another source; not calculated")


Answer = tuple[int, float, str, dict[int, float]]
"""Run, its smallest fault current, how it comes about, and the current of each run on the way."""


@record
class FarFaults:
    """Smallest fault currents of a design."""

    run_a: FloatArray
    """At the far end of each run (n_runs,); NaN = not known or of no meaning."""
    run_note: tuple[str, ...]
    """How each comes about, or why there is none (n_runs,)."""
    device: tuple[FarFault, ...]
    """What each device on the way sees."""


def weak_battery(design: Design) -> FaultSource:
    """Return the auxiliary battery half empty and cold."""
    placed, part = design.parts[design.battery], design.battery_part()
    cells = max(round(part.nominal_v / CELL_NOMINAL_V[part.chemistry]), 1)
    coldest_degc = max(design.job.season.coldest_degc, part.discharge_min_degc)
    factor = _cold_factor(coldest_degc, DOUBLING_K[part.chemistry])
    return FaultSource(
        node=design.node_of(placed.id),
        open_v=cells * HALF_CELL_V[part.chemistry] * placed.in_series,
        source_ohm=part.resistance_ohm * factor * placed.in_series / placed.strings,
    )


def weak_starter(design: Design) -> FaultSource:
    """Return the starter battery half empty and cold; a flooded one, since the job does not say."""
    cells = round(design.vehicle.system_v / CELL_NOMINAL_V["flooded"])
    factor = _cold_factor(design.job.season.coldest_degc, DOUBLING_K["flooded"])
    return FaultSource(
        node=design.node_of(STARTER_NODE),
        open_v=cells * HALF_CELL_V["flooded"],
        source_ohm=design.vehicle.starter_resistance_ohm * factor,
    )


def _cold_factor(cell_degc: float, doubling_k: float) -> float:
    return float(2.0 ** (max(REFERENCE_DEGC - cell_degc, 0.0) / doubling_k))


def far_faults(design: Design, forests: tuple[Forest, ...]) -> FarFaults:
    """Return the smallest fault currents over what may be attached: a parallel way may be away.

    Parameters
    ----------
    forests : the islands with everything attached, then with what else occurs in the day plans
    """
    ohm = hot_ohm(design)
    run_a = np.full(len(design.runs), np.nan)
    notes: list[str] = [UNFED] * len(design.runs)
    found: dict[tuple[int, int, str], FarFault] = {}
    for tree in (tree for forest in forests for tree in forest.trees if tree.is_solvable):
        for run, fault_a, note, seen in _answers(design, tree, ohm):
            if math.isnan(run_a[run]) or fault_a < run_a[run]:
                run_a[run], notes[run] = fault_a, note
            for fault in _devices(design, tree, run, note, seen):
                key = (fault.run, fault.device_run, fault.device)
                if key not in found or fault.fault_a < found[key].fault_a:
                    found[key] = fault
    return FarFaults(run_a=run_a, run_note=tuple(notes), device=tuple(found[key] for key in sorted(found)))


def _answers(design: Design, tree: Tree, ohm: FloatArray) -> Iterator[Answer]:
    sources = _sources(design, tree)
    if not sources:
        for run in (*tree.branch[1:].tolist(), *tree.chords.tolist()):
            if run < len(design.runs):
                yield run, math.nan, NO_BATTERY, {}
    elif tree.is_radial and len(sources) == 1:
        yield from _radial(design, tree, ohm, sources[0])
    else:
        yield from _meshed(design, tree, ohm, sources)


def _sources(design: Design, tree: Tree) -> tuple[FaultSource, ...]:
    weak = [weak_battery(design)]
    if design.node_of(STARTER_NODE) >= 0:
        weak.append(weak_starter(design))
    return tuple(source for source in weak if source.node in (tree.root, tree.other_battery))


def _radial(design: Design, tree: Tree, ohm: FloatArray, source: FaultSource) -> Iterator[Answer]:
    path = path_ohm(tree, ohm)
    count = len(design.runs)
    for position in range(1, path.size):
        run = int(tree.branch[position])
        if run >= count:
            continue
        loop_ohm = source.source_ohm + float(path[position])
        fault_a = source.open_v / loop_ohm
        note = said(
            "{open_v:.1f} V (half empty) behind {source_ohm:.2f} mohm of cold battery and {path:.2f} "
            "mohm of hot cable, joints and devices",
            open_v=source.open_v,
            source_ohm=1000.0 * source.source_ohm,
            path=1000.0 * float(path[position]),
        )
        seen: dict[int, float] = {}
        up = position
        while up > 0:
            if tree.branch[up] < count:
                seen[int(tree.branch[up])] = fault_a
            up = int(tree.parent[up])
        yield run, fault_a, note, seen


def _meshed(
    design: Design, tree: Tree, ohm: FloatArray, sources: tuple[FaultSource, ...]
) -> Iterator[Answer]:
    """Yield the smallest over a few conditions of the batteries: a strong one takes its part from the weak one."""
    nets = [fault_net(tree, ohm, case) for case in _cases(design, sources)]
    net = nets[0]
    count = len(design.runs)
    far_ohm = np.diag(net.transfer_ohm)
    branches = net.branch.tolist()
    for index, run in enumerate(branches):
        if run >= count:
            continue
        start, end = net.ends[index].tolist()
        far = end if far_ohm[end] >= far_ohm[start] else start
        faults = [fault_at_position(one, far) for one in nets]
        fault_a = faults[0][0]
        shares = np.abs([branch_a for _, branch_a in faults])
        least, most = shares.min(axis=0), shares.max(axis=0)
        seen = {
            branch: float(least[k])
            for k, branch in enumerate(branches)
            if branch < count and most[k] > LEAST_SHARE_FRAC * fault_a
        }
        note = said(
            "{open_v:.1f} V (half empty) behind {far_ohm:.2f} mohm of cold battery and hot cable, "
            "joints and devices, all ways together: {fault_a:.0f} A in all",
            open_v=net.open_v[far],
            far_ohm=1000.0 * far_ohm[far],
            fault_a=fault_a,
        )
        yield run, fault_a, note, seen


def _cases(design: Design, sources: tuple[FaultSource, ...]) -> tuple[tuple[FaultSource, ...], ...]:
    """Return all batteries weak, and each one weak with the other full and warm."""
    if len(sources) == 1:
        return (sources,)
    first, second = sources
    return (sources, (first, _strong(design, second)), (_strong(design, first), second))


def _strong(design: Design, weak: FaultSource) -> FaultSource:
    """Return the battery of a weak one as strong as it can be: at its stated resistance, at rest after charging."""
    if weak.node == design.node_of(STARTER_NODE):
        full_v = max(design.vehicle.alternator_high_v, weak.open_v)
        return FaultSource(node=weak.node, open_v=full_v, source_ohm=design.vehicle.starter_resistance_ohm)
    placed, part = design.parts[design.battery], design.battery_part()
    return FaultSource(
        node=weak.node,
        open_v=part.charge_v * placed.in_series,
        source_ohm=part.resistance_ohm * placed.in_series / placed.strings,
    )


def _devices(design: Design, tree: Tree, run: int, note: str, seen: dict[int, float]) -> Iterator[FarFault]:
    """Yield what every fuse and breaker on the way sees, those of parallel strings included."""
    for other, current_a in seen.items():
        for device in design.runs[other].devices:
            if isinstance(device.part, Fuse | Breaker):
                yield FarFault(
                    run=run, device_run=other, device=device.id, fault_a=current_a, explanation=note
                )
    placed = design.parts[design.battery]
    node = design.node_of(placed.id)
    if placed.string_device is None or node not in (tree.root, tree.other_battery):
        return
    away = [seen[other] for other in seen if node in (design.runs[other].start, design.runs[other].end)]
    if away and not math.isnan(sum(away)):
        yield FarFault(
            run=run,
            device_run=-1,
            device=said("{part} string", part=placed.id),
            fault_a=sum(away) / placed.strings,
            explanation=said("{note}; shared by {strings} strings", note=note, strings=placed.strings),
        )
