"""Runs, devices and lengths in words, as schedule and labels print them."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.assessment.ends import parts_at_nodes
from ampwright.documents.cabling.pieces import supplier
from ampwright.documents.quantity_text import UNIT_SPACE, UnitSystem, customary
from ampwright.documents.words.words import Words, noted
from ampwright.job.design import Design
from ampwright.job.design_wiring import DesignDevice, DesignRun
from ampwright.parts.cable import Cable
from ampwright.parts.protection import Breaker, Fuse

__all__ = [
    "OWNERS",
    "cable_size_text",
    "device_text",
    "family_text",
    "length_text",
    "run_details",
    "run_purpose",
    "written_ends",
]

OWNERS = {
    "workshop": noted("the workshop"),
    "customer": noted("the customer"),
    "vehicle": noted("the vehicle has it"),
    "electrician": noted("the licensed electrician"),
}
FAMILIES = {
    "iso-8820-3-c": noted("blade, ISO 8820-3 type C"),
    "iso-8820-3-e": noted("large blade, ISO 8820-3 type E"),
    "iso-8820-3-f": noted("miniature blade, ISO 8820-3 type F"),
    "iso-8820-5-sf30": noted("bolt-in, ISO 8820-5 SF30"),
    "iso-8820-5-sf51": noted("bolt-in, ISO 8820-5 SF51"),
    "ul-248-15-t": noted("UL 248-15 class T"),
    "iec-60269-6-gpv": noted("cylindrical for panels, IEC 60269-6 gPV"),
}
SORTS = {
    "thermal": noted("thermal breaker"),
    "hydraulic-magnetic": noted("hydraulic-magnetic breaker"),
    "thermal-magnetic": noted("thermal-magnetic breaker"),
}


def length_text(length_m: float | None, words: Words, *, units: UnitSystem) -> str:
    """Return a length to the centimetre, feet beside it where asked.

    Examples
    --------
    >>> from ampwright.documents.words.words import english
    >>> length_text(4.8, english(), units="us").replace(UNIT_SPACE, " ")
    '4.80 m (15.7 ft)'
    """
    if length_m is None:
        return words("measure it")
    text = f"{length_m:.2f}{UNIT_SPACE}m"
    beside = customary(length_m, "m") if units == "us" else ""
    return words.decimal(f"{text} ({beside})" if beside else text)


def cable_size_text(cable: Cable, words: Words, *, units: UnitSystem) -> str:
    """Return the area of a conductor, its gauge beside it where asked."""
    text = f"{cable.area_mm2:g}{UNIT_SPACE}mm²"
    cores = f"{cable.core_count} × " if cable.core_count > 1 else ""
    beside = customary(cable.area_mm2, "mm²") if units == "us" else ""
    return words.decimal(f"{cores}{text} ({beside})" if beside else f"{cores}{text}")


def family_text(device: DesignDevice, words: Words) -> str:
    """Return what sort of device it is."""
    if isinstance(device.part, Fuse):
        return words(FAMILIES[device.part.family])
    return words(SORTS[device.part.principle]) if isinstance(device.part, Breaker) else words("isolator")


def device_text(device: DesignDevice, words: Words) -> str:
    """Return label, rating and sort of a device."""
    return words.decimal(f"{device.id}: {device.part.rating_a:g}{UNIT_SPACE}A, {family_text(device, words)}")


def written_ends(design: Design, run: DesignRun) -> tuple[str, str]:
    """Return start and end as the job has them: the module's port, not what lies behind it."""
    written = next((each for each in design.job.run if each.id == run.id), None)
    if written is None or run.is_inside_module:
        return design.nodes[run.start], design.nodes[run.end]
    return written.start, written.end


def run_purpose(design: Design, run: DesignRun) -> str:
    """Return what a run leads to: the channel's legend, the load's or the part's name."""
    for node in (run.start, run.end):
        channel = next((each for each in design.channels if each.node == node), None)
        if channel is not None:
            return channel.name
    name = design.nodes[run.end]
    loads = [load.name for load in design.loads if load.node == run.end]
    placed = parts_at_nodes(design).get(run.end)
    if placed is not None:
        return placed.part.name
    return ", ".join(loads) or name


def run_details(design: Design, run: DesignRun, words: Words, *, units: UnitSystem) -> Iterator[str]:
    """Yield what holds for a whole run: devices, way, plugs, return, who supplies it."""
    start, end = written_ends(design, run)
    for device in run.devices:
        near = start if device.end == "from" else end
        away = length_text(device.distance_m, words, units=units)
        yield words("{device}, {away} from {node}", device=device_text(device, words), away=away, node=near)
    for plug in run.plugs:
        yield words("plug in it: {plug}", plug=plug.name)
    if run.zones:
        yield words("through {zones}", zones=", ".join(zone.id for zone in run.zones))
    if run.is_sheathed:
        yield words("in a common sheath all the way")
    if run.back_cable is None:
        yield words(
            "returns by the metal: lead its negative at either end to a clean bolt nearby, by a cable as thick"
        )
    owner = supplier(design, run)
    if owner != "workshop":
        yield words("supplied by {owner}", owner=words(OWNERS[owner]))
