"""Rules on buttons: each load has one, each does something, its legend fits, and it dims only what can dim."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import named, part_source
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.job.design_buttons import DesignButton
from ampwright.parts.switchgear import ButtonPanel, Remote
from ampwright.said import Said, said
from ampwright.sources import Source
from ampwright.switching.buttons import DIM_STEPS_FRAC, button_plan
from ampwright.switching.exercise import buttons_without_effect, channels_reached

__all__ = ["BUTTON_DIMMING", "BUTTON_EFFECT", "BUTTON_LEGEND", "LOAD_BUTTON"]

WRITTEN = Source(document="job file", place="buttons and channels")


def button_text(design: Design, button: DesignButton) -> Said:
    """Return "buttons.3 'WHITE'" for messages."""
    return said("{button} '{legend}'", button=button_subject(design, button), legend=button.legend)


def button_subject(design: Design, button: DesignButton) -> Said:
    """Return "buttons.3": the panel and the number on it."""
    return said("{panel}.{number}", panel=design.parts[button.part].id, number=button.number)


def channel_text(design: Design, position: int) -> str:
    """Return "outputs.5" for a channel by its position in the design."""
    channel = design.channels[position]
    return f"{design.parts[channel.part].id}.{channel.number}"


def _load_button(design: Design, studies: Studies) -> Iterator[Finding]:
    make = partial(Finding, rule="load-button", group=Group.USE)
    panels = [placed for placed in design.parts if isinstance(placed.part, ButtonPanel | Remote)]
    if not design.buttons:
        for placed in panels:
            yield make(
                severity=Severity.NOT_CHECKED,
                subject=placed.id,
                message=said("The job does not say what the buttons of {panel} do.", panel=placed.id),
                way_out=said("Add a [[button]] for each, with its number, legend and channels."),
            )
        return
    reached = channels_reached(button_plan(design))
    for load in design.loads:
        used = [one for one in studies.switching.channels if load.index in one.loads]
        if not used:
            continue
        names = named(f"{design.parts[one.part].id}.{one.number}" for one in used)
        if any(one.channel < 0 for one in used):
            yield make(
                severity=Severity.NOT_CHECKED,
                subject=load.id,
                message=said(
                    "{load} hangs on {channels}, which no [[channel]] describes; what switches it is not known.",
                    load=load.id,
                    channels=names,
                ),
                way_out=said("Add the [[channel]], and a button or is_always_on."),
            )
            continue
        lacking = [
            one.channel
            for one in used
            if one.channel not in reached and not design.channels[one.channel].is_always_on
        ]
        if lacking:
            yield make(
                severity=Severity.CONDITION,
                subject=load.id,
                message=said(
                    "No sequence of presses turns {channels} on, so {load} never runs.",
                    channels=named(channel_text(design, each) for each in lacking),
                    load=load.id,
                ),
                source=WRITTEN,
                way_out=said("Give it a button, or say is_always_on of its channel."),
            )
        else:
            yield make(
                severity=Severity.PASS,
                subject=load.id,
                message=said(
                    "{load} can be switched, or is always on ({channels}).", load=load.id, channels=names
                ),
                source=WRITTEN,
            )


def _button_effect(design: Design, studies: Studies) -> Iterator[Finding]:
    dead = set(buttons_without_effect(button_plan(design)))
    wired = {one.channel for one in studies.switching.channels}
    for button in design.buttons:
        make = partial(
            Finding,
            rule="button-effect",
            group=Group.USE,
            subject=button_subject(design, button),
            source=WRITTEN,
        )
        name = button_text(design, button)
        empty = [channel_text(design, each) for each in button.channels if each not in wired]
        if button.index in dead:
            yield make(
                severity=Severity.CONDITION,
                message=said(
                    "{button} changes nothing, whatever was pressed before and whatever the vehicle tells.",
                    button=name,
                ),
                way_out=said("Give it channels that no interlock keeps off in every state, or take it out."),
            )
        elif empty:
            yield make(
                severity=Severity.CONDITION,
                message=said(
                    "{button} switches {channels}, where nothing is wired.",
                    button=name,
                    channels=named(empty),
                ),
                way_out=said("Wire a load to it, or take the channel out of the button."),
            )
        else:
            yield make(severity=Severity.PASS, message=said("{button} does something.", button=name))


def _button_legend(design: Design, _: Studies) -> Iterator[Finding]:
    for button in design.buttons:
        part = design.parts[button.part].part
        make = partial(Finding, rule="button-legend", group=Group.USE, subject=button_subject(design, button))
        twins = [
            each
            for each in design.buttons
            if each.part == button.part and each.legend == button.legend and each.index != button.index
        ]
        if twins:
            yield make(
                severity=Severity.CONDITION,
                message=said(
                    "{button} has the legend of {other} too; nobody can tell them apart.",
                    button=button_text(design, button),
                    other=button_subject(design, twins[0]),
                ),
                way_out=said("Give each button of a panel its own legend."),
                source=WRITTEN,
            )
        if not isinstance(part, ButtonPanel):
            continue
        count = len(button.legend)
        is_long = count > part.legend_max_count
        yield make(
            severity=Severity.CONDITION if is_long else Severity.PASS,
            message=said(
                "{button}: {count} characters; {limit} fit.",
                button=button_text(design, button),
                count=count,
                limit=part.legend_max_count,
            ),
            value=float(count),
            limit=float(part.legend_max_count),
            unit="characters",
            source=part_source(part),
            way_out=said("Shorten the legend.") if is_long else "",
        )


def _button_dimming(design: Design, _: Studies) -> Iterator[Finding]:
    for button in design.buttons:
        dimmed = [channel for channel, level_frac in _levels(button) if 0.0 < level_frac < 1.0]
        if not dimmed:
            continue
        make = partial(
            Finding, rule="button-dimming", group=Group.USE, subject=button_subject(design, button)
        )
        name = button_text(design, button)
        cannot = [each for each in dimmed if not design.channels[each].is_dimmable]
        unsaid = [each for each in dimmed if not design.channels[each].is_dimmed]
        source = part_source(design.parts[design.channels[(cannot or dimmed)[0]].part].part)
        if cannot:
            yield make(
                severity=Severity.FAIL,
                message=said(
                    "{button} dims {channels}, which cannot dim.",
                    button=name,
                    channels=named(channel_text(design, each) for each in cannot),
                ),
                source=source,
                way_out=said("Move the load to a channel that dims, or let the button only switch."),
            )
        elif unsaid:
            yield make(
                severity=Severity.CONDITION,
                message=said(
                    "{button} dims {channels}; the job does not say that they are dimmed.",
                    button=name,
                    channels=named(channel_text(design, each) for each in unsaid),
                ),
                source=WRITTEN,
                way_out=said(
                    "Say is_dimmed = true of the channel, and ask whether its load may be dimmed by pulse width."
                ),
            )
        else:
            yield make(
                severity=Severity.PASS,
                message=said("{button} dims channels that can dim.", button=name),
                source=source,
            )


def _levels(button: DesignButton) -> Iterator[tuple[int, float]]:
    """Yield each channel with the lowest level the button gives it."""
    if button.does == "scene":
        yield from zip(button.channels, button.levels_frac, strict=True)
    elif button.does == "dim":
        yield from ((channel, DIM_STEPS_FRAC[-1]) for channel in button.channels)


LOAD_BUTTON = Rule(
    name="load-button",
    group=Group.USE,
    asks="Can each load on an output channel be switched, or is it said to be always on?",
    check=_load_button,
)
BUTTON_EFFECT = Rule(
    name="button-effect",
    group=Group.USE,
    asks="Does each button do something?",
    check=_button_effect,
)
BUTTON_LEGEND = Rule(
    name="button-legend",
    group=Group.USE,
    asks="Does the legend of each button fit, and is it the only one of its kind on the panel?",
    check=_button_legend,
)
BUTTON_DIMMING = Rule(
    name="button-dimming",
    group=Group.USE,
    asks="Do buttons and scenes dim only channels that can dim?",
    check=_button_dimming,
)
