"""Rules on the place of parts: temperature class and ingress."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import partial

from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import part_source, temperature_text
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.sources import own_choice

__all__ = ["PART_INGRESS", "PART_TEMPERATURE"]

WIRING = Group.WIRING
WET_KINDS = frozenset({"roof", "outside", "underbody", "engine"})
WET_WATER_DIGIT = 5
"""Second digit of the IP code (IEC 60529: jets of water) asked for where water is thrown (docs/choices.md)."""


def _part_temperature(design: Design, _: Studies) -> Iterator[Finding]:
    for placed in design.parts:
        make = partial(Finding, rule="part-temperature", group=WIRING, subject=placed.id, unit="°C")
        part = placed.part
        if placed.zone is None:
            yield make(
                severity=Severity.NOT_CHECKED,
                message=f"{placed.id}: no zone is given, so its temperature is not known.",
                way_out="Name the zone it is mounted in.",
            )
            continue
        hottest = placed.zone.ambient_max_degc
        is_hot = hottest > part.ambient_max_degc
        yield make(
            severity=Severity.FAIL if is_hot else Severity.PASS,
            message=f"{placed.id} in {placed.zone.id}: up to {temperature_text(design, hottest)}; built for up to "
            f"{temperature_text(design, part.ambient_max_degc)}. Heat from its neighbours is not counted.",
            value=hottest,
            limit=part.ambient_max_degc,
            source=part_source(part),
            way_out="Mount it in a cooler place." if is_hot else "",
        )


def _part_ingress(design: Design, _: Studies) -> Iterator[Finding]:
    for placed in design.parts:
        if placed.zone is None or placed.zone.kind not in WET_KINDS:
            continue
        make = partial(
            Finding, rule="part-ingress", group=WIRING, subject=placed.id, source=own_choice("ingress")
        )
        code = re.fullmatch(r"IP([0-6X])([0-9X])K?", placed.part.ingress_code.upper())
        if code is None or code[2] == "X":
            yield make(
                severity=Severity.NOT_CHECKED,
                message=f"{placed.id} in {placed.zone.id}: its degree of protection against water is not stated.",
                way_out="Find its IP code.",
            )
            continue
        is_open = int(code[2]) < WET_WATER_DIGIT
        yield make(
            severity=Severity.FAIL if is_open else Severity.PASS,
            message=f"{placed.id} in {placed.zone.id}: {placed.part.ingress_code}; against thrown water IPX5 is wanted.",
            value=float(code[2]),
            limit=float(WET_WATER_DIGIT),
            at_most=False,
            way_out="Mount it inside, in an enclosure, or use a part of a higher class." if is_open else "",
        )


PART_TEMPERATURE = Rule(
    name="part-temperature",
    group=WIRING,
    asks="Is each part built for the hottest air of its place?",
    check=_part_temperature,
)
PART_INGRESS = Rule(
    name="part-ingress",
    group=WIRING,
    asks="Is each part in a wet place built for it?",
    check=_part_ingress,
)
