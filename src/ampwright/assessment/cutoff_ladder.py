"""Rules on low voltage: in which order things switch off, with what gap under load, and when they come back."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from ampwright.assessment.as_left import COMFORT_SUBJECT, CUTOFF_SUBJECT
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.sag import Sag, sag_of
from ampwright.assessment.wording import part_source
from ampwright.energy.bank import bank_table
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design, DesignPart
from ampwright.job.device_settings import as_charger, set_float_v, set_inverter_start_v, set_inverter_stop_v
from ampwright.job.wiring import ComfortStage
from ampwright.parts.inverter import Inverter
from ampwright.said import said
from ampwright.sources import COMMON_PRACTICE, own_choice

__all__ = ["CUTOFF_LADDER", "CUTOFF_RESTART"]

WIRING = Group.WIRING


def _coldest_degc(studies: Studies) -> float:
    """Return the coldest cell of the use; NaN where it was not calculated."""
    return float(studies.energy.cell_degc.min())


def _limit_words(design: Design) -> str:
    placed = design.parts[design.battery]
    last_v = design.battery_part().cutoff_v * placed.in_series
    is_managed = design.battery_part().chemistry == "lfp"
    return (
        said("management opens at {last_v:.1f} V", last_v=last_v)
        if is_managed
        else said("below {last_v:.1f} V it is harmed", last_v=last_v)
    )


def _cutoff_ladder(design: Design, studies: Studies) -> Iterator[Finding]:
    placed, battery = design.parts[design.battery], design.battery_part()
    make = partial(Finding, rule="cutoff-ladder", group=WIRING, unit="V", at_most=False)
    last_v = battery.cutoff_v * placed.in_series
    cutoff = design.job.load_cutoff
    if cutoff is None:
        if battery.chemistry == "lfp":
            yield make(
                severity=Severity.CONDITION,
                subject=CUTOFF_SUBJECT,
                message=said(
                    "Nothing switches the loads off before {limit_words}: the battery's last resort is the "
                    "working cut-off, and everything is lost at once.",
                    limit_words=_limit_words(design),
                ),
                source=COMMON_PRACTICE,
                way_out=said("Add a load cut-off."),
            )
    else:
        yield _against_last(design, studies, last_v)
        if cutoff.comfort is not None:
            yield _comfort_first(cutoff.comfort, cutoff.open_v)
    for inverter, part in design.placed(Inverter):
        yield _inverter_before_last(design, inverter, part, last_v)
        if cutoff is not None:
            yield _inverter_after_loads(design, studies, inverter, part)


def _comfort_first(stage: ComfortStage, open_v: float) -> Finding:
    """Hold the stage of the comfort loads against the cut-off of all: it must open earlier and by a gap."""
    is_late = stage.open_v <= open_v
    is_turned = stage.close_v <= stage.open_v
    return Finding(
        rule="cutoff-ladder",
        group=WIRING,
        severity=Severity.CONDITION if is_late or is_turned else Severity.PASS,
        subject=COMFORT_SUBJECT,
        message=said(
            "Loads of comfort go off below {open_v:.1f} V and come back above {close_v:.1f} V; all "
            "loads go off below {open_v_2:.1f} V",
            open_v=stage.open_v,
            close_v=stage.close_v,
            open_v_2=open_v,
        )
        + (
            said(": nothing is shed first.")
            if is_late
            else said(": they would come back at once.") * is_turned or "."
        ),
        value=stage.open_v,
        limit=open_v,
        unit="V",
        at_most=False,
        source=COMMON_PRACTICE,
        way_out=said("Let comfort loads open well above the cut-off and close above where they open.")
        if is_late or is_turned
        else "",
    )


def _against_last(design: Design, studies: Studies, last_v: float) -> Finding:
    """Hold the battery's terminals, sagging from the load cut-off, against its own last limit."""
    sag = sag_of(design, studies.network, _coldest_degc(studies))
    make = partial(
        Finding,
        rule="cutoff-ladder",
        group=WIRING,
        subject=CUTOFF_SUBJECT,
        limit=last_v,
        unit="V",
        at_most=False,
        source=part_source(design.battery_part()),
    )
    if sag.rest_v <= last_v:
        return make(
            severity=Severity.CONDITION,
            message=said(
                "Loads are switched off below {rest_v:.1f} V; {limit_words}, so that comes first.",
                rest_v=sag.rest_v,
                limit_words=_limit_words(design),
            ),
            value=sag.rest_v,
            way_out=said("Set the load cut-off above it, with room for the sag."),
        )
    if math.isnan(sag.current_a):
        return make(
            severity=Severity.NOT_CHECKED,
            message=said(
                "The sag at the load cut-off could not be calculated: the battery's largest current is "
                "not known."
            ),
        )
    is_low = not sag.terminal_v >= last_v
    sags = (
        said("gives way")
        if math.isnan(sag.terminal_v)
        else said("sags to {terminal_v:.2f} V", terminal_v=sag.terminal_v)
    )
    return make(
        severity=Severity.CONDITION if is_low else Severity.PASS,
        message=said(
            "Just above the cut-off at {rest_v:.1f} V the heaviest load takes {current_a:.0f} A and "
            "the battery, {resistance_ohm:.1f} mΩ, {sags}; {limit_words}.",
            rest_v=sag.rest_v,
            current_a=sag.current_a,
            resistance_ohm=1000 * sag.resistance_ohm,
            sags=sags,
            limit_words=_limit_words(design),
        ),
        value=None if math.isnan(sag.terminal_v) else sag.terminal_v,
        way_out=said("Raise the load cut-off, or leave the largest loads off when the battery is low.")
        if is_low
        else "",
    )


def _inverter_before_last(design: Design, placed: DesignPart, part: Inverter, last_v: float) -> Finding:
    """Hold the two thresholds against each other: at light load no voltage is lost on the way.

    A lead-acid battery's limit switches nothing; where the load cut-off sheds the inverter, that protects it.
    """
    stop_v = set_inverter_stop_v(placed, part)
    is_shed = design.job.load_cutoff is not None and design.battery_part().chemistry != "lfp"
    is_late = stop_v <= last_v and not is_shed
    return Finding(
        rule="cutoff-ladder",
        group=WIRING,
        severity=Severity.CONDITION if is_late else Severity.PASS,
        subject=placed.id,
        message=said(
            "{part} switches off below {stop_v:.1f} V; battery: {limit_words}.",
            part=placed.id,
            stop_v=stop_v,
            limit_words=_limit_words(design),
        ),
        value=None if is_shed else stop_v,
        limit=None if is_shed else last_v,
        unit="V",
        at_most=False,
        source=part_source(design.battery_part()),
        way_out=said("Set its low-voltage cut-off above that.") if is_late else "",
    )


def _inverter_after_loads(design: Design, studies: Studies, placed: DesignPart, part: Inverter) -> Finding:
    """Hold the voltage at the inverter, sagging from the load cut-off, against its own cut-off."""
    stop_v = set_inverter_stop_v(placed, part)
    sag = sag_of(design, studies.network, _coldest_degc(studies))
    make = partial(
        Finding,
        rule="cutoff-ladder",
        group=WIRING,
        subject=placed.id,
        limit=stop_v,
        unit="V",
        at_most=False,
        source=part_source(part),
    )
    if sag.rest_v <= stop_v:
        return make(
            severity=Severity.CONDITION,
            message=said(
                "{part} switches off below {stop_v:.1f} V, before the loads at {rest_v:.1f} V.",
                part=placed.id,
                stop_v=stop_v,
                rest_v=sag.rest_v,
            ),
            value=sag.rest_v,
            way_out=said("Set its low-voltage cut-off below the load cut-off."),
        )
    there_v = _voltage_there(sag, float(studies.network.node_low_v[design.node_of(placed.id)]))
    if math.isnan(there_v):
        return make(
            severity=Severity.NOT_CHECKED,
            message=said(
                "{part}: its voltage under load, battery at the load cut-off, could not be calculated.",
                part=placed.id,
            ),
        )
    is_low = there_v < stop_v
    return make(
        severity=Severity.CONDITION if is_low else Severity.PASS,
        message=said(
            "{part} sees {there_v:.2f} V with the heaviest load when the battery was at the load "
            "cut-off of {rest_v:.1f} V; it switches off below {stop_v:.1f} V",
            part=placed.id,
            there_v=there_v,
            rest_v=sag.rest_v,
            stop_v=stop_v,
        )
        + (said(", so it goes before the loads do.") if is_low else "."),
        value=there_v,
        way_out=said("Set its cut-off lower, use a larger cable, or use heavy loads with a fuller battery.")
        if is_low
        else "",
    )


def _voltage_there(sag: Sag, corner_v: float) -> float:
    """Return the voltage at the end of a feed: the drop of the corner, grown with the current of the sag."""
    if math.isnan(sag.terminal_v) or math.isnan(corner_v):
        return math.nan
    return sag.terminal_v - (sag.rest_v - corner_v) * sag.rest_v / sag.terminal_v


def _cutoff_restart(design: Design, studies: Studies) -> Iterator[Finding]:
    sag = sag_of(design, studies.network, _coldest_degc(studies))
    cutoff = design.job.load_cutoff
    if cutoff is not None:
        yield _oscillation(sag, (CUTOFF_SUBJECT, cutoff.open_v, cutoff.close_v), 0.0)
        yield _comes_back(design, CUTOFF_SUBJECT, cutoff.close_v)
        if cutoff.comfort is not None:
            yield _comes_back(design, COMFORT_SUBJECT, cutoff.comfort.close_v)
    for placed, part in design.placed(Inverter):
        stop_v, start_v = set_inverter_stop_v(placed, part), set_inverter_start_v(placed, part)
        if start_v <= 0.0:
            yield Finding(
                rule="cutoff-restart",
                group=WIRING,
                severity=Severity.NOT_CHECKED,
                subject=placed.id,
                message=said("{part}: the voltage at which it starts again is not known.", part=placed.id),
                way_out=said("Give input_restart_v of the part, or start_v of the setting."),
            )
            continue
        low_v = float(studies.network.node_low_v[design.node_of(placed.id)])
        yield _oscillation(sag, (placed.id, stop_v, start_v), max(sag.rest_v - low_v, 0.0))
        yield _comes_back(design, placed.id, start_v)


def _oscillation(sag: Sag, by: tuple[str, float, float], drop_v: float) -> Finding:
    """Hold the voltage above which a device closes against what the battery springs back to when it opens."""
    subject, open_v, close_v = by
    make = partial(
        Finding, rule="cutoff-restart", group=WIRING, subject=subject, unit="V", at_most=False, value=close_v
    )
    if math.isnan(sag.current_a) or math.isnan(drop_v):
        return make(
            severity=Severity.NOT_CHECKED,
            message=said(
                "{subject}: what the voltage springs back to could not be calculated.", subject=subject
            ),
            value=None,
        )
    back_v = open_v + drop_v + sag.current_a * sag.resistance_ohm
    is_low = close_v <= back_v
    return make(
        severity=Severity.CONDITION if is_low else Severity.PASS,
        message=said(
            "{subject} opens below {open_v:.1f} V; with {current_a:.0f} A gone the voltage springs "
            "back to {back_v:.2f} V, and it closes above {close_v:.1f} V",
            subject=subject,
            open_v=open_v,
            current_a=sag.current_a,
            back_v=back_v,
            close_v=close_v,
        )
        + (said(": it would open and close by turns.") if is_low else "."),
        limit=back_v,
        source=own_choice("spring-back"),
        way_out=said("Set it to close at {ceil:.1f} V or more.", ceil=math.ceil(10.0 * back_v + 1.0) / 10.0)
        if is_low
        else "",
    )


def _comes_back(design: Design, subject: str, close_v: float) -> Finding:
    """Judge whether a charged battery brings it back: by a charger's float, or by its own rest voltage."""
    floats = [
        set_float_v(placed, part) for placed in design.parts if (part := as_charger(placed)) is not None
    ]
    rest_v = float(bank_table(design).table_v[-1])
    most_v = min(floats, default=rest_v)
    is_high = close_v >= most_v
    return Finding(
        rule="cutoff-restart",
        group=WIRING,
        severity=Severity.CONDITION if is_high else Severity.PASS,
        subject=subject,
        message=said("{subject} closes above {close_v:.1f} V; ", subject=subject, close_v=close_v)
        + (
            said("chargers hold the battery at {most_v:.2f} V", most_v=most_v)
            if floats
            else said("a full battery rests at {most_v:.2f} V", most_v=most_v)
        )
        + (said(": a charged battery may never bring it back.") if is_high else "."),
        value=close_v,
        limit=most_v,
        unit="V",
        source=COMMON_PRACTICE,
        way_out=said("Set it to close lower.") if is_high else "",
    )


CUTOFF_LADDER = Rule(
    name="cutoff-ladder",
    group=WIRING,
    asks="Do loads, inverter and battery management switch off in this order, also under the heaviest load?",
    check=_cutoff_ladder,
)
CUTOFF_RESTART = Rule(
    name="cutoff-restart",
    group=WIRING,
    asks="Does what switched off at low voltage come back once, and only with a charged battery?",
    check=_cutoff_restart,
)
