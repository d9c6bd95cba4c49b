"""Rules on electronic outputs: channel, module and feed against what they carry."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import part_source
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.job.design_wiring import DesignChannel
from ampwright.parts.switchgear import OutputModule
from ampwright.said import said
from ampwright.switching.plan import ChannelLoads

__all__ = ["CHANNEL_CURRENT", "MODULE_CURRENT", "NEGATIVE_SWITCHED"]

WIRING = Group.WIRING


def _channel_current(design: Design, studies: Studies) -> Iterator[Finding]:
    make = partial(Finding, rule="channel-current", group=WIRING)
    for used in studies.switching.channels:
        placed = design.parts[used.part]
        subject = f"{placed.id}.{used.number}"
        if used.channel < 0:
            yield make(
                severity=Severity.NOT_CHECKED,
                subject=subject,
                message=said(
                    "{subject} has a run but is not described as a channel; its limit is not known.",
                    subject=subject,
                ),
                way_out=said("Add a [[channel]] with its name and limit."),
            )
            continue
        channel = design.channels[used.channel]
        source = part_source(placed.part)
        yield _carried(design, studies, used, channel)
        if channel.limit_a > channel.max_a:
            yield make(
                severity=Severity.FAIL,
                subject=subject,
                message=said(
                    "{subject}: a limit of {limit_a:g} A is set; the channel is built for {max_a:g} A.",
                    subject=subject,
                    limit_a=channel.limit_a,
                    max_a=channel.max_a,
                ),
                value=channel.limit_a,
                limit=channel.max_a,
                unit="A",
                source=source,
                way_out=said("Set the limit at or below the channel's own."),
            )
        if channel.is_dimmed and not channel.is_dimmable:
            yield make(
                severity=Severity.FAIL,
                subject=subject,
                message=said(
                    "{subject} '{name}' is to be dimmed; this channel cannot dim.",
                    subject=subject,
                    name=channel.name,
                ),
                source=source,
                way_out=said("Move the load to a channel that dims."),
            )


def _carried(design: Design, studies: Studies, used: ChannelLoads, channel: DesignChannel) -> Finding:
    """Hold the larger of nominal sum and calculated current at low battery against limit and channel."""
    placed = design.parts[used.part]
    subject = f"{placed.id}.{used.number}"
    solved_a = _link_a(design, studies, channel.node)
    make = partial(Finding, rule="channel-current", group=WIRING, subject=subject, unit="A")
    limit_a = min(channel.limit_a, channel.max_a)
    if math.isnan(solved_a):
        return make(
            severity=Severity.NOT_CHECKED,
            message=said(
                "{subject} '{name}': its current could not be calculated.", subject=subject, name=channel.name
            ),
        )
    current_a = max(used.peak_a, solved_a)
    is_over = current_a > limit_a
    return make(
        severity=Severity.FAIL if is_over else Severity.PASS,
        message=said(
            "{subject} '{name}' carries {current_a:.1f} A at peak; it is set to {limit_a:g} A and "
            "built for {max_a:g} A.",
            subject=subject,
            name=channel.name,
            current_a=current_a,
            limit_a=channel.limit_a,
            max_a=channel.max_a,
        ),
        value=current_a,
        limit=limit_a,
        source=part_source(placed.part),
        way_out=said("Use a larger channel or spread the loads.") if is_over else "",
    )


def _link_a(design: Design, studies: Studies, node: int) -> float:
    return next(
        (
            float(studies.network.link_peak_a[index])
            for index, link in enumerate(design.links)
            if link.end == node
        ),
        math.nan,
    )


def _module_current(design: Design, studies: Studies) -> Iterator[Finding]:
    make = partial(Finding, rule="module-current", group=WIRING, unit="A")
    for used in studies.switching.modules:
        placed = design.parts[used.part]
        part = placed.part
        if not isinstance(part, OutputModule):
            continue
        yield _feed_fuse(design, studies, used.part, part)
        channels_a = [
            _link_a(design, studies, design.node_of(f"{placed.id}.{one.number}"))
            for one in studies.switching.channels
            if one.part == used.part
        ]
        if any(math.isnan(current_a) for current_a in channels_a):
            yield make(
                severity=Severity.NOT_CHECKED,
                subject=placed.id,
                message=said("{part}: the current of its channels could not be calculated.", part=placed.id),
            )
            continue
        total_a = max(used.peak_a, sum(channels_a))
        is_over = total_a > part.total_max_a
        yield make(
            severity=Severity.FAIL if is_over else Severity.PASS,
            subject=placed.id,
            message=said(
                "{part}: all channels together carry {total_a:.1f} A at peak; the module is built for "
                "{total_max_a:g} A.",
                part=placed.id,
                total_a=total_a,
                total_max_a=part.total_max_a,
            ),
            value=total_a,
            limit=part.total_max_a,
            source=part_source(part),
            way_out=said("Add a module, or do not run them together.") if is_over else "",
        )


def _feed_fuse(design: Design, studies: Studies, index: int, part: OutputModule) -> Finding:
    placed = design.parts[index]
    make = partial(Finding, rule="module-current", group=WIRING, unit="A", subject=placed.id)
    node = design.node_of(f"{placed.id}.in")
    feeds = [
        circuit for circuit in studies.circuits.by_run if circuit.far_node == node and not circuit.why_unknown
    ]
    guard = next((circuit.own or circuit.upstream for circuit in feeds), None)
    if guard is None:
        return make(
            severity=Severity.NOT_CHECKED,
            message=said("{part}: no device was found in its feed.", part=placed.id),
            way_out=said(
                "Put a fuse of at most {feed_fuse_max_a:g} A in its feed.",
                feed_fuse_max_a=part.feed_fuse_max_a,
            ),
        )
    is_over = guard.rating_a > part.feed_fuse_max_a
    return make(
        severity=Severity.FAIL if is_over else Severity.PASS,
        message=said(
            "{part}: its feed has {device}, {rating_a:g} A; at most {feed_fuse_max_a:g} A is allowed.",
            part=placed.id,
            device=guard.device.id,
            rating_a=guard.rating_a,
            feed_fuse_max_a=part.feed_fuse_max_a,
        ),
        value=guard.rating_a,
        limit=part.feed_fuse_max_a,
        source=part_source(part),
        way_out=said("Use a smaller fuse in the feed.") if is_over else "",
    )


def _negative_switched(design: Design, studies: Studies) -> Iterator[Finding]:
    """Ask a fuse for each feed whose load is switched in its negative lead: the positive stays live."""
    for used in studies.switching.channels:
        if used.channel < 0 or design.channels[used.channel].side != "low":
            continue
        placed = design.parts[used.part]
        runs = [
            circuit
            for circuit in studies.circuits.by_run
            if circuit.feeding_node == design.channels[used.channel].node and not circuit.is_in_loop
        ]
        if not runs:
            yield Finding(
                rule="negative-switched",
                group=WIRING,
                severity=Severity.NOT_CHECKED,
                subject=f"{placed.id}.{used.number}",
                message=said(
                    "{part}.{number}: its feed could not be followed (not fed, or in a loop).",
                    part=placed.id,
                    number=used.number,
                ),
            )
            continue
        is_open = any(circuit.own is None for circuit in runs)
        yield Finding(
            rule="negative-switched",
            group=WIRING,
            severity=Severity.FAIL if is_open else Severity.PASS,
            subject=f"{placed.id}.{used.number}",
            message=said(
                "{part}.{number} switches the negative lead; the positive stays live",
                part=placed.id,
                number=used.number,
            )
            + (said(" and has no fuse of its own.") if is_open else said(" and has its own fuse.")),
            source=part_source(placed.part),
            way_out=said("Put a fuse into the positive feed of this load.") if is_open else "",
        )


CHANNEL_CURRENT = Rule(
    name="channel-current",
    group=WIRING,
    asks="Does each output channel carry its loads, and can it do what is asked?",
    check=_channel_current,
)
MODULE_CURRENT = Rule(
    name="module-current",
    group=WIRING,
    asks="Does each output module carry all its channels, and is its feed's device small enough?",
    check=_module_current,
)
NEGATIVE_SWITCHED = Rule(
    name="negative-switched",
    group=WIRING,
    asks="Has each load switched in its negative lead its own fuse in the live feed?",
    check=_negative_switched,
)
