"""Rule on the heat that parts give each other: the air inside enclosures and what it leaves of them."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import part_source, temperature_text
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design, DesignPart
from ampwright.network.heat import EnclosureHeat, PartHeat
from ampwright.parts.charger import AlternatorCharger, MainsCharger, PanelController
from ampwright.parts.converter import Converter
from ampwright.parts.inverter import Inverter
from ampwright.said import said
from ampwright.sources import own_choice

__all__ = ["ENCLOSURE_HEAT"]

WIRING = Group.WIRING
HOT_PARTS = (AlternatorCharger, Converter, Inverter, MainsCharger, PanelController)
WHOLE = 0.985
"""A share of the full output above this counts as all of it: it would print as the whole."""


def _enclosure_heat(design: Design, studies: Studies) -> Iterator[Finding]:
    for placed in design.parts:
        if placed.inside < 0 and isinstance(placed.part, HOT_PARTS):
            yield _in_the_open(design, placed)
    for heat in studies.heat:
        yield from _of_enclosure(design, heat)


def _in_the_open(design: Design, placed: DesignPart) -> Finding:
    make = partial(
        Finding, rule="enclosure-heat", group=WIRING, subject=placed.id, source=own_choice("open-air")
    )
    zone = placed.zone
    if zone is None or zone.kind == "locker":
        where = said("in a closed locker") if zone else said("in an unnamed place")
        return make(
            severity=Severity.NOT_CHECKED,
            message=said(
                "{part} stands {where} that is not described as an enclosure; the heat of it and its "
                "neighbours was not reckoned.",
                part=placed.id,
                where=where,
            ),
            way_out=said("Place an enclosure and name it in `inside`."),
        )
    return make(
        severity=Severity.PASS,
        message=said(
            "{part} stands in the open air of {zone}, up to {temperature}.",
            part=placed.id,
            zone=zone.id,
            temperature=temperature_text(design, zone.ambient_max_degc),
        ),
    )


def _of_enclosure(design: Design, heat: EnclosureHeat) -> Iterator[Finding]:
    box = design.parts[heat.part]
    air = temperature_text(design, heat.air_degc)
    outside = temperature_text(design, heat.outside_degc)
    if heat.is_cycling:
        yield Finding(
            rule="enclosure-heat",
            group=WIRING,
            severity=Severity.FAIL,
            subject=box.id,
            message=said(
                "{box}: at {outside} outside there is no steady state; a part inside switches off by "
                "heat and on again around {air}.",
                box=box.id,
                outside=outside,
                air=air,
            ),
            source=part_source(box.part),
            way_out=said("A larger or vented enclosure, or fewer parts in it."),
        )
        return
    for part in heat.parts:
        yield _of_part(design, heat, part)


def _of_part(design: Design, heat: EnclosureHeat, item: PartHeat) -> Finding:
    placed = design.parts[item.part]
    air = temperature_text(design, heat.air_degc)
    outside = temperature_text(design, heat.outside_degc)
    make = partial(
        Finding,
        rule="enclosure-heat",
        group=WIRING,
        subject=placed.id,
        value=heat.air_degc,
        limit=placed.part.ambient_max_degc,
        unit="°C",
        source=part_source(placed.part),
    )
    sun = said(" and full sun") if heat.sun_k > 0.0 else ""
    told = said(
        "at {outside} outside{sun} {loss_w:.0f} W of heat make {air} in {parts}",
        outside=outside,
        sun=sun,
        loss_w=heat.loss_w,
        air=air,
        parts=design.parts[heat.part].id,
    )
    limit = temperature_text(design, placed.part.ambient_max_degc)
    if heat.air_degc > placed.part.ambient_max_degc:
        return make(
            severity=Severity.FAIL,
            message=said(
                "{part}: {told}; it is built for up to {limit}.", part=placed.id, told=told, limit=limit
            ),
            way_out=said("A larger or vented enclosure, or a cooler place."),
            caution=said("Overheated electronics and batteries can burn."),
        )
    left = _left_text(placed, item.output_frac)
    return make(
        severity=Severity.CONDITION if left else Severity.PASS,
        message=said("{part}: {told}", part=placed.id, told=told)
        + (
            said("; it gives {left}.", left=left)
            if left
            else said("; up to {limit} is allowed.", limit=limit)
        ),
        way_out=said("A larger or vented enclosure gives it more.") if left else "",
    )


def _left_text(placed: DesignPart, share: float) -> str:
    """Return "26 A of its 40 A", or nothing where all is left."""
    part = placed.part
    if share >= WHOLE:
        return ""
    if isinstance(part, Inverter):
        return said(
            "{share:.0f} W of its {continuous_w:g} W",
            share=share * part.continuous_w,
            continuous_w=part.continuous_w,
        )
    if isinstance(part, AlternatorCharger | Converter | MainsCharger | PanelController):
        return said(
            "{share:.0f} A of its {output_max_a:g} A",
            share=share * part.output_max_a,
            output_max_a=part.output_max_a,
        )
    return ""


ENCLOSURE_HEAT = Rule(
    name="enclosure-heat",
    group=WIRING,
    asks="Does the heat of all parts together leave chargers, inverter and battery within their ratings?",
    check=_enclosure_heat,
)
