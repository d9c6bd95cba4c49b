"""Rules on what the vehicle is plugged into: voltage, generator, and the fault current through the lead."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.assessment.mains_side import (
    NO_OVERRIDE,
    MainsSide,
    mains_finding,
    mains_load_va,
    mains_side,
    number,
    open_questions,
)
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import part_source
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.job.design_leg import highest_m
from ampwright.job.mains import MainsSupply
from ampwright.parts.kinds import Part
from ampwright.said import said, said_together
from ampwright.sources import Source, own_choice
from ampwright.standards.mains_supply import (
    TRIP_FACTOR,
    TRIP_SOURCE,
    lead_impedance_ohm_per_km,
)

__all__ = [
    "GENERATOR_SIZE",
    "MAINS_LOOP",
    "MAINS_VOLTAGE",
    "altitude_factor",
    "chargers_input_va",
    "supply_rating_a",
    "supply_v",
]

WIRING = Group.WIRING
VOLTAGE_FRAC = 0.1
"""How far a nominal voltage may lie from that of the supply (docs/choices.md#mains-voltage)."""
UNSTATED_POWER_FACTOR = 0.65
"""Power factor of a charger that states none (docs/choices.md#charger-power-factor)."""
THIN_AIR_FRAC_PER_M = 0.0001
"""A petrol generator loses about 1 % for each 100 m (docs/choices.md#generator-altitude)."""


def supply_v(design: Design, supply: MainsSupply | None) -> float:
    """Return the nominal voltage of a supply, the region's where it is not said."""
    told = supply.nominal_v if supply else None
    return told or design.region.mains_v


def supply_rating_a(design: Design, supply: MainsSupply) -> float | None:
    """Return the rated current of a supply's breaker; None for a generator that does not say."""
    told = number(supply.rating_a)
    return design.mains_limit_a if told is None and supply.kind == "site" else told


def _mains_voltage(design: Design, _: Studies) -> Iterator[Finding]:
    side = mains_side(design)
    if side is None:
        return
    supplies = side.said.supply or (None,)
    for name, part_v in _voltages(side):
        make = mains_finding("mains-voltage", name)
        wrong = [
            volts
            for supply in supplies
            if abs(part_v - (volts := supply_v(design, supply))) > VOLTAGE_FRAC * volts
        ]
        usual = wrong[0] if wrong else supply_v(design, supplies[0])
        yield make(
            severity=_weight(side) if wrong else Severity.PASS,
            message=said("{name} is for {part_v:g} V, ", name=name, part_v=part_v)
            + (
                said("the supply has {usual:g} V.", usual=usual)
                if side.has_supply
                else said("appliances of the region for {usual:g} V.", usual=usual)
            ),
            value=part_v if wrong else None,
            limit=usual if wrong else None,
            unit="V",
            at_most=part_v >= usual,
            source=own_choice("mains-voltage"),
            way_out=said("Do not connect it. Use a part for the voltage of the place.") if wrong else "",
        )
    highest_v = max(supply_v(design, supply) for supply in supplies)
    inverter_v = max((inverter.output_ac_v for _, inverter in side.inverters), default=highest_v)
    for name, part, rated_v, is_outlet in _rated(side):
        feeds_v = inverter_v if is_outlet and _is_apart(side) else highest_v
        is_low = rated_v < feeds_v
        yield mains_finding("mains-voltage", name)(
            severity=Severity.FAIL if is_low else Severity.PASS,
            message=said(
                "{name} is rated {rated_v:g} V; {feeds_v:g} V feed it.",
                name=name,
                rated_v=rated_v,
                feeds_v=feeds_v,
            ),
            value=rated_v,
            limit=feeds_v,
            unit="V",
            at_most=False,
            source=part_source(part),
            way_out=said("Use one rated for the voltage of the place.") if is_low else "",
        )


def _weight(side: MainsSide) -> Severity:
    """Return how a wrong voltage weighs: an inverter alone only meets the wrong appliances."""
    return Severity.FAIL if side.has_supply else Severity.CONDITION


def _voltages(side: MainsSide) -> Iterator[tuple[str, float]]:
    for charger in side.chargers:
        yield charger.placed.id, charger.mains_v
    charging = {charger.placed.id for charger in side.chargers}
    for placed, inverter in side.inverters:
        if placed.id not in charging and not _is_apart(side):
            yield placed.id, inverter.output_ac_v


def _rated(side: MainsSide) -> Iterator[tuple[str, Part, float, bool]]:
    for placed, inlet in side.inlets:
        yield placed.id, inlet, inlet.rated_v, False
    for placed, outlet in side.outlets:
        yield placed.id, outlet, outlet.rated_v, True


def _is_apart(side: MainsSide) -> bool:
    """Tell whether inverter and supply feed outlets of their own."""
    return side.said.transfer is not None and side.said.transfer.kind == "separate-outlets"


def _mains_loop(design: Design, _: Studies) -> Iterator[Finding]:
    side = mains_side(design)
    if side is None or not side.inlets:
        return
    for supply in side.said.supply:
        if supply.kind == "site":
            yield _loop_finding(design, side, supply)


def _loop_finding(design: Design, side: MainsSide, supply: MainsSupply) -> Finding:
    make = mains_finding("mains-loop", supply.name or supply.kind)
    lead, rating_a = side.said.lead, supply_rating_a(design, supply)
    length_m = number(lead.length_m) if lead else None
    area_mm2 = lead.area_mm2 if lead else None
    if length_m is None or area_mm2 is None or rating_a is None:
        return open_questions(make, [said("length and area of the lead")])
    volts, kind = supply_v(design, supply), supply.breaker or "C"
    needed_a = TRIP_FACTOR[kind] * rating_a
    lead_ohm = 2.0 * length_m * lead_impedance_ohm_per_km(area_mm2) / 1000.0
    own_ohm = number(supply.loop_ohm)
    current_a = volts / (lead_ohm + (own_ohm or 0.0))
    supposed = "" if supply.breaker else said(" (type C supposed)")
    told = (
        said("Line to neutral or earth at the end of the lead, {lead_ohm:.2f} Ω hot", lead_ohm=lead_ohm)
        + (said(" and {own_ohm:.2f} Ω before it", own_ohm=own_ohm) if own_ohm is not None else "")
        + said(
            ": {current_a:.0f} A; the post's {rating_a:g} A breaker opens at once from "
            "{needed_a:.0f} A{supposed}",
            current_a=current_a,
            rating_a=rating_a,
            needed_a=needed_a,
            supposed=supposed,
        )
    )
    if current_a < needed_a:
        return make(
            severity=Severity.CONDITION,
            message=said(
                "{told}. Until it opens slowly, only a residual-current device ends a fault to earth.",
                told=told,
            ),
            value=current_a,
            limit=needed_a,
            unit="A",
            at_most=False,
            source=TRIP_SOURCE,
            way_out=said("A shorter or thicker lead; ask the licensed electrician to measure the loop."),
        )
    if own_ohm is None:
        return make(
            severity=Severity.NOT_CHECKED,
            message=said("{told}, the post's own loop left out: nobody said it.", told=told),
            way_out=said("Have the loop impedance at the post measured."),
        )
    return make(
        severity=Severity.PASS,
        message=said("{told}.", told=told),
        value=current_a,
        limit=needed_a,
        unit="A",
        at_most=False,
        source=TRIP_SOURCE,
    )


def _generator_size(design: Design, _: Studies) -> Iterator[Finding]:
    side = mains_side(design)
    if side is None:
        return
    for supply in side.said.supply:
        if supply.kind == "generator":
            yield _generator_finding(design, side, supply)


def altitude_factor(design: Design) -> float:
    """Return what is left of a petrol generator's power at the height of the highest site."""
    altitude_m = highest_m(design.site, design.legs)
    return max(1.0 - THIN_AIR_FRAC_PER_M * altitude_m, 0.0)


def chargers_input_va(side: MainsSide) -> float:
    """Return what all mains chargers ask together, as set."""
    return sum(charger.input_w / (charger.power_factor or UNSTATED_POWER_FACTOR) for charger in side.chargers)


def _generator_finding(design: Design, side: MainsSide, supply: MainsSupply) -> Finding:
    make = mains_finding("generator-size", supply.name or supply.kind)
    label_va = number(supply.rating_va)
    if label_va is None:
        return open_questions(make, [said("the generator's rated running power in VA")])
    altitude_m = highest_m(design.site, design.legs)
    gives_va = label_va * altitude_factor(design)
    loads_va = mains_load_va(design)
    unstated = [charger.placed.id for charger in side.chargers if not charger.power_factor]
    chargers_va = chargers_input_va(side)
    wanted_va = loads_va + chargers_va
    thin = (
        said(
            " ({label_va:.0f} VA on its label, {altitude_m:.0f} m up)",
            label_va=label_va,
            altitude_m=altitude_m,
        )
        if altitude_m >= 100.0
        else ""
    )
    guess = (
        said(
            ", power factor {unstated_power_factor:g} supposed for {unstated}",
            unstated_power_factor=UNSTATED_POWER_FACTOR,
            unstated=said_together(unstated, between=", "),
        )
        if unstated
        else ""
    )
    is_over = wanted_va > gives_va
    return make(
        severity=Severity.CONDITION if is_over else Severity.PASS,
        message=said(
            "Chargers ask {chargers_va:.0f} VA{guess}, loads handed over {loads_va:.0f} VA at their "
            "peaks; the generator gives {gives_va:.0f} VA{thin}.",
            chargers_va=chargers_va,
            guess=guess,
            loads_va=loads_va,
            gives_va=gives_va,
            thin=thin,
        )
        + (
            said(" It is no electronic one: its wave may upset chargers.")
            if supply.is_inverter_type is False
            else ""
        ),
        value=wanted_va,
        limit=gives_va,
        unit="VA",
        source=own_choice("charger-power-factor")
        if unstated
        else Source(document="job file", place="mains.supply"),
        way_out=_generator_way_out(side, gives_va - loads_va, chargers_va, supply_v(design, supply))
        if is_over
        else "",
        caution=said("Exhaust kills without smell: run it outside, far from windows and doors."),
    )


def _generator_way_out(side: MainsSide, spare_va: float, chargers_va: float, volts: float) -> str:
    if len(side.chargers) == 1 and spare_va > 0.2 * chargers_va:
        charger = side.chargers[0]
        limit_a = int(10.0 * spare_va * (charger.power_factor or UNSTATED_POWER_FACTOR) / volts) / 10.0
        return said(
            "Set the input limit of {part} to {limit_a:.1f} A, or use a larger generator.",
            part=charger.placed.id,
            limit_a=limit_a,
        )
    return said("Run fewer loads while charging, set the chargers' input limits, or use a larger generator.")


MAINS_VOLTAGE = Rule(
    name="mains-voltage",
    group=WIRING,
    asks="Are the parts of the mains side made for the voltage they are connected to?",
    check=_mains_voltage,
    no_override=NO_OVERRIDE,
)
MAINS_LOOP = Rule(
    name="mains-loop",
    group=WIRING,
    asks="Does a fault at the end of the lead open the post's breaker at once?",
    check=_mains_loop,
    no_override=NO_OVERRIDE,
)
GENERATOR_SIZE = Rule(
    name="generator-size",
    group=WIRING,
    asks="Does the generator give what chargers and loads ask in volt-amperes?",
    check=_generator_size,
    no_override=NO_OVERRIDE,
)
