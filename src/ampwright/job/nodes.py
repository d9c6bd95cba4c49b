"""Electrical nodes of a design, and the current paths inside parts."""

from __future__ import annotations

from ampwright.job.module import ModulePort
from ampwright.job.records import Job
from ampwright.parts.battery import Battery
from ampwright.parts.charger import AlternatorCharger, MainsCharger, PanelController
from ampwright.parts.converter import Converter
from ampwright.parts.hardware import BusBar, Outlet
from ampwright.parts.inverter import Inverter
from ampwright.parts.kinds import Part
from ampwright.parts.panel import Panel
from ampwright.parts.relay import Relay
from ampwright.parts.switchgear import ButtonPanel, OutputModule, Remote, Sensor
from ampwright.records import record

__all__ = ["MIDDLE", "SECOND_NODE", "STARTER_NODE", "NodeTable", "node_table", "terminals"]

STARTER_NODE = "starter-battery"
SECOND_NODE = "second-alternator"
MIDDLE = ".middle"
"""Ending of the joint between two batteries in series."""
ONE_TERMINAL = (Battery, BusBar, ButtonPanel, Inverter, Panel, Remote)
TWO_TERMINALS = (AlternatorCharger, Converter, PanelController, Relay)


@record
class NodeTable:
    """Names of nodes and of their aliases."""

    names: tuple[str, ...]
    """Names by index."""
    index: dict[str, int]
    """Index by name or alias."""


def terminals(part: Part) -> tuple[str, ...]:
    """Return the endings of a part's node names; empty for a part without a DC terminal.

    An output module has ".in" and one node per channel; a current sensor ".in" and ".out".
    """
    if isinstance(part, OutputModule):
        numbers = sorted({n for group in part.outputs for n in range(group.first, group.last + 1)})
        return (".in", *(f".{number}" for number in numbers))
    if isinstance(part, Sensor):
        return (".in", ".out") if part.senses == "current" else ("",)
    if isinstance(part, TWO_TERMINALS):
        return (".in", ".out")
    if isinstance(part, MainsCharger):
        return (".out",)
    if isinstance(part, ONE_TERMINAL) or (isinstance(part, Outlet) and part.supply == "dc"):
        return ("",)
    return ()


def node_table(job: Job, parts: tuple[tuple[str, Part], ...], ports: tuple[ModulePort, ...]) -> NodeTable:
    """Return all nodes of a job: starter battery, terminals of parts, DC loads, middles that are used, module ports."""
    names: list[str] = []
    if job.vehicle.starter_battery is not None:
        names.append(STARTER_NODE)
    second = job.vehicle.second_alternator
    if second is not None and second.feeds == "auxiliary":
        names.append(SECOND_NODE)
    for name, part in parts:
        names += [f"{name}{ending}" for ending in terminals(part)]
    names += [load.id for load in job.load if not load.through and not load.at]
    names += _middles(job)
    index: dict[str, int] = {}
    for position, name in enumerate(names):
        index.setdefault(name, position)
    for port in ports:
        if port.node in index:
            index.setdefault(port.id, index[port.node])
    return NodeTable(names=tuple(names), index=index)


def _middles(job: Job) -> list[str]:
    """Return the joints inside batteries in series that something is wired to: never right, yet to be found."""
    series = [part.id for part in job.part if part.in_series == 2]
    if job.vehicle.starter_battery is not None and job.vehicle.system_v == 24:
        series.append(STARTER_NODE)
    used = {end for run in job.run for end in (run.start, run.end)} | {load.at for load in job.load}
    return [f"{name}{MIDDLE}" for name in series if f"{name}{MIDDLE}" in used]
