"""Rule on white light rearwards: off while driving on the road, and off when the vehicle's signal is lost."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ampwright.assessment.rule import Rule, Studies
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.sources import Source
from ampwright.switching.buttons import VehicleSignal, blocked, button_plan

__all__ = ["ROAD_LIGHT"]

NO_WHITE_REARWARDS = Source(document="UN Regulation No. 48", place="5.10", standing="from memory")
STAYS_ON: tuple[tuple[VehicleSignal, str], ...] = (
    ("road", "while driving on the road"),
    ("lost", "when the signal of the vehicle is lost"),
)


def _road_light(design: Design, studies: Studies) -> Iterator[Finding]:
    if not design.buttons:
        return
    make = partial(Finding, rule="road-light", group=Group.USE)
    plan = button_plan(design)
    for one in studies.switching.channels:
        if one.channel < 0 or not one.loads:
            continue
        channel = design.channels[one.channel]
        name = f"{design.parts[one.part].id}.{one.number}"
        if channel.light_outside is None and one.channel in plan.switchable:
            yield make(
                severity=Severity.NOT_CHECKED,
                subject=name,
                message=f"Whether {name} '{channel.name}' shows light outside the vehicle is not said.",
                way_out='Say light_outside of the channel: "none", "white-rearward" or "other".',
            )
        if channel.light_outside != "white-rearward":
            continue
        on = [words for signal, words in STAYS_ON if one.channel not in blocked(plan, signal)]
        if on:
            message = f"{name} '{channel.name}' shows white light rearwards and can be on {' and '.join(on)}."
        else:
            message = f"{name} '{channel.name}' shows white light rearwards; an interlock keeps it off on the road and without a signal."
        yield make(
            severity=Severity.CONDITION if on else Severity.PASS,
            subject=name,
            message=message,
            source=NO_WHITE_REARWARDS,
            way_out=_way_out(is_always_on=channel.is_always_on) if on else "",
            caution="Those behind take white light for a vehicle coming towards them, or are dazzled."
            if on
            else "",
        )


def _way_out(*, is_always_on: bool) -> str:
    lock = 'Add an [[interlock]] of the channel with off_while = ["road"] and when_lost = "off"; reversing stays possible.'
    return f"Give it a button in place of is_always_on. {lock}" if is_always_on else lock


ROAD_LIGHT = Rule(
    name="road-light",
    group=Group.USE,
    asks="Does white light rearwards stay off on the road, also when the signal is lost?",
    check=_road_light,
)
