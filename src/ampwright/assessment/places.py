"""Rules on the place of parts: temperature class, ingress, and gas of batteries."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import partial

from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import part_source, temperature_text
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.job.design_zone import DesignZone
from ampwright.parts.battery import Battery
from ampwright.parts.kinds import Part
from ampwright.said import said
from ampwright.sources import COMMON_PRACTICE, own_choice
from ampwright.standards.mounting_places.places import mounting_place

__all__ = ["BATTERY_GAS", "PART_INGRESS", "PART_TEMPERATURE"]

WIRING = Group.WIRING
JET_DIGITS = frozenset({5, 6, 9})
"""Second digits of the IP code for jets of water (IEC 60529, from memory), asked for where water is thrown."""
IMMERSION_DIGITS = frozenset({7, 8})
"""Second digits for immersion, which do not cover those for jets (IEC 60529, from memory)."""


def _part_temperature(design: Design, _: Studies) -> Iterator[Finding]:
    for placed in design.parts:
        yield from _temperature_of(design, placed.id, placed.part, placed.zone)
    for load in design.loads:
        if load.fridge is not None:
            yield from _temperature_of(design, load.id, load.fridge, load.zone)


def _temperature_of(design: Design, name: str, part: Part, zone: DesignZone | None) -> Iterator[Finding]:
    make = partial(Finding, rule="part-temperature", group=WIRING, subject=name, unit="°C")
    if zone is None:
        yield make(
            severity=Severity.NOT_CHECKED,
            message=said("{name}: no zone is given, so its temperature is not known.", name=name),
            way_out=said("Name the zone it is mounted in."),
        )
        return
    hottest = zone.ambient_max_degc
    is_hot = hottest > part.ambient_max_degc
    yield make(
        severity=Severity.FAIL if is_hot else Severity.PASS,
        message=said(
            "{name} in {zone}: up to {temperature}; built for up to {temperature_2}. Heat from its "
            "neighbours is not counted.",
            name=name,
            zone=zone.id,
            temperature=temperature_text(design, hottest),
            temperature_2=temperature_text(design, part.ambient_max_degc),
        ),
        value=hottest,
        limit=part.ambient_max_degc,
        source=part_source(part),
        way_out=said("Mount it in a cooler place.") if is_hot else "",
    )
    coldest = design.job.season.coldest_degc
    if coldest < part.ambient_min_degc:
        yield make(
            severity=Severity.CONDITION,
            message=said(
                "{name} in {zone}: it may be as cold as {temperature}; built for {temperature_2} and up.",
                name=name,
                zone=zone.id,
                temperature=temperature_text(design, coldest),
                temperature_2=temperature_text(design, part.ambient_min_degc),
            ),
            value=coldest,
            limit=part.ambient_min_degc,
            at_most=False,
            source=part_source(part),
            way_out=said("Warm it before use, or use a part for such cold."),
        )


def _battery_gas(design: Design, _: Studies) -> Iterator[Finding]:
    """Ask for a vent where a lead-acid battery shares the air of people or stands in a closed space."""
    for placed, battery in design.placed(Battery):
        if battery.chemistry == "lfp":
            continue
        make = partial(Finding, rule="battery-gas", group=WIRING, subject=placed.id, source=COMMON_PRACTICE)
        if placed.zone is None:
            yield make(
                severity=Severity.NOT_CHECKED,
                message=said(
                    "{part}: no zone is given, so it is not known where its gas goes.", part=placed.id
                ),
                way_out=said("Name the zone it is mounted in."),
            )
            continue
        is_inside, is_flooded = placed.zone.is_inside, battery.chemistry == "flooded"
        heavy = Severity.CONDITION if is_flooded else Severity.ADVICE
        told = (
            said("gives off hydrogen when it is charged")
            if is_flooded
            else said("gives off hydrogen when it is overcharged")
        )
        yield make(
            severity=heavy if is_inside else Severity.PASS,
            message=said(
                "{part} in {zone}: a battery of kind {chemistry} {told}",
                part=placed.id,
                zone=placed.zone.id,
                chemistry=said(battery.chemistry),
                told=told,
            )
            + (
                said(", and its place is inside.")
                if is_inside
                else said("; its place is not inside the body.")
            ),
            way_out=said("Vent its gas to the outside, from the top of a closed box.") if is_inside else "",
            caution=said("Hydrogen explodes at a spark: no switch, fuse or charger where the gas gathers.")
            if is_inside
            else "",
        )


def _part_ingress(design: Design, _: Studies) -> Iterator[Finding]:
    for placed in design.parts:
        if placed.zone is None or mounting_place(placed.zone.kind).water_digit is None:
            continue
        make = partial(
            Finding, rule="part-ingress", group=WIRING, subject=placed.id, source=own_choice("ingress")
        )
        digits = [int(digit) for digit in re.findall(r"[0-6X]([0-9])", placed.part.ingress_code.upper())]
        if not digits:
            yield make(
                severity=Severity.NOT_CHECKED,
                message=said(
                    "{part} in {zone}: its degree of protection against water is not stated.",
                    part=placed.id,
                    zone=placed.zone.id,
                ),
                way_out=said("Find its IP code."),
            )
            continue
        is_for_jets = any(digit in JET_DIGITS for digit in digits)
        is_for_immersion = max(digits) in IMMERSION_DIGITS
        yield make(
            severity=Severity.PASS if is_for_jets else Severity.ADVICE if is_for_immersion else Severity.FAIL,
            message=said(
                "{part} in {zone}: {ingress_code}; against thrown water IPX5 is wanted.",
                part=placed.id,
                zone=placed.zone.id,
                ingress_code=placed.part.ingress_code,
            )
            + (
                said(" A code for immersion alone promises nothing against jets.")
                if is_for_immersion and not is_for_jets
                else ""
            ),
            value=float(max(digits)),
            limit=float(min(JET_DIGITS)),
            at_most=False,
            way_out=""
            if is_for_jets
            else said("Ask for a code for jets too, and keep pressure washers off.")
            if is_for_immersion
            else said("Mount it inside, in an enclosure, or use a part of a higher class."),
        )


PART_TEMPERATURE = Rule(
    name="part-temperature",
    group=WIRING,
    asks="Is each part built for the hottest air of its place, and for the coldest morning?",
    check=_part_temperature,
)
PART_INGRESS = Rule(
    name="part-ingress",
    group=WIRING,
    asks="Is each part in a wet place built for it?",
    check=_part_ingress,
)
BATTERY_GAS = Rule(
    name="battery-gas",
    group=WIRING,
    asks="Does the gas of a lead-acid battery have a way out?",
    check=_battery_gas,
    no_override="Hydrogen that cannot get out explodes.",
)
