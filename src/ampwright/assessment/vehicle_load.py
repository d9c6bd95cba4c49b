"""Rules on mass: what places, roof and axles carry, and what clearance stays under the body."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.assessment.added_mass import AddedMass, added_mass, item_mass_kg
from ampwright.assessment.items import Item, module_mass_kg, placed_items
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import mass_text, named, size_text
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.job.design_zone import DesignZone
from ampwright.job.fit import VehicleMass
from ampwright.job.quantity import known_value, likely_value
from ampwright.said import capital, said
from ampwright.sources import Source

__all__ = ["AXLE_LOAD", "GROUND_CLEARANCE", "PLACE_LOAD"]

USE = Group.USE
DECLARED = Source(document="job file", place="masses and limits of the vehicle")


def _place_load(design: Design, _: Studies) -> Iterator[Finding]:
    items = placed_items(design)
    for zone in design.zones:
        limit_kg = known_value(zone.written.load_limit_kg)
        if limit_kg is not None:
            yield _carries(design, zone.id, _mass_in(design, zone, items), limit_kg, said("its limit"))
    roofs = [zone for zone in design.zones if zone.kind == "roof"]
    load_kg = sum(_mass_in(design, zone, items) for zone in roofs)
    if load_kg == 0.0:
        return
    written = design.job.vehicle.mass or VehicleMass()
    subject = roofs[0].id
    cases = (
        (written.roof_limit_kg, written.roof_other_kg, said("the limit while driving")),
        (written.roof_parked_limit_kg, written.roof_parked_other_kg, said("the limit at a stand")),
    )
    for limit, other, what in cases:
        if limit is not None:
            yield _carries(design, subject, load_kg + likely_value(other), likely_value(limit), what)
    if written.roof_limit_kg is None:
        yield Finding(
            rule="place-load",
            group=USE,
            severity=Severity.NOT_CHECKED,
            subject=subject,
            message=said(
                "The roof gets {mass} of panels and mounts; what it may carry while driving is not said.",
                mass=mass_text(design, load_kg),
            ),
            way_out=said("Read the roof load in the vehicle's handbook, and say what else is on the roof."),
        )


def _mass_in(design: Design, zone: DesignZone, items: tuple[Item, ...]) -> float:
    """Return the mass in a place, the power module as one."""
    mass_kg = sum(item_mass_kg(item) for item in items if item.is_in(zone) and not item.is_inside_module)
    use = design.job.module
    is_here = use is not None and use.zone == zone.id
    return mass_kg + ((module_mass_kg(design) or 0.0) if is_here else 0.0)


def _carries(design: Design, subject: str, mass_kg: float, limit_kg: float, what: str) -> Finding:
    is_over = mass_kg > limit_kg
    return Finding(
        rule="place-load",
        group=USE,
        severity=Severity.FAIL if is_over else Severity.PASS,
        subject=subject,
        value=mass_kg,
        limit=limit_kg,
        unit="kg",
        source=DECLARED,
        message=said(
            "{subject} carries {mass}; {what} is {mass_2}.",
            subject=subject,
            mass=mass_text(design, mass_kg),
            what=what,
            mass_2=mass_text(design, limit_kg),
        ),
        way_out=said("Use lighter parts, or move some elsewhere.") if is_over else "",
    )


def _axle_load(design: Design, _: Studies) -> Iterator[Finding]:
    written = design.job.vehicle.mass or VehicleMass()
    found = added_mass(design)
    is_trailer = design.job.vehicle.fuel == "none" and not design.vehicle.has_alternator
    front, rear = (
        ("coupling", said("trailer axles")) if is_trailer else (said("front axle"), said("rear axle"))
    )
    cases = (
        (said("gross mass"), found.gross_kg, known_value(written.gross_limit_kg)),
        (front, found.front_kg, known_value(written.front_limit_kg)),
        (rear, found.rear_kg, known_value(written.rear_limit_kg)),
    )
    for subject, load_kg, limit_kg in cases:
        if load_kg is not None and limit_kg is not None:
            yield _axle(design, subject, load_kg, limit_kg)
    missing = list(_missing(written, found))
    if missing:
        yield Finding(
            rule="axle-load",
            group=USE,
            severity=Severity.NOT_CHECKED,
            subject=design.job.job.id,
            message=said(
                "This system adds {mass}. Axle loads and gross mass are not fully known: not said is "
                "{named}.",
                mass=mass_text(design, found.added_kg),
                named=named(missing, most=6),
            ),
            way_out=said("Weigh each axle, and read the limits on the vehicle's plate."),
        )


def _axle(design: Design, subject: str, load_kg: float, limit_kg: float) -> Finding:
    is_over = load_kg > limit_kg
    return Finding(
        rule="axle-load",
        group=USE,
        severity=Severity.FAIL if is_over else Severity.PASS,
        subject=subject,
        value=load_kg,
        limit=limit_kg,
        unit="kg",
        source=DECLARED,
        message=said(
            "{axle}: {mass} of {mass_2}. Left and right are taken as equal.",
            axle=capital(subject),
            mass=mass_text(design, load_kg),
            mass_2=mass_text(design, limit_kg),
        ),
        way_out=said("Move heavy parts away from that axle, use lighter ones, or carry less.")
        if is_over
        else "",
    )


def _missing(written: VehicleMass, found: AddedMass) -> Iterator[str]:
    words = {
        "front_kg": said("the front axle's load"),
        "rear_kg": said("the rear axle's load"),
        "front_limit_kg": said("its limit in front"),
        "rear_limit_kg": said("its limit at the rear"),
        "gross_limit_kg": said("the permitted gross mass"),
        "wheelbase_mm": said("the wheelbase"),
    }
    for field, text in words.items():
        if getattr(written, field) is None:
            yield text
    if not written.carried:
        yield said("who and what is carried")
    if found.without_mass:
        yield said("the mass of {named}", named=named(found.without_mass))
    if found.without_place:
        yield said("the distance from the front axle of {named}", named=named(found.without_place))


def _ground_clearance(design: Design, _: Studies) -> Iterator[Finding]:
    used = {item.zone.id for item in placed_items(design) if item.zone is not None}
    used |= {zone.id for run in design.runs for zone in run.zones}
    below = [zone for zone in design.zones if zone.kind == "underbody" and zone.id in used]
    wanted_mm = known_value((design.job.vehicle.mass or VehicleMass()).ground_clearance_mm)
    missing = [
        said("the lowest point of {zone}", zone=zone.id)
        for zone in below
        if zone.written.floor_above_ground_mm is None
    ]
    if below and wanted_mm is None:
        missing.insert(0, said("the clearance to be kept"))
    if missing:
        yield Finding(
            rule="ground-clearance",
            group=USE,
            severity=Severity.NOT_CHECKED,
            subject=design.job.job.id,
            message=said("Parts or cables hang under the body; not said is {named}.", named=named(missing)),
            way_out=said("Measure from the ground to their lowest point, and to the vehicle's own."),
        )
    for zone in below:
        lowest_mm = known_value(zone.written.floor_above_ground_mm)
        if lowest_mm is not None and wanted_mm is not None:
            yield _clearance(design, zone, lowest_mm, wanted_mm)


def _clearance(design: Design, zone: DesignZone, lowest_mm: float, wanted_mm: float) -> Finding:
    sag_mm = _sag_mm(design, zone)
    left_mm = lowest_mm - (sag_mm or 0.0)
    is_low = left_mm < wanted_mm
    counted = (
        said("springs not counted")
        if sag_mm is None
        else said("{size} of sag counted", size=size_text(design, sag_mm))
    )
    return Finding(
        rule="ground-clearance",
        group=USE,
        severity=Severity.CONDITION if is_low else Severity.PASS,
        subject=zone.id,
        value=left_mm,
        limit=wanted_mm,
        at_most=False,
        unit="mm",
        source=DECLARED,
        message=said(
            "{zone}: {size} above the ground, {counted}; {size_2} is to stay.",
            zone=zone.id,
            size=size_text(design, left_mm),
            counted=counted,
            size_2=size_text(design, wanted_mm),
        ),
        way_out=said("Mount it higher, above the vehicle's own lowest point, or put a guard before it.")
        if is_low
        else "",
    )


def _sag_mm(design: Design, zone: DesignZone) -> float | None:
    """Return how far a place sinks under what is added: each axle by its rate, between them a straight line."""
    written = design.job.vehicle.mass or VehicleMass()
    found = added_mass(design)
    front_rate = known_value(written.front_rate_kg_per_mm)
    rear_rate = known_value(written.rear_rate_kg_per_mm)
    wheelbase_mm = known_value(written.wheelbase_mm)
    at_mm = known_value(zone.written.from_front_axle_mm)
    if (
        found.added_front_kg is None
        or found.added_rear_kg is None
        or front_rate is None
        or rear_rate is None
        or wheelbase_mm is None
        or at_mm is None
    ):
        return None
    front_mm, rear_mm = found.added_front_kg / front_rate, found.added_rear_kg / rear_rate
    return front_mm + (rear_mm - front_mm) * at_mm / wheelbase_mm


PLACE_LOAD = Rule(
    name="place-load",
    group=USE,
    asks="Do roof, shelves and mounts carry what is on them?",
    check=_place_load,
)
AXLE_LOAD = Rule(
    name="axle-load",
    group=USE,
    asks="Do axles and gross mass stay within their limits with people and goods aboard?",
    check=_axle_load,
)
GROUND_CLEARANCE = Rule(
    name="ground-clearance",
    group=USE,
    asks="Does enough clearance stay under parts and cables below the body?",
    check=_ground_clearance,
)
