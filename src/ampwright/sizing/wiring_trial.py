"""Other cables in one design: its wiring judged again by every rule, its energy over the use kept."""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Mapping

from ampwright.assessment.circuits import circuits
from ampwright.assessment.ends import parts_at_nodes
from ampwright.assessment.overrides import overridden
from ampwright.assessment.rule import Studies
from ampwright.assessment.rules import RULES
from ampwright.energy.result import EnergyResult
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.job.design_wiring import DesignRun
from ampwright.network.heat import enclosure_heat
from ampwright.network.result import NetworkResult
from ampwright.network.solve import network_result
from ampwright.parts.cable import Cable
from ampwright.parts.protection import Breaker, Fuse
from ampwright.records import record
from ampwright.switching.plan import switch_plan

__all__ = ["Paths", "Trouble", "paths", "rewired", "same_make", "troubles_of", "wiring_findings"]

Trouble = tuple[str, str, Severity]
"""Rule, subject and weight of a finding that is no pass."""
HEAVY = (Severity.FAIL, Severity.CONDITION, Severity.NOT_CHECKED)


@record
class Paths:
    """Which runs lie between a source and each run, node and device."""

    by_run: Mapping[int, tuple[int, ...]]
    """Run and those above it, the run first."""
    by_subject: Mapping[str, tuple[int, ...]]
    """The same by the names findings speak of: runs, nodes, parts, loads, devices."""


def rewired(design: Design, cables: Mapping[int, Cable], devices: Mapping[int, Fuse | Breaker]) -> Design:
    """Return the design with other cables, out and back alike, and other own devices, by index of the run."""
    return dataclasses.replace(design, runs=tuple(_rewired_run(run, cables, devices) for run in design.runs))


def _rewired_run(
    run: DesignRun, cables: Mapping[int, Cable], devices: Mapping[int, Fuse | Breaker]
) -> DesignRun:
    cable, device = cables.get(run.index), devices.get(run.index)
    if cable is not None:
        run = dataclasses.replace(run, cable=cable, back_cable=None if run.back_cable is None else cable)
    if device is not None:
        replaced = False
        kept = []
        for each in run.devices:
            if not replaced and isinstance(each.part, Fuse | Breaker):
                kept.append(dataclasses.replace(each, part=device))
                replaced = True
            else:
                kept.append(each)
        run = dataclasses.replace(run, devices=tuple(kept))
    return run


def wiring_findings(design: Design, energy: EnergyResult, *, on: dt.date) -> tuple[Finding, ...]:
    """Return what wiring and protection find under the overrides of a day, with a neighbouring design's energy."""
    network = network_result(design)
    studies = Studies(
        network=network,
        energy=energy,
        switching=switch_plan(design),
        circuits=circuits(design, network),
        heat=enclosure_heat(design),
        on=on,
    )
    found = [
        finding for rule in RULES if rule.group == Group.WIRING for finding in rule.check(design, studies)
    ]
    held = overridden(found, design.job.override, on=on, rules=RULES)
    return tuple(finding for finding in held if finding.group == Group.WIRING and finding.severity in HEAVY)


def troubles_of(findings: tuple[Finding, ...]) -> frozenset[Trouble]:
    """Return rule, subject and weight of everything of wiring that is neither pass nor advice."""
    return frozenset(
        (f.rule, f.subject, f.severity) for f in findings if f.severity in HEAVY and f.group == Group.WIRING
    )


def paths(design: Design, network: NetworkResult) -> Paths:
    """Return the runs that feed each run and each thing a finding may speak of."""
    found = circuits(design, network).by_run
    into = {circuit.far_node: circuit.run for circuit in found if circuit.root_kind}
    through = {link.end: link.start for link in design.links} | {
        link.start: link.end for link in design.links
    }

    def up(node: int) -> tuple[int, ...]:
        runs: list[int] = []
        seen: set[int] = set()
        while node not in seen:
            seen.add(node)
            run = into.get(node)
            if run is None:
                node = through.get(node, node)
            elif run not in runs:
                runs.append(run)
                node = found[run].feeding_node
        return tuple(runs)

    by_node = {index: up(index) for index in range(len(design.nodes))}
    by_run = {
        circuit.run: tuple(dict.fromkeys((circuit.run, *by_node.get(circuit.feeding_node, ()))))
        for circuit in found
    }
    by_subject: dict[str, tuple[int, ...]] = {}
    for node, placed in parts_at_nodes(design).items():
        by_subject[placed.id] = tuple(dict.fromkeys((*by_subject.get(placed.id, ()), *by_node[node])))
    by_subject |= {name: by_node[index] for index, name in enumerate(design.nodes) if by_node[index]}
    by_subject |= {load.id: by_node[load.node] for load in design.loads if load.node >= 0}
    for port in design.ports:
        by_subject[port.id] = tuple(dict.fromkeys(run for each in port.runs for run in by_run[each]))
    for run in design.runs:
        by_subject[run.id] = by_run[run.index]
        by_subject |= {device.id: by_run[run.index] for device in run.devices}
    return Paths(by_run=by_run, by_subject=by_subject)


def same_make(cable: Cable, present: Cable) -> bool:
    """Tell whether a cable may take another's place: same series and cores, insulation no worse."""
    return (
        cable.system == present.system
        and cable.core_count == present.core_count
        and cable.insulation_degc >= present.insulation_degc
        and cable.short_time_degc >= present.short_time_degc
    )
