"""Rule on hand-over: what was read back from each device against what was wanted."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from functools import partial

from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.setting_range import value_words
from ampwright.findings import Finding, Group, Severity
from ampwright.job.as_left import CHANNEL_VALUES, CUTOFF_VALUES, VALUES
from ampwright.job.design import Design
from ampwright.job.wiring import AsLeft, Channel, ChannelAsLeft, CutoffAsLeft, LoadCutoff, Setting
from ampwright.said import said, said_together
from ampwright.sources import own_choice
from ampwright.units import symbol, unit_suffix

__all__ = ["AS_LEFT", "COMFORT_SUBJECT", "CUTOFF_SUBJECT", "reading_tolerance", "wanted_limit_a"]

WIRING = Group.WIRING
CUTOFF_SUBJECT = said("load cut-off")
COMFORT_SUBJECT = said("load cut-off, comfort")
"""Name of the load cut-off, which is no placed part."""
TOLERANCE = {"v": 0.05, "a": 0.5, "minutes": 1.0, "s": 1.0, "v_per_k": 0.0005}
"""How far a reading may be off by the unit of its name (docs/choices.md#as-left)."""
HALF = 0.5


def reading_tolerance(name: str, step_v: float) -> float:
    """Return how far a reading may be from what is wanted, in its unit; half a step where one is stated.

    Examples
    --------
    >>> reading_tolerance("charge_v", 0.2), reading_tolerance("charge_v", 0.0)
    (0.1, 0.05)
    """
    unit = unit_suffix(name) or ""
    return HALF * step_v if unit == "v" and step_v > 0.0 else TOLERANCE[unit]


def _as_left(design: Design, _: Studies) -> Iterator[Finding]:
    steps = {placed.id: float(getattr(placed.part, "voltage_step_v", 0.0)) for placed in design.parts}
    for setting in design.wanted_settings:
        if setting.as_left is not None:
            step_v = steps.get(setting.part, 0.0)
            yield from _compared(setting.part, setting, setting.as_left, (VALUES, step_v))
    for channel in design.wanted_channels:
        if channel.as_left is not None:
            wanted = dataclasses.replace(channel, limit_a=wanted_limit_a(design, channel))
            name = f"{channel.module}.{channel.number}"
            yield from _compared(name, wanted, channel.as_left, (CHANNEL_VALUES, 0.0))
    cutoff = design.wanted_cutoff
    if cutoff is not None and cutoff.as_left is not None:
        yield from _compared(CUTOFF_SUBJECT, cutoff, cutoff.as_left, (CUTOFF_VALUES, 0.0))


def wanted_limit_a(design: Design, channel: Channel) -> float | None:
    """Return the limit wanted of a channel: as written, else the channel's own."""
    if channel.limit_a is not None:
        return channel.limit_a
    return next(
        (
            each.max_a
            for each in design.channels
            if (design.parts[each.part].id, each.number) == (channel.module, channel.number)
        ),
        None,
    )


def _compared(
    subject: str,
    wanted: Setting | LoadCutoff | Channel,
    left: AsLeft | CutoffAsLeft | ChannelAsLeft,
    by: tuple[tuple[str, ...], float],
) -> Iterator[Finding]:
    """Yield one finding for each figure that is off, and one for the device otherwise."""
    names, step_v = by
    make = partial(Finding, rule="as-left", group=WIRING, subject=subject, source=own_choice("as-left"))
    who = said("read by {by} on {isoformat}", by=left.by, isoformat=left.date.isoformat())
    unread, is_off = [], False
    for name in names:
        want, read = getattr(wanted, name), getattr(left, name)
        if want is None or want == read:
            continue
        if read is None:
            unread.append(value_words(name))
        elif isinstance(want, str) or abs(want - read) > reading_tolerance(name, step_v) + 1e-9:
            is_off = True
            yield make(
                severity=Severity.CONDITION,
                message=said(
                    "{subject}: {value_words} was left at {text} ({who}), {text_2} is wanted. The checks use "
                    "{text}.",
                    subject=subject,
                    value_words=value_words(name),
                    text=_said(read, name),
                    who=who,
                    text_2=_said(want, name),
                ),
                value=None if isinstance(read, str) else float(read),
                limit=None if isinstance(want, str) else float(want),
                unit=symbol(name),
                at_most=not isinstance(want, str) and read > want,
                way_out=said("Set it as wanted and read it back, or change what is wanted."),
            )
    if unread:
        yield make(
            severity=Severity.ADVICE,
            message=said(
                "{subject}: not read back: {unread}. The checks use what is wanted.",
                subject=subject,
                unread=said_together(unread, between=", "),
            ),
            way_out=said("Read it from the device and record it."),
        )
    elif not is_off:
        yield make(
            severity=Severity.PASS,
            message=said(
                "{subject} was left as wanted ({who}); the checks use that.", subject=subject, who=who
            ),
        )


def _said(value: float | str, name: str) -> str:
    if isinstance(value, str):
        return f"'{value}'"
    unit = symbol(name)
    return (
        said("{value:.2f} {unit}", value=value, unit=unit)
        if unit == "V"
        else said("{value:g} {unit}", value=value, unit=unit)
    )


AS_LEFT = Rule(
    name="as-left",
    group=WIRING,
    asks="Does what was read back from each device agree with what was wanted?",
    check=_as_left,
)
