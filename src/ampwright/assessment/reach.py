"""What of the wiring hangs together when one piece of it is taken away, and what can feed current there."""

from __future__ import annotations

from ampwright.job.design import Design
from ampwright.job.nodes import SECOND_NODE, STARTER_NODE
from ampwright.parts.charger import AlternatorCharger, MainsCharger, PanelController
from ampwright.parts.converter import Converter
from ampwright.parts.inverter import Inverter
from ampwright.parts.panel import Panel

__all__ = ["feeding_nodes", "reached"]


def reached(
    design: Design,
    start: int,
    *,
    without_runs: frozenset[int] = frozenset(),
    without_links: frozenset[int] = frozenset(),
) -> frozenset[int]:
    """Return the nodes that hang together with one by runs and paths inside parts, itself included."""
    neighbours: list[list[int]] = [[] for _ in design.nodes]
    ways = [(run.start, run.end) for run in design.runs if run.index not in without_runs]
    ways += [(link.start, link.end) for i, link in enumerate(design.links) if i not in without_links]
    for first, second in ways:
        neighbours[first].append(second)
        neighbours[second].append(first)
    found = {start}
    waiting = [start]
    while waiting:
        for other in neighbours[waiting.pop()]:
            if other not in found:
                found.add(other)
                waiting.append(other)
    return frozenset(found)


def feeding_nodes(design: Design) -> dict[int, str]:
    """Return each node that can feed a fault, with the name of what does: batteries, alternators, chargers, panels."""
    found = {design.node_of(design.parts[design.battery].id): design.parts[design.battery].id}
    for name in (STARTER_NODE, SECOND_NODE):
        if design.node_of(name) >= 0:
            found[design.node_of(name)] = name
    for placed in design.parts:
        part = placed.part
        if isinstance(part, AlternatorCharger | Converter | MainsCharger | PanelController):
            found[design.node_of(f"{placed.id}.out")] = placed.id
        elif isinstance(part, Panel) or (isinstance(part, Inverter) and part.charger_max_a > 0.0):
            found[design.node_of(placed.id)] = placed.id
    return found
