"""Rule on the current sensor: what joins the battery before it is counted by nobody."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ampwright.assessment.reach import feeding_nodes, reached
from ampwright.assessment.rule import Rule, Studies
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.parts.base import SuppliedPart
from ampwright.parts.hardware import Outlet
from ampwright.parts.switchgear import Sensor
from ampwright.said import said, said_together
from ampwright.sources import COMMON_PRACTICE

__all__ = ["CURRENT_SENSOR"]


def _current_sensor(design: Design, _: Studies) -> Iterator[Finding]:
    battery = design.node_of(design.parts[design.battery].id)
    everything = reached(design, battery)
    links = {
        index: link
        for index, link in enumerate(design.links)
        if isinstance(design.parts[link.part].part, Sensor) and {link.start, link.end} <= everything
    }
    if not links:
        return
    before = reached(design, battery, without_links=frozenset(links))
    make = partial(Finding, rule="current-sensor", group=Group.USE, source=COMMON_PRACTICE)
    names = sorted({design.parts[link.part].id for link in links.values()})
    for link in links.values():
        if link.end in before and link.start not in before:
            name = design.parts[link.part].id
            yield make(
                severity=Severity.CONDITION,
                subject=name,
                message=said(
                    "{name} is the wrong way round: its load side faces the battery, so it counts charge as "
                    "discharge.",
                    name=name,
                ),
                way_out=said("Exchange its two ends."),
            )
    missed = _appliances(design, before)
    missed += _metal_ways(design, before)
    if not missed:
        yield make(
            severity=Severity.PASS,
            subject=names[0],
            message=said(
                "{names} count all that goes into the battery and out of it, its own heater and "
                "management not included.",
                names=said_together(names, between=", "),
            ),
        )
        return
    counted = _appliances(design, everything - before)
    is_monitor = len(counted) >= len(missed)
    yield make(
        severity=Severity.CONDITION if is_monitor else Severity.ADVICE,
        subject=names[0],
        message=said(
            "{names} do not count {missed}",
            names=said_together(names, between=", "),
            missed=said_together(missed, between="; "),
        )
        + (
            said(": the charge shown drifts from the charge there is.")
            if is_monitor
            else said("; they are no measure of charge.")
        ),
        way_out=said("Join both leads of each on the load side of the sensor."),
    )


def _appliances(design: Design, nodes: frozenset[int]) -> list[str]:
    """Return what takes or gives current at some nodes, each with the run that brings it there."""
    feeds = feeding_nodes(design)
    battery = design.parts[design.battery].id
    found: dict[str, int] = {}
    for load in design.loads:
        if load.node in nodes:
            found[load.id] = load.node
    for placed in design.parts:
        if isinstance(placed.part, Sensor | Outlet) or not isinstance(placed.part, SuppliedPart):
            continue
        for name in (placed.id, f"{placed.id}.in", f"{placed.id}.out"):
            if design.node_of(name) in nodes:
                found.setdefault(placed.id, design.node_of(name))
    for node, name in feeds.items():
        if node in nodes and name != battery:
            found.setdefault(name, node)
    return [said("{name}{run}", name=name, run=_by_run(design, node)) for name, node in found.items()]


def _by_run(design: Design, node: int) -> str:
    runs = [run.id for run in design.runs if node in {run.start, run.end}]
    return said(" (run {runs})", runs=said_together(runs, between=", ")) if runs else ""


def _metal_ways(design: Design, before: frozenset[int]) -> list[str]:
    """Return what comes back through metal to a tie that sits before the sensor."""
    tied = {bond.metal for bond in design.bonds if bond.node in before}
    return [
        said("what returns through the metal to the tie before the sensor (run {run})", run=run.id)
        for run in design.runs
        if run.back_cable is None and run.part_of in tied and run.start not in before
    ]


CURRENT_SENSOR = Rule(
    name="current-sensor",
    group=Group.USE,
    asks="Does the battery's current sensor count all that goes in and out?",
    check=_current_sensor,
)
