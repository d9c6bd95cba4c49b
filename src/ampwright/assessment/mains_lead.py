"""Rules on the lead: its rating and plugs against what can flow, its length and area, its voltage drop."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ampwright.assessment.mains_side import (
    NO_OVERRIDE,
    MainsSide,
    mains_finding,
    mains_load_va,
    mains_side,
    number,
    open_questions,
)
from ampwright.assessment.mains_supply import supply_rating_a, supply_v
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import length_text, part_source
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.job.mains import MainsLead
from ampwright.said import capital, said, said_together
from ampwright.sources import Source
from ampwright.standards.mains_supply import (
    DROP_FRAC,
    DROP_SOURCE,
    lead_impedance_ohm_per_km,
    lead_limit,
    plug_type,
    usual_plugs,
)

__all__ = ["MAINS_LEAD", "MAINS_LEAD_DROP", "MAINS_PLUGS"]

WIRING = Group.WIRING
SAME_RATING_FACTOR = 16.0 / 15.0
"""In Australia and New Zealand 15 A plugs stand behind 16 A breakers (AS/NZS 3001 table 5.1: "15/16 A", second hand)."""
JOB = Source(document="job file", place="mains.lead")


def _mains_lead(design: Design, _: Studies) -> Iterator[Finding]:
    side = mains_side(design)
    if side is None or not side.inlets:
        return
    make = mains_finding("mains-lead", said("lead"))
    lead = side.said.lead
    rated = _rating(side, lead)
    if lead is None or rated is None:
        yield open_questions(make, [said("length, area, plug and rating of the lead")])
        return
    if lead.is_one_piece is False:
        yield make(
            severity=Severity.CONDITION,
            message=said(
                "The lead is joined of several, or has an adapter: each joint heats, and the loop grows."
            ),
            source=Source(document="AS/NZS 3001", place="supply leads, one length", standing="second hand"),
            way_out=said("Use one lead of full length, unwound."),
        )
        return
    rating_a, what = rated
    flows_a = _can_flow_a(design, side)
    same = SAME_RATING_FACTOR if design.job.job.region == "au-nz" else 1.0
    if flows_a > rating_a * same:
        yield make(
            severity=Severity.FAIL,
            message=said(
                "{flows_a:g} A can flow before anything opens; the weakest link, {what}, is rated "
                "{rating_a:g} A.",
                flows_a=flows_a,
                what=what,
                rating_a=rating_a,
            ),
            value=flows_a,
            limit=rating_a,
            unit="A",
            source=JOB,
            way_out=said(
                "A lead for the post's rating, or a smaller breaker at the inlet. Ask the licensed "
                "electrician."
            ),
        )
        return
    yield _length_finding(design, make, lead, rating_a)


def _rating(side: MainsSide, lead: MainsLead | None) -> tuple[float, str] | None:
    """Return the weakest of lead, plug, connector and inlet; None where the lead says nothing of it."""
    if lead is None or (lead.rating_a is None and lead.plug is None):
        return None
    found = [] if lead.rating_a is None else [(lead.rating_a, said("the lead"))]
    found += [
        (plug_type(name).rating_a, said(plug_type(name).sold_as))
        for name in (lead.plug, lead.connector)
        if name is not None
    ]
    return min([*found, *((inlet.rating_a, placed.id) for placed, inlet in side.inlets)])


def _can_flow_a(design: Design, side: MainsSide) -> float:
    """Return the current that nothing stops: the least of post, plug fuse and the vehicle's own device."""
    posts = [rating for supply in side.said.supply if (rating := supply_rating_a(design, supply)) is not None]
    most_a = max(posts, default=design.mains_limit_a)
    if side.said.lead is not None and side.said.lead.plug == "bs-1363":
        most_a = min(most_a, plug_type("bs-1363").rating_a)
    own = [
        rating
        for device in side.said.overcurrent
        if device.covers in {"inlet", "both"} and (rating := number(device.rating_a)) is not None
    ]
    return min([most_a, *own])


def _length_finding(design: Design, make: partial[Finding], lead: MainsLead, rating_a: float) -> Finding:
    length_m, area_mm2 = number(lead.length_m), lead.area_mm2
    if length_m is None or area_mm2 is None:
        return open_questions(make, [said("length and area of the lead")])
    told = said(
        "Lead of {length}, {area_mm2:g} mm², {rating_a:g} A",
        length=length_text(design, length_m),
        area_mm2=area_mm2,
        rating_a=rating_a,
    )
    limit = lead_limit(design.job.job.region, rating_a, length_m)
    if limit is None:
        return make(
            severity=Severity.PASS,
            message=said(
                "{told}: nothing opens too late for it. No table of lengths is held for this region.",
                told=told,
            ),
            source=JOB,
        )
    is_long = length_m > limit.length_max_m
    is_thin = area_mm2 < 0.99 * limit.area_mm2
    return make(
        severity=Severity.CONDITION if is_long or is_thin else Severity.PASS,
        message=said(
            "{told}; for this rating {area_mm2:g} mm² serves up to {length}.",
            told=told,
            area_mm2=limit.area_mm2,
            length=length_text(design, limit.length_max_m),
        ),
        value=length_m if is_long else area_mm2,
        limit=limit.length_max_m if is_long else limit.area_mm2,
        unit="m" if is_long else "mm²",
        at_most=is_long,
        source=limit.source,
        way_out=said("Use a shorter or a thicker lead, unwound from its drum.") if is_long or is_thin else "",
    )


def _mains_lead_drop(design: Design, _: Studies) -> Iterator[Finding]:
    side = mains_side(design)
    if side is None or not side.inlets:
        return
    make = mains_finding("mains-lead-drop", said("lead"))
    lead = side.said.lead
    length_m = number(lead.length_m) if lead else None
    if lead is None or length_m is None or lead.area_mm2 is None:
        yield open_questions(make, [said("length and area of the lead")])
        return
    volts = min((supply_v(design, supply) for supply in side.said.supply), default=supply_v(design, None))
    wanted_a = sum(charger.current_a for charger in side.chargers) + mains_load_va(design) / volts
    current_a = min([wanted_a, design.mains_limit_a, *(inlet.rating_a for _, inlet in side.inlets)])
    ohm = 2.0 * length_m * lead_impedance_ohm_per_km(lead.area_mm2) / 1000.0
    drop_v, limit_v = current_a * ohm, DROP_FRAC * volts
    is_over = drop_v > limit_v
    yield make(
        severity=Severity.CONDITION if is_over else Severity.PASS,
        message=said(
            "{current_a:.1f} A through {length} of {area_mm2:g} mm² lose {drop_v:.1f} V of {volts:g} "
            "V, hot; usual is {limit_v:.1f} V at most.",
            current_a=current_a,
            length=length_text(design, length_m),
            area_mm2=lead.area_mm2,
            drop_v=drop_v,
            volts=volts,
            limit_v=limit_v,
        ),
        value=drop_v,
        limit=limit_v,
        unit="V",
        source=DROP_SOURCE,
        way_out=said("A shorter or thicker lead, or a lower input limit of the charger.") if is_over else "",
    )


def _mains_plugs(design: Design, _: Studies) -> Iterator[Finding]:
    side = mains_side(design)
    if side is None or not side.inlets:
        return
    make = mains_finding("mains-plugs", said("lead"))
    lead, inlet_plug = side.said.lead, side.said.inlet_plug
    plug, connector = (lead.plug, lead.connector) if lead else (None, None)
    asked = [
        what
        for what, answer in (
            (said("plug"), plug),
            (said("connector"), connector),
            (said("kind of inlet"), inlet_plug),
        )
        if answer is None
    ]
    if plug is None or connector is None or inlet_plug is None:
        yield open_questions(make, [said_together(asked, between=", ") + said(" of the lead and the inlet")])
        return
    wrong = _plug_faults(design, side, (plug, connector, inlet_plug))
    yield make(
        severity=Severity.CONDITION if wrong else Severity.PASS,
        message=capital(said_together(wrong, between="; ")) + "."
        if wrong
        else said(
            "{sold_as} and {sold_as_2} fit post and inlet.",
            sold_as=said(plug_type(plug).sold_as),
            sold_as_2=said(plug_type(connector).sold_as),
        ),
        source=plug_type(plug).source if wrong else part_source(side.inlets[0][1]),
        way_out=said("Use a lead with the plugs of the place; no adapter that passes more than its rating.")
        if wrong
        else "",
    )


def _plug_faults(design: Design, side: MainsSide, plugs: tuple[str, str, str]) -> list[str]:
    plug, connector, inlet_plug = plugs
    region = design.job.job.region
    found: list[str] = []
    if connector != inlet_plug:
        found.append(
            said(
                "a {sold_as} does not go on an inlet for a {sold_as_2}",
                sold_as=said(plug_type(connector).sold_as),
                sold_as_2=said(plug_type(inlet_plug).sold_as),
            )
        )
    usual = usual_plugs(region)
    if plug not in {each.type for each in usual}:
        found.append(
            said(
                "a {sold_as} is not usual there ({sold_as_2})",
                sold_as=said(plug_type(plug).sold_as),
                sold_as_2=said_together((said(each.sold_as) for each in usual), between=", "),
            )
        )
    sockets = {supply.socket for supply in side.said.supply if supply.socket is not None}
    if sockets and plug not in sockets:
        found.append(
            said("a {sold_as} does not go into the supply's socket", sold_as=said(plug_type(plug).sold_as))
        )
    if plug_type(plug).rating_a > plug_type(connector).rating_a:
        found.append(
            said(
                "the plug lets {rating_a:g} A through to a connector of {rating_a_2:g} A",
                rating_a=plug_type(plug).rating_a,
                rating_a_2=plug_type(connector).rating_a,
            )
        )
    return found


MAINS_LEAD = Rule(
    name="mains-lead",
    group=WIRING,
    asks="Does the lead carry what post and inlet let through, and is it short and thick enough?",
    check=_mains_lead,
    no_override=NO_OVERRIDE,
)
MAINS_LEAD_DROP = Rule(
    name="mains-lead-drop",
    group=WIRING,
    asks="How much voltage does the lead lose?",
    check=_mains_lead_drop,
    no_override=NO_OVERRIDE,
)
MAINS_PLUGS = Rule(
    name="mains-plugs",
    group=WIRING,
    asks="Do plug, connector and inlet fit each other and the region?",
    check=_mains_plugs,
    no_override=NO_OVERRIDE,
)
