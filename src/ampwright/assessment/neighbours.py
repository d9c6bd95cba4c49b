"""Rules on what is near: gas, fuel, the vapour of lead-acid batteries, and people who sleep."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ampwright.assessment.items import Item, placed_items
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import named, size_text
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.job.design_zone import DesignZone
from ampwright.job.quantity import known_value
from ampwright.parts.battery import Battery
from ampwright.parts.hardware import Enclosure
from ampwright.parts.panel import Panel
from ampwright.parts.switchgear import Remote, Sensor
from ampwright.said import said
from ampwright.sources import COMMON_PRACTICE, Source, own_choice

__all__ = ["GAS_AND_FUEL_DISTANCE", "SLEEPING_PLACE"]

WIRING = Group.WIRING
NO_SPARK = (Enclosure, Panel, Remote, Sensor)
"""Kinds that neither switch nor carry a connection that is opened."""
GAS_MM = 1060.0
"""Radius around a 9 kg cylinder free of ignition sources (second hand, see `GAS_SOURCE`)."""
GAS_SOURCE = Source(
    document="AS/NZS 5601.2", edition="2020", place="3.1.8, controlled area", standing="second hand"
)
PETROL_MM = 305.0
"""12 in between petrol and what may spark (own choice, docs/choices.md#petrol-distance)."""
SPARK = said("A spark near gas or fuel explodes.")


def _gas_and_fuel_distance(design: Design, _: Studies) -> Iterator[Finding]:
    sparking = [item for item in placed_items(design) if not isinstance(item.part, NO_SPARK)]
    zones = [zone for zone in design.zones if any(item.is_in(zone) for item in sparking)]
    missing = [*_gas_missing(design, zones), *_fuel_missing(design, zones)]
    homeless = [item.id for item in sparking if item.zone is None]
    if homeless and (missing or design.job.vehicle.carries_gas or design.job.vehicle.fuel == "petrol"):
        missing.append(said("the place of {named}", named=named(homeless)))
    if missing:
        yield Finding(
            rule="gas-and-fuel-distance",
            group=WIRING,
            severity=Severity.NOT_CHECKED,
            subject=design.job.job.id,
            message=said(
                "What may spark near gas or fuel is not known: not said is {named}.", named=named(missing)
            ),
            way_out=said("Look at the vehicle, and follow the local code."),
            caution=SPARK,
        )
    yield from _gas(design, zones)
    yield from _fuel(design, zones)
    yield from _vapour(sparking)


def _gas_missing(design: Design, zones: list[DesignZone]) -> Iterator[str]:
    if design.job.vehicle.carries_gas is False:
        return
    unsaid = [zone.id for zone in zones if not _is_gas_known(zone)]
    if design.job.vehicle.carries_gas is None and unsaid:
        yield said("whether it carries gas")
    elif unsaid:
        yield said("how far gas is from {named}", named=named(unsaid))


def _is_gas_known(zone: DesignZone) -> bool:
    distance_mm = known_value(zone.written.gas_mm)
    return distance_mm is not None or zone.written.is_sealed_from_gas is True


def _fuel_missing(design: Design, zones: list[DesignZone]) -> Iterator[str]:
    fuel = design.job.vehicle.fuel
    unsaid = [zone.id for zone in zones if zone.written.fuel_mm is None]
    if fuel is None:
        yield said("what fuel it runs on")
    elif fuel == "petrol" and unsaid:
        yield said("how far petrol is from {named}", named=named(unsaid))


def _gas(design: Design, zones: list[DesignZone]) -> Iterator[Finding]:
    source = GAS_SOURCE if design.job.job.region == "au-nz" else own_choice("gas-distance")
    make = partial(Finding, rule="gas-and-fuel-distance", group=WIRING, source=source)
    if design.job.vehicle.carries_gas is False:
        yield make(
            severity=Severity.PASS,
            subject=design.job.job.id,
            source=Source(document="job file", place="carries_gas"),
            message=said("It carries no gas."),
        )
        return
    for zone in zones:
        distance_mm = known_value(zone.written.gas_mm)
        is_sealed = zone.written.is_sealed_from_gas is True and distance_mm != 0.0
        if is_sealed:
            yield make(
                severity=Severity.PASS,
                subject=zone.id,
                message=said(
                    "{zone}: a gas-tight wall stands between what may spark and the gas.", zone=zone.id
                ),
            )
        elif distance_mm is not None:
            is_near = distance_mm < GAS_MM
            yield make(
                severity=Severity.FAIL if is_near else Severity.PASS,
                subject=zone.id,
                value=distance_mm,
                limit=GAS_MM,
                unit="mm",
                at_most=False,
                message=said(
                    "{zone} holds what may spark and is {size} from gas; {size_2} or a gas-tight wall is "
                    "wanted.",
                    zone=zone.id,
                    size=size_text(design, distance_mm),
                    size_2=size_text(design, GAS_MM),
                ),
                way_out=said("Move it, or separate it by a gas-tight wall, the gas locker vented outside.")
                if is_near
                else "",
                caution=SPARK if is_near else "",
            )


def _fuel(design: Design, zones: list[DesignZone]) -> Iterator[Finding]:
    fuel = design.job.vehicle.fuel
    make = partial(Finding, rule="gas-and-fuel-distance", group=WIRING, source=own_choice("petrol-distance"))
    if fuel in {"diesel", "electric", "none"}:
        words = (
            said("Diesel gives no explosive vapour at usual temperatures")
            if fuel == "diesel"
            else said("No fuel aboard")
        )
        yield make(severity=Severity.PASS, subject=design.job.job.id, message=said("{words}.", words=words))
        return
    for zone in zones:
        distance_mm = known_value(zone.written.fuel_mm)
        if distance_mm is None:
            continue
        is_near = distance_mm < PETROL_MM
        yield make(
            severity=Severity.FAIL if is_near else Severity.PASS,
            subject=zone.id,
            value=distance_mm,
            limit=PETROL_MM,
            unit="mm",
            at_most=False,
            message=said(
                "{zone} holds what may spark and is {size} from petrol; {size_2} are wanted.",
                zone=zone.id,
                size=size_text(design, distance_mm),
                size_2=size_text(design, PETROL_MM),
            ),
            way_out=said("Move it away from filler, tank and lines.") if is_near else "",
            caution=SPARK if is_near else "",
        )


def _vapour(sparking: list[Item]) -> Iterator[Finding]:
    """Yield what may spark in one enclosure or locker with a lead-acid battery."""
    for item in sparking:
        if not isinstance(item.part, Battery) or item.part.chemistry == "lfp" or item.zone is None:
            continue
        if item.inside < 0 and item.zone.kind != "locker":
            continue
        near = [
            other.id
            for other in sparking
            if other is not item and other.is_in(item.zone) and other.inside == item.inside
        ]
        if near:
            is_flooded = item.part.chemistry == "flooded"
            yield Finding(
                rule="gas-and-fuel-distance",
                group=WIRING,
                severity=Severity.CONDITION if is_flooded else Severity.ADVICE,
                subject=item.id,
                source=COMMON_PRACTICE,
                message=said(
                    "{named} may spark in the same closed space as {item}, whose gas explodes.",
                    named=named(near),
                    item=item.id,
                ),
                way_out=said("Give the battery its own box, vented outside from its top."),
                caution=said("Hydrogen explodes at a spark."),
            )


def _sleeping_place(design: Design, _: Studies) -> Iterator[Finding]:
    make = partial(Finding, rule="sleeping-place", group=WIRING)
    unknown: list[str] = []
    for placed, battery in design.placed(Battery):
        sleeps = _sleeps_beside(design, placed.zone)
        if sleeps is None:
            unknown.append(placed.id)
            continue
        is_lead = battery.chemistry != "lfp"
        yield make(
            severity=Severity.PASS if not sleeps else Severity.CONDITION if is_lead else Severity.ADVICE,
            subject=placed.id,
            source=own_choice("sleeping-place"),
            message=said("Nobody sleeps in the air of {part}.", part=placed.id)
            if not sleeps
            else said(
                "People sleep in the air of {part}, a battery of kind {chemistry}",
                part=placed.id,
                chemistry=said(battery.chemistry),
            )
            + (
                said(", which gives off gas.")
                if is_lead
                else said(": a cell that fails gives off poisonous gas.")
            ),
            way_out=""
            if not sleeps
            else said("Put it in a box sealed from the sleeping place and vented outside.")
            if is_lead
            else said("Prefer a box sealed from the sleeping place and vented outside; fit a smoke alarm."),
        )
    if unknown:
        yield make(
            severity=Severity.NOT_CHECKED,
            subject=design.job.job.id,
            message=said("Whether people sleep in the air of {named} is not said.", named=named(unknown)),
            way_out=said("Say whether people sleep in the vehicle, and where."),
        )


def _sleeps_beside(design: Design, zone: DesignZone | None) -> bool | None:
    """Return whether people sleep in the air of a place; None where it is not said."""
    if design.job.vehicle.people_sleep is False:
        return False
    return None if zone is None else zone.written.is_sleeping_place


GAS_AND_FUEL_DISTANCE = Rule(
    name="gas-and-fuel-distance",
    group=WIRING,
    asks="Are parts that can spark far enough from gas, petrol and a lead-acid battery's vapour?",
    check=_gas_and_fuel_distance,
)
SLEEPING_PLACE = Rule(
    name="sleeping-place",
    group=WIRING,
    asks="Do people sleep in the air of a battery?",
    check=_sleeping_place,
)
