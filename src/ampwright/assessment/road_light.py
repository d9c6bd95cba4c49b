"""Rule on white light rearwards: off while driving on the road, and off when the vehicle's signal is lost."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ampwright.assessment.rule import Rule, Studies
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.job.design_wiring import DesignChannel
from ampwright.said import Said, all_of, said, said_together
from ampwright.sources import Source
from ampwright.switching.buttons import VehicleSignal, blocked, button_plan

__all__ = ["ROAD_LIGHT"]

NO_WHITE_REARWARDS = Source(document="UN Regulation No. 48", place="5.10", standing="from memory")
STAYS_ON: tuple[tuple[VehicleSignal, Said], ...] = (
    ("road", said("while driving on the road")),
    ("lost", said("when the signal of the vehicle is lost")),
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
                message=said(
                    "Whether {channel} '{name}' shows light outside the vehicle is not said.",
                    channel=name,
                    name=channel.name,
                ),
                way_out=said('Say light_outside of the channel: "none", "white-rearward" or "other".'),
            )
        if channel.light_outside == "white-rearward":
            on = tuple(words for signal, words in STAYS_ON if one.channel not in blocked(plan, signal))
            yield _rearward(channel, name, on)


def _rearward(channel: DesignChannel, name: str, on: tuple[Said, ...]) -> Finding:
    """Say of a lamp that shines rearwards in which states it can be on that it must not."""
    make = partial(Finding, rule="road-light", group=Group.USE, subject=name, source=NO_WHITE_REARWARDS)
    if not on:
        return make(
            severity=Severity.PASS,
            message=said(
                "{channel} '{name}' shows white light rearwards; an interlock keeps it off on the road and without a signal.",
                channel=name,
                name=channel.name,
            ),
        )
    need = said("Give it a button in place of is_always_on.") if channel.is_always_on else ""
    lock = said(
        'Add an [[interlock]] of the channel with off_while = ["road"] and when_lost = "off"; reversing stays possible.'
    )
    return make(
        severity=Severity.CONDITION,
        message=said(
            "{channel} '{name}' shows white light rearwards and can be on {states}.",
            channel=name,
            name=channel.name,
            states=all_of(on),
        ),
        way_out=said_together((need, lock)),
        caution=said("Those behind take white light for a vehicle coming towards them, or are dazzled."),
    )


ROAD_LIGHT = Rule(
    name="road-light",
    group=Group.USE,
    asks="Does white light rearwards stay off on the road, also when the signal is lost?",
    check=_road_light,
)
