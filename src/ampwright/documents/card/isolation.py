"""What can keep a system live, where each source sits, and what takes it off.

Read from the design alone. What is switched off with a source is not judged here; the order of printing is that in which
somebody without tools can act.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from ampwright.assessment.reach import reached
from ampwright.documents.words.words import Words, noted
from ampwright.job.design import Design, DesignPart
from ampwright.job.nodes import SECOND_NODE, STARTER_NODE
from ampwright.parts.battery import Battery
from ampwright.parts.hardware import BusBar, Inlet
from ampwright.parts.inverter import Inverter
from ampwright.parts.panel import Panel
from ampwright.parts.protection import Breaker, Isolator
from ampwright.parts.switchgear import Sensor
from ampwright.records import record

__all__ = ["LiveSource", "live_sources", "place_of"]

Sort = Literal["battery", "starter", "second", "panel", "mains", "inverter"]
NAMES: dict[Sort, str] = {
    "battery": noted("Auxiliary battery"),
    "starter": noted("Vehicle's own battery and alternator"),
    "second": noted("Second alternator"),
    "panel": noted("Solar panels: live whenever light falls on them"),
    "mains": noted("Mains inlet"),
    "inverter": noted("Inverter: mains voltage at its outlets while it runs, also without a lead"),
}
ZONE_KINDS = {
    "cabin": noted("in the cabin"),
    "body": noted("in the body"),
    "locker": noted("in a locker"),
    "engine": noted("in the engine space"),
    "roof": noted("on the roof"),
    "outside": noted("outside"),
    "underbody": noted("under the body"),
}


@record
class LiveSource:
    """One source and how it is taken off."""

    id: str
    """Its name in the job."""
    sort: Sort
    """What sort of source it is."""
    name: str
    """The same in words."""
    place: str
    """Where it is; empty = not said."""
    switches: tuple[str, ...]
    """Hand switches that cut it off, each with its place."""


def live_sources(design: Design, words: Words) -> tuple[LiveSource, ...]:
    """Return every source, the auxiliary battery first."""
    found = sorted(_sources(design, words), key=lambda each: list(NAMES).index(each.sort))
    return tuple(found)


def _sources(design: Design, words: Words) -> Iterator[LiveSource]:
    vehicle: tuple[tuple[str, Sort], ...] = ((STARTER_NODE, "starter"), (SECOND_NODE, "second"))
    for name, sort in vehicle:
        node = design.node_of(name)
        if node >= 0 and any(node in (run.start, run.end) for run in design.runs):
            yield LiveSource(
                id=name,
                sort=sort,
                name=words(NAMES[sort]),
                place=words("in the vehicle"),
                switches=_switches(design, node, words),
            )
    for placed in design.parts:
        kind = _sort(placed)
        if kind is not None:
            node = design.node_of(placed.id)
            yield LiveSource(
                id=placed.id,
                sort=kind,
                name=words(NAMES[kind]),
                place=place_of(placed, words),
                switches=_switches(design, node, words) if node >= 0 and kind != "inverter" else (),
            )


def _switches(design: Design, node: int, words: Words) -> tuple[str, ...]:
    """Return what a hand can open so that nothing is fed from a node: isolators before breakers."""
    users = _users(design)
    found: list[tuple[bool, str]] = []
    for run in design.runs:
        hands = [device for device in run.devices if isinstance(device.part, Isolator | Breaker)]
        if not hands or users & reached(design, node, without_runs=frozenset({run.index})):
            continue
        for device in hands:
            near = design.nodes[run.start if device.end == "from" else run.end]
            text = words("{switch} at {node} (cable {run})", switch=device.id, node=near, run=run.id)
            found.append((isinstance(device.part, Breaker), text))
    return tuple(text for _, text in sorted(found))


def _users(design: Design) -> frozenset[int]:
    """Return the nodes that something is fed from: all but sources, bus bars and current sensors."""
    idle = {node for placed in design.parts if _passes(placed) for node in design.nodes_of(placed)}
    idle |= {design.node_of(name) for name in (STARTER_NODE, SECOND_NODE)}
    idle |= {design.node_of(placed.id) for placed in design.parts if isinstance(placed.part, Battery | Panel)}
    return frozenset(range(len(design.nodes))) - idle


def _passes(placed: DesignPart) -> bool:
    part = placed.part
    return isinstance(part, BusBar) or (isinstance(part, Sensor) and part.senses == "current")


def _sort(placed: DesignPart) -> Sort | None:
    if isinstance(placed.part, Battery):
        return "battery"
    if isinstance(placed.part, Panel):
        return "panel"
    if isinstance(placed.part, Inlet):
        return "mains"
    return "inverter" if isinstance(placed.part, Inverter) else None


def place_of(placed: DesignPart, words: Words) -> str:
    """Return where a part is, in words; empty where the job does not say."""
    if placed.zone is None:
        return ""
    return f"{placed.zone.id}, {words(ZONE_KINDS[placed.zone.kind])}"
