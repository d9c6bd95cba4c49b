"""Sections on the work itself: whose it is, tools, what stays closed, cables and joints."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.assessment.ends import cable_ends, parts_at_nodes
from ampwright.assessment.mains_side import has_mains
from ampwright.assessment.wording import cable_text, length_text
from ampwright.documents.cautions import hazards
from ampwright.documents.pack.records import Material
from ampwright.documents.quantity_text import UNIT_SPACE, customary
from ampwright.documents.sheet.sections import TICK, Section, Table
from ampwright.documents.words.words import noted
from ampwright.job.design_wiring import DesignRun
from ampwright.job.nodes import STARTER_NODE
from ampwright.parts.base import PartBase
from ampwright.parts.protection import Breaker, Fuse
from ampwright.standards.din_46235.lugs import lug_for

__all__ = [
    "caution_section",
    "closed_section",
    "end_text",
    "owner_section",
    "route_sections",
    "tool_section",
    "torque_text",
]

OWNERS = {
    "workshop": noted("workshop: supplies it; fits it, or hands it to the installer"),
    "customer": noted("customer: supplies it; check that it is the part that was planned"),
    "vehicle": noted("vehicle: is there already; leave it as it is"),
    "electrician": noted("licensed electrician: supplies, fits, connects and tests it; nobody else"),
}
DRILLING = noted(
    "Before drilling: look behind. Fuel and brake lines, wiring, airbags and the high-voltage cables of electric drives lie where nobody "
    "expects them. Vehicle makers name points that must not be drilled."
)


def caution_section(material: Material) -> Section:
    """Return the hazards of this job."""
    words = material.words
    return Section(title=words("What can hurt"), cautions=(*hazards(material.design, words), words(DRILLING)))


def owner_section(material: Material) -> Section:
    """Return what belongs to whom."""
    words, design = material.words, material.design
    rows = []
    for owner, said in OWNERS.items():
        ids = [placed.id for placed in design.parts if placed.owner == owner and not placed.is_inside_module]
        if ids:
            rows.append((words(said), ", ".join(ids)))
    module = design.job.module
    if module is not None:
        rows.insert(
            0,
            (
                words("power module, built and tested before"),
                words("{module}, everything inside it", module=module.id),
            ),
        )
    if has_mains(design):
        rows.append(
            (words(OWNERS["electrician"]), words("everything at mains voltage: see the electrician's sheet"))
        )
    return Section(
        title=words("What belongs to whom"),
        table=Table(heads=(words("whose"), words("what")), width_factor=(1.0, 1.6), rows=tuple(rows)),
    )


def closed_section(material: Material) -> Section:
    """Return what is not opened."""
    words, design = material.words, material.design
    notes = []
    if design.job.module is not None and design.module is not None:
        serial = design.job.module.serial or words("not written down")
        certificate = design.module.certificate or words("none named; it stays closed all the same")
        notes.append(
            words(
                "Power module {name}, revision {revision}, serial {serial}: work ends at its ports. What is inside belongs to its maker and "
                "to its certificate ({certificate}). An opened module is outside it.",
                name=design.module.name,
                revision=design.module.revision,
                serial=serial,
                certificate=certificate,
            )
        )
    if has_mains(design):
        notes.append(
            words(
                "Anything at mains voltage: inlet, mains charger's input, inverter's output, sockets. {licensed}",
                licensed=words(design.region.licensed_words),
            )
        )
    notes.append(
        words(
            "The battery's case and its management, chargers, controllers and output modules: nothing in them is for the fitter."
        )
    )
    notes.append(words("The vehicle's own wiring, but for the points named in the list of cables."))
    return Section(title=words("Do not open"), notes=tuple(notes))


def tool_section(material: Material) -> Section:
    """Return tools, from what is crimped and screwed in this job."""
    words, design = material.words, material.design
    outside = [run for run in design.runs if not run.is_inside_module]
    studs = sorted({placed.part.stud_mm for placed in design.parts if placed.part.stud_mm > 0.0})
    barrels = sorted({lug.barrel_mm2 for run in outside if (lug := lug_for(run.cable.area_mm2)) is not None})
    notes = [
        words(
            "Multimeter with fresh battery, clamp meter for direct current, 5 W lamp of the system's voltage with two clips."
        ),
        words(
            "Insulated spanners and screwdrivers; covers for the battery's posts. Rings and watches off, glasses on."
        ),
        words(
            "Torque wrench for {studs}. Torque by the list of cables; where it says so, by the manual of the part.",
            studs=", ".join(f"M{stud:g}" for stud in studs) if studs else words("the screws of the parts"),
        ),
        words(
            "Crimp tool with the right die for {sizes}: a lug that turns or pulls out by hand is cut off and done again. Never solder "
            "in place of crimping.",
            sizes=", ".join(f"{area:g}{UNIT_SPACE}mm²" for area in barrels)
            if barrels
            else words("the cables"),
        ),
        words(
            "Grommets, edge protection, sleeves and clips: a cable that moves or touches an edge wears through."
        ),
        words(
            "Labels with the names of this pack on both ends of every cable. Fire extinguisher within reach."
        ),
    ]
    return Section(title=words("Tools and material"), notes=tuple(notes))


def route_sections(material: Material) -> Iterator[Section]:
    """Yield the list of cables: route, size, device, joint at either end."""
    words, design = material.words, material.design
    runs = [run for run in design.runs if not run.is_inside_module]
    if not runs:
        return
    region = design.region
    yield Section(
        title=words("Cables: routes and joints"),
        text=(
            words(
                "Plus is {plus}, minus {minus}; where a part's own leads differ, its manual and the meter decide. A lug 50-8 is one for 50 mm² with a hole for M8. Pull a light tug on every joint. "
                "Mark each nut with a line of paint once it is at its torque.",
                plus=region.positive_colour,
                minus=region.negative_colour,
            ),
        ),
        table=Table(
            heads=(
                words("cable"),
                words("from, joint"),
                words("to, joint"),
                words("size, length one way"),
                words("through"),
                words("device"),
                words("ok"),
            ),
            width_factor=(0.7, 1.5, 1.5, 1.25, 1.2, 1.6, -6.0),
            rows=tuple(_route_row(material, run) for run in runs),
        ),
    )


def _route_row(material: Material, run: DesignRun) -> tuple[str, ...]:
    words, design = material.words, material.design
    back = words("return by the chassis") if run.back_cable is None else words("two conductors")
    size = f"{cable_text(run.cable)}, {length_text(design, run.length_m)}, {back}"
    zones = ", ".join(zone.id for zone in run.zones) or words("not said")
    return (
        run.id,
        f"{design.nodes[run.start]}: {end_text(material, run, run.start)}",
        f"{design.nodes[run.end]}: {end_text(material, run, run.end)}",
        size,
        zones,
        _device_text(material, run),
        TICK,
    )


def _device_text(material: Material, run: DesignRun) -> str:
    words, design = material.words, material.design
    found = []
    for device in run.devices:
        near = design.nodes[run.start if device.end == "from" else run.end]
        rating = getattr(device.part, "rating_a", None)
        kind = {"fuse": words("fuse"), "breaker": words("breaker"), "isolator": words("isolator")}[
            device.part.kind
        ]
        torque = f", {torque_text(material, device.part)}" if device.part.terminal == "stud" else ""
        found.append(
            words(
                "{id}: {kind} {rating} A, {distance} from {node}",
                id=device.id,
                kind=kind,
                rating=f"{rating:g}",
                distance=length_text(design, device.distance_m),
                node=near,
            )
            + torque
        )
    if not any(isinstance(device.part, Fuse | Breaker) for device in run.devices):
        limit = next((each.limit_a for each in design.channels if each.node == run.start), None)
        found.append(
            words("none: limited by {node}, {limit} A", node=design.nodes[run.start], limit=f"{limit:g}")
            if limit is not None
            else words("none of its own")
        )
    return "; ".join(found)


def end_text(material: Material, run: DesignRun, node: int) -> str:
    """Return how a cable is joined to a node: lug and stud, clamp, torque."""
    words, design = material.words, material.design
    if design.nodes[node] == STARTER_NODE:
        return words("as the vehicle's handbook says")
    ends = cable_ends(design, run, parts_at_nodes(design))
    end = next((each for each in ends if each.node == node), None)
    if end is None:
        return words("as its manual says")
    torque = torque_text(material, end.part)
    if end.form == "stud":
        lug = lug_for(run.cable.area_mm2)
        joint = f"{lug.barrel_mm2:g}-{end.part.stud_mm:g}" if lug is not None else f"M{end.part.stud_mm:g}"
        return words("lug {joint}, {torque}", joint=joint, torque=torque)
    if end.form == "clamp":
        return words("clamp, {torque}", torque=torque)
    return words("its own leads or plug: see its manual") if end.form in {"blade", "lead"} else torque


def torque_text(material: Material, part: PartBase) -> str:
    """Return the torque of a part's terminals, or where it stands."""
    words = material.words
    if part.terminal_nm <= 0.0:
        return words("torque: see its manual")
    text = f"{part.terminal_nm:g}{UNIT_SPACE}N·m"
    beside = customary(part.terminal_nm, "N·m") if material.about.units == "us" else ""
    return words.decimal(f"{text} ({beside})" if beside else text)
