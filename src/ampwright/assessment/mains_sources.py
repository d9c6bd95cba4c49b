"""Rules on the sources of the mains side: never two at once, neutral and earth joined once, what leaves the inverter."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ampwright.assessment.mains_side import (
    NO_OVERRIDE,
    MainsSide,
    mains_finding,
    mains_side,
    number,
    open_questions,
)
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import part_source
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design, DesignPart
from ampwright.job.mains import Certificate, MainsSupply, NeutralLink
from ampwright.parts.inverter import Inverter
from ampwright.said import said, said_together
from ampwright.sources import COMMON_PRACTICE, Source
from ampwright.standards.mains_supply import TRIP_FACTOR

__all__ = ["INVERTER_OUTPUT_DEVICE", "MAINS_CERTIFICATE", "NEUTRAL_EARTH_LINK", "SUPPLY_TRANSFER"]

WIRING = Group.WIRING
LINK_SOURCE = Source(
    document="IEC 60364-4-41",
    place="411, automatic disconnection needs an earthed source",
    standing="from memory",
)
GENERATOR_SOURCE = Source(
    document="29 CFR 1926.404",
    place="(b)(1)(ii) and (f)(3), portable and vehicle-mounted generators",
    standing="second hand",
)


def _supply_transfer(design: Design, _: Studies) -> Iterator[Finding]:
    side = mains_side(design)
    if side is None or not (side.has_supply and side.has_fixed_inverter):
        return
    transfer = side.said.transfer
    for placed, inverter in side.inverters:
        make = mains_finding("supply-transfer", placed.id)
        kind = transfer.kind if transfer else None
        if kind is None and inverter.transfer_s > 0.0:
            kind = "in-inverter"
        if kind in {"plug", "separate-outlets"}:
            yield make(
                severity=Severity.PASS,
                message=said(
                    "{part} and the inlet cannot meet: {kind}.",
                    part=placed.id,
                    kind=said(kind.replace("-", " ")),
                ),
                source=COMMON_PRACTICE,
            )
        elif kind is None:
            yield open_questions(make, [said("what keeps {part} and the inlet apart", part=placed.id)])
        elif transfer is None or transfer.breaks_first is None:
            yield open_questions(
                make,
                [said("whether the transfer opens one supply before it closes the other, by its data sheet")],
            )
        else:
            yield _order_finding(make, placed, inverter, breaks_first=transfer.breaks_first)


def _order_finding(
    make: partial[Finding], placed: DesignPart, inverter: Inverter, *, breaks_first: bool
) -> Finding:
    gap = (
        said(" Change-over takes {transfer_s:.0f} ms.", transfer_s=1000 * inverter.transfer_s)
        if inverter.transfer_s > 0.0
        else ""
    )
    return make(
        severity=Severity.PASS if breaks_first else Severity.FAIL,
        message=said(
            "The transfer of {part} opens one supply before it closes the other.{gap}",
            part=placed.id,
            gap=gap,
        )
        if breaks_first
        else said(
            "The transfer can join {part} and the mains: the inverter is destroyed, and a pulled "
            "plug stays live.",
            part=placed.id,
        ),
        source=COMMON_PRACTICE,
        way_out="" if breaks_first else said("Have a transfer switch fitted that breaks before it makes."),
    )


def _neutral_earth_link(design: Design, _: Studies) -> Iterator[Finding]:
    side = mains_side(design)
    if side is None:
        return
    if side.has_fixed_inverter:
        placed = side.inverters[0][0]
        yield _inverter_link(mains_finding("neutral-earth-link", placed.id), placed, side)
    for supply in side.said.supply:
        if supply.kind == "generator":
            yield _generator_link(mains_finding("neutral-earth-link", supply.name or supply.kind), supply)


def _inverter_link(make: partial[Finding], placed: DesignPart, side: MainsSide) -> Finding:
    link = side.said.neutral_link or NeutralLink()
    if side.has_supply and link.is_open_on_site is False:
        return make(
            severity=Severity.FAIL,
            message=said(
                "Neutral and earth stay joined in the vehicle while the inlet feeds: earth carries load "
                "current, the post's residual-current device opens or is blinded."
            ),
            source=LINK_SOURCE,
            way_out=said("Have the link opened by the transfer at change-over."),
        )
    if link.is_made_on_inverter is False:
        return make(
            severity=Severity.CONDITION,
            message=said(
                "While {part} feeds, neutral and earth are not joined: a residual-current device behind "
                "it may not open at a first fault.",
                part=placed.id,
            ),
            source=LINK_SOURCE,
            way_out=said(
                "The licensed electrician decides: a link, or separation with one appliance at a time."
            ),
        )
    asked = []
    if link.is_made_on_inverter is None:
        asked.append(said("whether neutral and earth are joined while {part} feeds", part=placed.id))
    if side.has_supply and link.is_open_on_site is None:
        asked.append(said("whether that link opens while the inlet feeds"))
    if side.has_supply and link.opened_by is None:
        asked.append(said("what opens it at change-over"))
    if asked:
        return open_questions(make, asked)
    by_hand = side.has_supply and link.opened_by == "hand"
    return make(
        severity=Severity.CONDITION if by_hand else Severity.PASS,
        message=said("Neutral and earth are joined while {part} feeds", part=placed.id)
        + (
            said(" and open on the inlet, by {opened_by}.", opened_by=link.opened_by)
            if side.has_supply
            else "."
        )
        + (said(" What is done by hand is forgotten.") if by_hand else ""),
        source=LINK_SOURCE,
        way_out=said("Have the transfer open it.") if by_hand else "",
    )


def _generator_link(make: partial[Finding], supply: MainsSupply) -> Finding:
    if supply.is_neutral_linked is None:
        return open_questions(
            make, [said("whether the generator's neutral is joined to its frame (its label says)")]
        )
    return make(
        severity=Severity.PASS if supply.is_neutral_linked else Severity.CONDITION,
        message=said("The generator's neutral is joined to its frame and earth pin.")
        if supply.is_neutral_linked
        else said(
            "The generator's neutral floats: the vehicle's residual-current device may not open at a fault."
        ),
        source=GENERATOR_SOURCE,
        way_out=""
        if supply.is_neutral_linked
        else said(
            "The licensed electrician decides: another generator, a link at it, or one appliance at a time."
        ),
    )


def _inverter_output_device(design: Design, _: Studies) -> Iterator[Finding]:
    side = mains_side(design)
    if side is None or not side.has_fixed_inverter:
        return
    for placed, inverter in side.inverters:
        yield _output_finding(mains_finding("inverter-output-device", placed.id), placed, inverter, side)


def _output_finding(
    make: partial[Finding], placed: DesignPart, inverter: Inverter, side: MainsSide
) -> Finding:
    most_a = inverter.overload_w * inverter.continuous_va / inverter.continuous_w / inverter.output_ac_v
    ratings = [outlet.rating_a for _, outlet in side.outlets]
    gives = said("{part} gives up to {most_a:.1f} A", part=placed.id, most_a=most_a)
    if ratings:
        gives += said(
            "; its outlets: {ratings_count}, the smallest {ratings:g} A, together {sum:g} A",
            ratings_count=len(ratings),
            ratings=min(ratings),
            sum=sum(ratings),
        )
    devices = [each for each in side.said.overcurrent if each.covers in {"inverter", "both"}]
    rated = [rating for each in devices if (rating := number(each.rating_a)) is not None]
    if not ratings or (not devices and not side.said.is_complete) or len(rated) < len(devices):
        asked = [] if ratings else [said("which outlets the inverter feeds (place them as parts)")]
        if not devices or len(rated) < len(devices):
            asked.append(said("rating and kind of the device at the inverter's output"))
        return open_questions(make, asked)
    limit_a = min([most_a, *rated])
    is_over = limit_a > min(ratings)
    weak = [each.breaker for each in devices if each.breaker in TRIP_FACTOR]
    is_slow = any(
        TRIP_FACTOR[breaker or "D"] * min(rated) > inverter.surge_w / inverter.output_ac_v for breaker in weak
    )
    return make(
        severity=Severity.CONDITION if is_over else Severity.PASS,
        message=said("{gives}; ", gives=gives)
        + (
            said("a device of {rated:g} A stands behind it.", rated=min(rated))
            if rated
            else said("no device stands behind it.")
        )
        + (said(" A short circuit is ended by the inverter itself, not by that breaker.") if is_slow else ""),
        value=limit_a,
        limit=min(ratings),
        unit="A",
        source=part_source(side.outlets[ratings.index(min(ratings))][1]),
        way_out=said(
            "Ask the licensed electrician for a device that suits the smallest outlet and its cable."
        )
        if is_over
        else "",
    )


def _mains_certificate(design: Design, _: Studies) -> Iterator[Finding]:
    side = mains_side(design)
    if side is None or not (side.inlets or side.has_fixed_inverter or side.outlets):
        return
    make = mains_finding("mains-certificate", said("mains"))
    certificate = side.said.certificate
    if certificate is None:
        yield make(
            severity=Severity.ADVICE,
            message=said("No certificate of the mains side is recorded."),
            way_out=said("Ask the licensed electrician for it, and write down what it covers."),
        )
        return
    changes = _changes(side, certificate)
    yield make(
        severity=Severity.CONDITION if changes else Severity.PASS,
        message=said(
            "Certificate {serial} does not cover this: {changes}. That voids it.",
            serial=certificate.serial,
            changes=said_together(changes, between="; "),
        )
        if changes
        else said(
            "Nothing here differs from what is recorded of certificate {serial}.", serial=certificate.serial
        ),
        source=Source(document="job file", place="mains.certificate"),
        way_out=said(
            "Do not use the mains side until a licensed electrician has tested it and given a new "
            "certificate."
        )
        if changes
        else "",
    )


def _changes(side: MainsSide, certificate: Certificate) -> list[str]:
    found: list[str] = []
    for placed, inverter in side.inverters:
        if certificate.inverter and inverter.id != certificate.inverter:
            found.append(
                said(
                    "{part} is {inverter}, not {inverter_2}",
                    part=placed.id,
                    inverter=inverter.id,
                    inverter_2=certificate.inverter,
                )
            )
    for placed, inlet in side.inlets:
        if certificate.inlet and inlet.id != certificate.inlet:
            found.append(
                said(
                    "{part} is {inlet}, not {inlet_2}",
                    part=placed.id,
                    inlet=inlet.id,
                    inlet_2=certificate.inlet,
                )
            )
        zone = placed.zone.id if placed.zone else ""
        if certificate.inlet_zone and zone != certificate.inlet_zone:
            found.append(
                said(
                    "{part} is in {zone}, not in {inlet_zone}",
                    part=placed.id,
                    zone=zone or "no zone",
                    inlet_zone=certificate.inlet_zone,
                )
            )
    count = len(side.outlets)
    if certificate.outlet_count is not None and count != certificate.outlet_count:
        found.append(
            said(
                "{count} mains outlets instead of {outlet_count}",
                count=count,
                outlet_count=certificate.outlet_count,
            )
        )
    return found


SUPPLY_TRANSFER = Rule(
    name="supply-transfer",
    group=WIRING,
    asks="Can inverter and inlet never feed the same wires at once?",
    check=_supply_transfer,
    no_override=NO_OVERRIDE,
)
NEUTRAL_EARTH_LINK = Rule(
    name="neutral-earth-link",
    group=WIRING,
    asks="Are neutral and earth joined once, at the source that feeds?",
    check=_neutral_earth_link,
    no_override=NO_OVERRIDE,
)
INVERTER_OUTPUT_DEVICE = Rule(
    name="inverter-output-device",
    group=WIRING,
    asks="Can the inverter overload the outlets it feeds?",
    check=_inverter_output_device,
    no_override=NO_OVERRIDE,
)
MAINS_CERTIFICATE = Rule(
    name="mains-certificate",
    group=WIRING,
    asks="Does what is fitted agree with what the mains certificate covers?",
    check=_mains_certificate,
    no_override=NO_OVERRIDE,
)
