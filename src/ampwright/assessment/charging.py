"""Rules on charging from the vehicle: what the hot alternator can spare, and when chargers start."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import part_source
from ampwright.energy.alternator import AlternatorState
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design, DesignPart
from ampwright.job.joins import relay_joins
from ampwright.job.supply import SECOND, alternator_name, is_second_direct, supply
from ampwright.parts.charger import AlternatorCharger
from ampwright.said import Said, said, said_together
from ampwright.sources import Source

__all__ = ["ALTERNATOR_SPARE", "IDLING", "RUN_SIGNAL", "run_signal_finding"]

USE = Group.USE
IDLING = said(
    "Idling engine: exhaust carries carbon monoxide, which kills without smell. Never idle "
    "in a closed space, beside an open door or window, or with people asleep; fit an alarm "
    "where people sleep. Many places forbid idling by law. A hot exhaust lights dry grass. "
    "At idle the alternator barely cools itself: it gives its hot-idle current and no more."
)
"""All that idling can do, said once on screen and paper (common practice, no source)."""


def _alternator_spare(design: Design, studies: Studies) -> Iterator[Finding]:
    """Hold the chargers against what is left hot: the label is a cold figure at high speed."""
    for state in studies.energy.alternator:
        if state.wanted_a > 0.0:
            yield _spare_finding(design, state, is_used=state.is_reached)


def _spare_way_out(design: Design, state: AlternatorState, where: Said) -> Said:
    if relay_joins(design) or (state.name == SECOND and is_second_direct(design)):
        return said(
            "Nothing but a charger sets a limit: the alternator works at its hot limit until the battery is fuller. Use a "
            "DC-DC charger whose limit can be set."
        )
    percent = int(100 * max(state.spare_a, 0.0) / state.wanted_a)
    if percent == 0:
        return said(
            "Nothing is left for the chargers {where}: keep them off then, or measure with a clamp meter what the alternator "
            "gives hot and what the vehicle takes.",
            where=where,
        )
    return said(
        "Limit the chargers to {share} % of their output {where}, or measure with a clamp meter what the alternator "
        "gives hot.",
        share=percent,
        where=where,
    )


def _spare_finding(design: Design, state: AlternatorState, *, is_used: bool) -> Finding:
    is_short = state.wanted_a > state.spare_a
    where = said("on the road") if state.state == "road" else said("at idle")
    when = said("by night") if state.is_night else said("by day")
    figures = {
        "where": where,
        "when": when,
        "alternator": Said(state.name, {}),
        "hot_a": state.hot_a,
        "label_a": state.label_a,
        "own_a": state.own_a,
        "spare_a": state.spare_a,
        "wanted_a": state.wanted_a,
    }
    severity = Severity.PASS
    if is_short:
        severity = Severity.CONDITION if is_used else Severity.ADVICE
    return Finding(
        rule="alternator-spare",
        group=USE,
        severity=severity,
        subject=said(
            "{name} {state} {what}",
            name=said(state.name),
            state=said(state.state),
            what=said("night") if state.is_night else said("day"),
        ),
        message=said(
            "Hot {where} {when} the {alternator} gives {hot_a:.0f} A of its {label_a:.0f} A; the vehicle takes {own_a:.0f} A, "
            "{spare_a:.0f} A are left; the chargers would take {wanted_a:.0f} A.",
            **figures,
        )
        if is_used
        else said(
            "Hot {where} {when} the {alternator} gives {hot_a:.0f} A of its {label_a:.0f} A; the vehicle takes {own_a:.0f} A, "
            "{spare_a:.0f} A are left; the chargers would take {wanted_a:.0f} A (this use is never {where} {when}).",
            **figures,
        ),
        value=state.wanted_a,
        limit=state.spare_a,
        unit="A",
        source=Source(document="job file", place=f"vehicle.{state.name.replace(' ', '_')}"),
        way_out=_spare_way_out(design, state, where) if is_short else "",
        caution=IDLING if state.state == "idle" and is_used else "",
    )


def _run_signal(design: Design, _: Studies) -> Iterator[Finding]:
    """Hold the lowest regulated voltage against the voltage at which a charger stops."""
    for placed, part in design.placed(AlternatorCharger):
        vehicle = design.vehicle
        if not vehicle.has_alternator:
            continue
        if part.needs_run_signal:
            yield run_signal_finding(design, placed.id, part_source(part), rule="run-signal")
        else:
            yield _by_voltage(design, placed, part)


def run_signal_finding(design: Design, subject: str, source: Source, *, rule: str) -> Finding:
    """Judge what tells a charger or relay that the engine runs."""
    make = partial(Finding, rule=rule, group=USE, subject=subject, source=source)
    alternator = design.job.vehicle.alternator
    signal = alternator.run_signal if alternator is not None else "not-said"
    regulation = design.vehicle.regulation
    is_stopped = design.vehicle.engine_off_frac > 0.0 or regulation == "converter"
    if signal == "not-said":
        return make(
            severity=Severity.ADVICE,
            message=said(
                "{part} starts only with its run signal: connect it to a wire that is live while the engine runs, and test "
                "that it is dead when it stands.",
                part=subject,
            ),
            way_out=said("Say which it is: run_signal in vehicle.alternator."),
        )
    trouble, way_out = "", ""
    if signal == "ignition" and is_stopped:
        trouble = said(
            "the ignition stays live while this vehicle stops its engine, and the starter battery is drawn on"
        )
        way_out = said(
            "Take a signal of the engine computer, or set a lock-out voltage above that of the standing engine."
        )
    elif signal == "charge-lamp" and regulation != "fixed":
        trouble = said(
            "a {regulation} supply often has no charge-lamp wire, or one that is dead while it rests",
            regulation=regulation,
        )
        way_out = said(
            "Measure the wire with the engine running and resting, or take a signal of the engine computer."
        )
    elif signal == "vibration" and is_stopped:
        trouble = said("nothing shakes while this vehicle drives or rests without its engine")
        way_out = said("Take a signal of the engine computer.")
    lost = said(
        "a lost signal stops the charging unnoticed: test it at hand-over, and watch the charger's state"
    )
    return make(
        severity=Severity.CONDITION if trouble else Severity.PASS,
        message=said(
            "{part} takes its run signal from: {signal}; {trouble}.",
            part=subject,
            signal=signal,
            trouble=trouble or lost,
        ),
        way_out=way_out,
    )


def _by_voltage(design: Design, placed: DesignPart, part: AlternatorCharger) -> Finding:
    """Judge a charger that tells from its input voltage whether the engine runs."""
    vehicle, setting = supply(design, alternator_name(design, placed)), placed.setting
    start_v = setting.start_v if setting and setting.start_v else part.input_start_v
    stop_v = setting.stop_v if setting and setting.stop_v else part.input_stop_v
    never = vehicle.alternator_v < start_v
    is_low = vehicle.alternator_low_v < stop_v
    is_blind = not never and not is_low and vehicle.regulation != "fixed"
    message = (
        said(
            "{part} starts at {start_v:.1f} V; this alternator gives {given_v:.1f} V, so it never starts.",
            part=placed.id,
            start_v=start_v,
            given_v=vehicle.alternator_v,
        )
        if never
        else said(
            "{part} stops below {stop_v:.1f} V at its input; this {regulation} alternator may fall to {low_v:.1f} V.",
            part=placed.id,
            stop_v=stop_v,
            regulation=vehicle.regulation,
            low_v=vehicle.alternator_low_v,
        )
    )
    if is_blind:
        blind = said(
            "Its voltage tells little of whether the engine runs: the charger may go on while it stands."
        )
        message = said_together((message, blind))
    return Finding(
        rule="run-signal",
        group=USE,
        severity=Severity.CONDITION if never or is_low else Severity.ADVICE if is_blind else Severity.PASS,
        subject=placed.id,
        message=message,
        value=vehicle.alternator_v if never else vehicle.alternator_low_v,
        limit=start_v if never else stop_v,
        unit="V",
        at_most=False,
        source=part_source(part),
        way_out=said("Use a charger with a run signal input.") if never or is_low or is_blind else "",
    )


ALTERNATOR_SPARE = Rule(
    name="alternator-spare",
    group=USE,
    asks="Does the hot alternator spare what the chargers take, on the road and at idle, by day and night?",
    check=_alternator_spare,
)
RUN_SIGNAL = Rule(
    name="run-signal",
    group=USE,
    asks="Does each alternator charger start when the engine runs?",
    check=_run_signal,
)
