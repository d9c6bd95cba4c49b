"""Which source reaches what: connected parts of the wiring, panels per controller, chargers at the battery."""

from __future__ import annotations

from ampwright.job.design import Design, DesignPart
from ampwright.job.joins import relay_joins
from ampwright.job.nodes import SECOND_NODE, STARTER_NODE
from ampwright.parts.charger import AlternatorCharger, MainsCharger, PanelController
from ampwright.parts.inverter import Inverter
from ampwright.parts.panel import Panel
from ampwright.records import record

__all__ = ["SourceMap", "source_map"]


@record
class SourceMap:
    """Wiring as far as the energy needs it."""

    component: tuple[int, ...]
    """(n_nodes,) number of the connected piece each node belongs to; a charger joins nothing, nor does a split-charge relay."""
    panels: tuple[tuple[int, tuple[int, ...]], ...]
    """For each connected panel controller, its part and the parts of its panels."""
    chargers: tuple[int, ...]
    """Parts of alternator and mains chargers, and inverters with a charger, that reach the battery."""
    unconnected: tuple[int, ...]
    """Parts of panels and chargers that give nothing for want of a connection."""

    def is_together(self, node: int, other: int) -> bool:
        """Return whether two nodes hang together; a node that does not exist hangs with nothing."""
        return node >= 0 and other >= 0 and self.component[node] == self.component[other]


def source_map(design: Design) -> SourceMap:
    """Trace the runs and the paths inside parts."""
    component = _components(design)
    found = SourceMap(component=component, panels=(), chargers=(), unconnected=())
    battery = design.node_of(design.parts[design.battery].id)
    starter = design.node_of(STARTER_NODE)
    panels: list[tuple[int, tuple[int, ...]]] = []
    chargers: list[int] = []
    used: set[int] = set()
    for placed in design.parts:
        part = placed.part
        if isinstance(part, PanelController):
            mine = _panels_at(design, found, placed)
            if mine and found.is_together(design.node_of(f"{placed.id}.out"), battery):
                panels.append((placed.index, mine))
                used.update(mine, [placed.index])
        elif _is_charger(placed) and _reaches(design, found, placed, battery, starter):
            chargers.append(placed.index)
            used.add(placed.index)
    givers = [
        placed.index
        for placed in design.parts
        if isinstance(placed.part, Panel | PanelController) or _is_charger(placed)
    ]
    return SourceMap(
        component=component,
        panels=tuple(panels),
        chargers=tuple(chargers),
        unconnected=tuple(index for index in givers if index not in used),
    )


def _components(design: Design) -> tuple[int, ...]:
    parent = list(range(len(design.nodes)))

    def root(node: int) -> int:
        while parent[node] != node:
            parent[node] = parent[parent[node]]
            node = parent[node]
        return node

    edges = [(run.start, run.end) for run in design.runs]
    relays = {join.link for join in relay_joins(design)}
    edges += [(link.start, link.end) for index, link in enumerate(design.links) if index not in relays]
    for start, end in edges:
        parent[root(start)] = root(end)
    return tuple(root(node) for node in range(len(parent)))


def _is_charger(placed: DesignPart) -> bool:
    part = placed.part
    return isinstance(part, AlternatorCharger | MainsCharger) or (
        isinstance(part, Inverter) and part.charger_max_a > 0.0
    )


def _panels_at(design: Design, wiring: SourceMap, controller: DesignPart) -> tuple[int, ...]:
    inlet = design.node_of(f"{controller.id}.in")
    return tuple(
        placed.index
        for placed, _ in design.placed(Panel)
        if wiring.is_together(design.node_of(placed.id), inlet)
    )


def _reaches(design: Design, wiring: SourceMap, placed: DesignPart, battery: int, starter: int) -> bool:
    if isinstance(placed.part, Inverter):
        return wiring.is_together(design.node_of(placed.id), battery)
    inlet = design.node_of(f"{placed.id}.in")
    engine = (starter, design.node_of(SECOND_NODE))
    is_fed = isinstance(placed.part, MainsCharger) or any(wiring.is_together(inlet, node) for node in engine)
    return is_fed and wiring.is_together(design.node_of(f"{placed.id}.out"), battery)
