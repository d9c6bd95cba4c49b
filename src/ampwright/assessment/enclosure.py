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
        where = "in a closed locker" if zone else "in an unnamed place"
        return make(
            severity=Severity.NOT_CHECKED,
            message=f"{placed.id} stands {where} that is not described as an enclosure; the heat of it and its "
            "neighbours was not reckoned.",
            way_out="Place an enclosure and name it in `inside`.",
        )
    return make(
        severity=Severity.PASS,
        message=f"{placed.id} stands in the open air of {zone.id}, up to {temperature_text(design, zone.ambient_max_degc)}.",
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
            message=f"{box.id}: at {outside} outside there is no steady state; a part inside switches off by heat "
            f"and on again around {air}.",
            source=part_source(box.part),
            way_out="A larger or vented enclosure, or fewer parts in it.",
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
    sun = " and full sun" if heat.sun_k > 0.0 else ""
    said = f"at {outside} outside{sun} {heat.loss_w:.0f} W of heat make {air} in {design.parts[heat.part].id}"
    limit = temperature_text(design, placed.part.ambient_max_degc)
    if heat.air_degc > placed.part.ambient_max_degc:
        return make(
            severity=Severity.FAIL,
            message=f"{placed.id}: {said}; it is built for up to {limit}.",
            way_out="A larger or vented enclosure, or a cooler place.",
            caution="Overheated electronics and batteries can burn.",
        )
    left = _left_text(placed, item.output_frac)
    return make(
        severity=Severity.CONDITION if left else Severity.PASS,
        message=f"{placed.id}: {said}" + (f"; it gives {left}." if left else f"; up to {limit} is allowed."),
        way_out="A larger or vented enclosure gives it more." if left else "",
    )


def _left_text(placed: DesignPart, share: float) -> str:
    """Return "26 A of its 40 A", or nothing where all is left."""
    part = placed.part
    if share >= WHOLE:
        return ""
    if isinstance(part, Inverter):
        return f"{share * part.continuous_w:.0f} W of its {part.continuous_w:g} W"
    if isinstance(part, AlternatorCharger | Converter | MainsCharger | PanelController):
        return f"{share * part.output_max_a:.0f} A of its {part.output_max_a:g} A"
    return ""


ENCLOSURE_HEAT = Rule(
    name="enclosure-heat",
    group=WIRING,
    asks="Does the heat of all parts together leave chargers, inverter and battery within their ratings?",
    check=_enclosure_heat,
)
