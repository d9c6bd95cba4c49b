"""What the two ends of each cable run, and the devices and plugs in it, are put on."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.job.design import Design, DesignPart
from ampwright.job.design_wiring import DesignRun
from ampwright.parts.base import TerminalForm
from ampwright.parts.kinds import Part
from ampwright.parts.switchgear import OutputModule
from ampwright.records import record
from ampwright.said import said

__all__ = ["CableEnd", "cable_ends", "parts_at_nodes"]


@record
class CableEnd:
    """One place where a run's conductors are connected."""

    where: str
    """Part or device in words, e.g. "charger.in" or "fuse F1"."""
    part: Part
    """Catalogue record of what it is connected to."""
    node: int
    """Index of the node; -1 for a device or plug in the run."""
    form: TerminalForm
    """What the conductor is put on; "" = not said."""
    min_mm2: float
    """Smallest conductor of a clamp, blade or lead."""
    max_mm2: float
    """Largest conductor of a clamp, blade or lead."""
    ambient_degc: float
    """Hottest air around it."""


def parts_at_nodes(design: Design) -> dict[int, DesignPart]:
    """Return the placed part behind each node that has one."""
    found: dict[int, DesignPart] = {}
    by_id = {placed.id: placed for placed in design.parts}
    for index, name in enumerate(design.nodes):
        placed = by_id.get(name) or by_id.get(name.rpartition(".")[0])
        if placed is not None:
            found[index] = placed
    return found


def cable_ends(design: Design, run: DesignRun, at_nodes: dict[int, DesignPart]) -> Iterator[CableEnd]:
    """Yield every part, device and plug a run's conductors are connected to; loads have leads of their own."""
    for node in (run.start, run.end):
        placed = at_nodes.get(node)
        if placed is not None:
            yield _end_at_part(design, run, node, placed)
    for device in run.devices:
        yield _end(device.part, said("device {device}", device=device.id), run)
    for plug in run.plugs:
        yield _end(plug, said("plug {plug}", plug=plug.id), run)


def _end(part: Part, where: str, run: DesignRun) -> CableEnd:
    return CableEnd(
        where=where,
        part=part,
        node=-1,
        form=part.terminal,
        min_mm2=part.terminal_min_mm2,
        max_mm2=part.terminal_max_mm2,
        ambient_degc=run.ambient_max_degc,
    )


def _end_at_part(design: Design, run: DesignRun, node: int, placed: DesignPart) -> CableEnd:
    part = placed.part
    form, min_mm2, max_mm2 = part.terminal, part.terminal_min_mm2, part.terminal_max_mm2
    if isinstance(part, OutputModule) and design.nodes[node] != f"{placed.id}.in":
        form = "clamp" if part.channel_max_mm2 > 0.0 else ""
        min_mm2, max_mm2 = part.channel_min_mm2, part.channel_max_mm2
    return CableEnd(
        where=design.nodes[node],
        part=part,
        node=node,
        form=form,
        min_mm2=min_mm2,
        max_mm2=max_mm2,
        ambient_degc=placed.zone.ambient_max_degc if placed.zone is not None else run.ambient_max_degc,
    )
