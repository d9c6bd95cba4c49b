"""Rules on relays between the two batteries: contacts, engine start, pick-up, protection, and what they charge."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

import numpy as np

from ampwright.assessment.capacity import largest_device_a, run_capacity
from ampwright.assessment.charging import run_signal_finding
from ampwright.assessment.device_size import FIRE
from ampwright.assessment.direct_charging import direct_charging
from ampwright.assessment.exposure import highest_v
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import part_source, run_text
from ampwright.energy.alternator import charging_v
from ampwright.energy.chemistry import open_circuit
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.job.design_wiring import DesignRun
from ampwright.job.joins import Join, close_v, open_v, relay_joins
from ampwright.job.supply import is_second_direct
from ampwright.parts.charger import AlternatorCharger
from ampwright.parts.protection import Breaker, Fuse
from ampwright.parts.relay import Relay
from ampwright.said import said, said_together
from ampwright.sources import COMMON_PRACTICE, own_choice

__all__ = ["RELAY_BOTH_ENDS", "RELAY_CHARGING", "RELAY_PICK_UP", "RELAY_RATING", "RELAY_START"]

WIRING = Group.WIRING
OPENS_AT_FRAC = 0.9
"""A battery that keeps its relay closed by its own rest voltage below this state of charge flattens the other one
(docs/choices.md#relay-held-closed)."""
WELDED = said("Contacts that carry or open too much weld shut: then nothing parts the batteries.")


def _relay_rating(design: Design, studies: Studies) -> Iterator[Finding]:
    """Hold the largest lasting current and voltage of every relay's contacts against what they are built for."""
    for index, link in enumerate(design.links):
        placed = design.parts[link.part]
        part = placed.part
        if not isinstance(part, Relay):
            continue
        make = partial(
            Finding, rule="relay-rating", group=WIRING, subject=placed.id, unit="A", source=part_source(part)
        )
        current_a = float(studies.network.link_peak_a[index])
        if math.isnan(current_a):
            yield make(
                severity=Severity.NOT_CHECKED,
                message=said("{part}: the current through its contacts is not known.", part=placed.id),
            )
            continue
        voltages = [highest_v(design, studies.network, node) for node in (link.start, link.end)]
        high_v = max((volts for volts in voltages if not math.isnan(volts)), default=0.0)
        if high_v > part.rated_dc_v:
            yield make(
                severity=Severity.FAIL,
                message=said(
                    "{part} sees {high_v:.1f} V; its contacts are rated {rated_dc_v:g} V DC.",
                    part=placed.id,
                    high_v=high_v,
                    rated_dc_v=part.rated_dc_v,
                ),
                value=high_v,
                limit=part.rated_dc_v,
                way_out=said("Use a relay of higher DC voltage."),
            )
        limit_a = min(part.rating_a, part.breaking_capacity_a)
        is_over = current_a > limit_a
        yield make(
            severity=Severity.FAIL if is_over else Severity.PASS,
            message=said(
                "{part} carries up to {current_a:.0f} A ({corner_of}); its contacts carry {rating_a:g} A "
                "for long and open {breaking_capacity_a:g} A.",
                part=placed.id,
                current_a=current_a,
                corner_of=_corner_of(studies, index),
                rating_a=part.rating_a,
                breaking_capacity_a=part.breaking_capacity_a,
            ),
            value=current_a,
            limit=limit_a,
            way_out=said("Use a larger relay, or a charger with a current limit.") if is_over else "",
            caution=WELDED if is_over else "",
        )


def _corner_of(studies: Studies, link: int) -> str:
    """Return the corner in which most flows through a link."""
    known = [point for point in studies.network.points if not math.isnan(point.link_a[link])]
    return max(known, key=lambda point: abs(float(point.link_a[link]))).corner if known else said("no corner")


def _relay_start(design: Design, studies: Studies) -> Iterator[Finding]:
    """Hold what the auxiliary battery gives to the starter through a closed relay against contacts and battery."""
    battery = design.battery_part()
    peak_a = battery.discharge_peak_a * design.parts[design.battery].strings
    for join in relay_joins(design):
        make = partial(
            Finding,
            rule="start-through-relay",
            group=WIRING,
            subject=join.placed.id,
            unit="A",
            source=part_source(join.part),
        )
        if join.part.is_open_while_starting:
            yield make(
                severity=Severity.PASS,
                message=said("{part} is held open while the engine is started.", part=join.placed.id),
            )
            continue
        seen = [abs(float(point.link_a[join.link])) for point in studies.network.short_points]
        current_a = max((amps for amps in seen if not math.isnan(amps)), default=math.nan)
        if math.isnan(current_a):
            yield make(
                severity=Severity.NOT_CHECKED,
                message=said(
                    "{part}: what flows through it while the engine is started is not known.",
                    part=join.placed.id,
                ),
            )
            continue
        is_over, is_beyond_battery = current_a > join.part.peak_a, current_a > peak_a
        yield make(
            severity=Severity.FAIL if is_over else Severity.CONDITION if is_beyond_battery else Severity.PASS,
            message=said(
                "If the engine is started while {part} is closed, the auxiliary battery gives "
                "{current_a:.0f} A through it; contacts {peak_a:g} A for {peak_s:g} s, {parts} "
                "{peak_a_2:g} A for {discharge_peak_s:g} s.",
                part=join.placed.id,
                current_a=current_a,
                peak_a=join.part.peak_a,
                peak_s=join.part.peak_s,
                parts=design.parts[design.battery].id,
                peak_a_2=peak_a,
                discharge_peak_s=battery.discharge_peak_s,
            ),
            value=current_a,
            limit=min(join.part.peak_a, peak_a),
            way_out=said("Use a relay that a wire from the starter holds open, or a larger one.")
            if is_over or is_beyond_battery
            else "",
            caution=WELDED if is_over else "",
        )


def _relay_pick_up(design: Design, studies: Studies) -> Iterator[Finding]:
    """Ask whether each relay closes with the engine and opens without it."""
    for join in relay_joins(design):
        make = partial(
            Finding,
            rule="relay-pick-up",
            group=Group.USE,
            subject=join.placed.id,
            source=part_source(join.part),
        )
        if join.part.pick_up == "voltage":
            yield from _by_voltage(design, join)
        elif join.part.pick_up == "run-signal":
            yield run_signal_finding(design, join.placed.id, part_source(join.part), rule="relay-pick-up")
        else:
            yield make(
                severity=Severity.ADVICE,
                message=said(
                    "{part} is worked by hand: left closed it lets house loads flatten the starter battery; "
                    "charging through it is not counted on.",
                    part=join.placed.id,
                ),
                way_out=said("Label it, and add a lamp that shows it is closed."),
            )
    yield from _gives_back(design, studies)


def _gives_back(design: Design, studies: Studies) -> Iterator[Finding]:
    """Hold what flows back to the vehicle while a regulated alternator is low against what comes in through relays."""
    books, energy = studies.energy.ledger, studies.energy
    if books.returned_wh <= 0.0:
        return
    ids = {join.placed.id for join in relay_joins(design)}
    columns = [position for position, label in enumerate(energy.source_labels) if label in ids]
    came_wh = float(energy.source_w[:, columns].sum()) * energy.step_h / energy.day_count
    back_wh = books.returned_wh / energy.day_count
    is_loss, volts = back_wh > came_wh, charging_v(design.vehicle, "road")
    yield Finding(
        rule="relay-pick-up",
        group=Group.USE,
        severity=Severity.CONDITION if is_loss else Severity.ADVICE,
        subject=design.parts[design.battery].id,
        message=said(
            "On the road the regulated alternator stands at {volts:.1f} V on the mean, below the "
            "resting battery: the closed relay gives {back_wh:.0f} Wh a day back to the vehicle; "
            "{came_wh:.0f} Wh a day come in through it. The books count both.",
            volts=volts,
            back_wh=back_wh,
            came_wh=came_wh,
        ),
        value=back_wh,
        limit=came_wh,
        unit="Wh",
        source=own_choice("energy-regulated-voltage"),
        way_out=said("Use a DC-DC charger: nothing flows back through it."),
    )


def _by_voltage(design: Design, join: Join) -> Iterator[Finding]:
    name, vehicle = join.placed.id, design.vehicle
    closes_v, opens_v = close_v(join.placed, join.part), open_v(join.placed, join.part)
    make = partial(
        Finding,
        rule="relay-pick-up",
        group=Group.USE,
        subject=name,
        unit="V",
        at_most=False,
        source=part_source(join.part),
    )
    low_v, usual_v = vehicle.alternator_low_v, vehicle.alternator_v
    never, chatters = usual_v < closes_v, low_v < opens_v
    if vehicle.has_alternator and (never or chatters):
        yield make(
            severity=Severity.CONDITION,
            message=said(
                "{name} closes above {closes_v:.1f} V; this alternator gives {usual_v:.1f} V, so it "
                "never closes.",
                name=name,
                closes_v=closes_v,
                usual_v=usual_v,
            )
            if never
            else said(
                "{name} opens below {opens_v:.1f} V; this {regulation} alternator may fall to "
                "{low_v:.1f} V: it opens and closes on the road and charges by chance.",
                name=name,
                opens_v=opens_v,
                regulation=vehicle.regulation,
                low_v=low_v,
            ),
            value=usual_v if never else low_v,
            limit=closes_v if never else opens_v,
            way_out=said("Use a DC-DC charger with a run signal."),
        )
    held_frac, rest_v = _held_below_frac(design, opens_v)
    is_held = held_frac < OPENS_AT_FRAC
    yield make(
        severity=Severity.CONDITION if is_held else Severity.PASS,
        message=said(
            "{name} opens below {opens_v:.1f} V; the auxiliary battery rests at {rest_v:.2f} V half full",
            name=name,
            opens_v=opens_v,
            rest_v=rest_v,
        )
        + (
            said(
                " and holds it closed until {held_frac:.0f} % are left: house loads draw from both "
                "batteries.",
                held_frac=100 * held_frac,
            )
            if is_held
            else said(": it opens when the engine stands.")
        ),
        value=rest_v,
        limit=opens_v,
        at_most=True,
        source=own_choice("relay-held-closed"),
        way_out=said("Use a relay with a run signal, or a DC-DC charger.") if is_held else "",
    )


def _held_below_frac(design: Design, opens_v: float) -> tuple[float, float]:
    """Return the state of charge at which the resting auxiliary battery lets go of a relay, and its voltage half full."""
    part = design.battery_part()
    curve = open_circuit(part.chemistry)
    nominal_v = {"lfp": 3.2}.get(part.chemistry, 2.0)
    volts = curve.cell_v * round(part.nominal_v / nominal_v) * design.parts[design.battery].in_series
    frac = float(np.interp(opens_v, volts, curve.soc_frac))
    return frac, float(np.interp(0.5, curve.soc_frac, volts))


def _relay_both_ends(design: Design, studies: Studies) -> Iterator[Finding]:
    """Hold every cable between the batteries against the device towards the other battery: it is fed from there too."""
    for join in relay_joins(design):
        path = [design.runs[index] for index in studies.network.joined_runs]
        halves = _halves(studies, path)
        for near, far in ((0, 1), (1, 0)):
            for run in halves[near]:
                yield _guarded_from_beyond(design, run, halves[far], join)


def _halves(studies: Studies, path: list[DesignRun]) -> tuple[tuple[DesignRun, ...], tuple[DesignRun, ...]]:
    """Return the runs between the batteries on the starter battery's side of the relay, then the others."""
    starter = {run.index for run in path if studies.circuits.by_run[run.index].root_kind == "starter"}
    return (
        tuple(run for run in path if run.index in starter),
        tuple(run for run in path if run.index not in starter),
    )


def _guarded_from_beyond(
    design: Design, run: DesignRun, beyond: tuple[DesignRun, ...], join: Join
) -> Finding:
    make = partial(Finding, rule="relay-both-ends", group=WIRING, subject=run.id, unit="A")
    capacity = run_capacity(design, run)
    told = said(
        "{run}: with {part} closed a fault in it is fed from the other battery too",
        run=run_text(run),
        part=join.placed.id,
    )
    if not capacity.is_known:
        return make(
            severity=Severity.NOT_CHECKED,
            message=said("{told}; no capacity: {note}", told=told, note=capacity.note),
        )
    devices = [
        device for other in beyond for device in other.devices if isinstance(device.part, Fuse | Breaker)
    ]
    if not devices:
        return make(
            severity=Severity.FAIL,
            message=said("{told}, and no device stands on that side.", told=told),
            way_out=said("Put a fuse at each battery's end."),
            source=COMMON_PRACTICE,
            caution=FIRE,
        )
    limits = [
        (device, largest_device_a(design, capacity.current_a, device=device.part))
        for device in devices
        if isinstance(device.part, Fuse | Breaker)
    ]
    device, limit = min(limits, key=lambda pair: pair[0].part.rating_a)
    rating_a = device.part.rating_a
    is_over = rating_a > limit.rating_a
    return make(
        severity=Severity.FAIL if is_over else Severity.PASS,
        message=said(
            "{told}; {device} there, {rating_a:g} A, the cable allows {rating_a_2:.0f} A.",
            told=told,
            device=device.id,
            rating_a=rating_a,
            rating_a_2=limit.rating_a,
        ),
        value=rating_a,
        limit=limit.rating_a,
        source=limit.source,
        way_out=said("Use a smaller device there, or a larger cable.") if is_over else "",
        caution=FIRE if is_over else "",
    )


def _relay_charging(design: Design, _: Studies) -> Iterator[Finding]:
    """Judge a relay as a charger: no current limit, no charge voltage of its own; and a second alternator without one."""
    second = design.vehicle.second
    if second is not None and is_second_direct(design):
        yield from direct_charging(design, second)
    battery, placed = design.battery_part(), design.parts[design.battery]
    beside = [charger.id for charger, _part in design.placed(AlternatorCharger)]
    for join in relay_joins(design):
        make = partial(
            Finding,
            rule="relay-charging",
            group=WIRING,
            subject=join.placed.id,
            unit="V",
            source=part_source(battery),
        )
        top_v, high_v = battery.charge_max_v * placed.in_series, design.vehicle.alternator_high_v
        is_manual = join.part.pick_up == "manual"
        if battery.chemistry == "lfp":
            yield make(
                severity=Severity.CONDITION if is_manual else Severity.FAIL,
                message=said(
                    "{part} joins the alternator to lithium battery {part_2}, limited by resistance only",
                    part=join.placed.id,
                    part_2=placed.id,
                )
                + (
                    said(", past the current limit of {beside}.", beside=said_together(beside, between=", "))
                    if beside
                    else said("; it has no charge programme.")
                ),
                way_out=said("Label it for an emergency start only, and open it before driving on.")
                if is_manual
                else said("Take the relay out of the way and charge by a DC-DC charger alone.")
                if beside
                else said("Put a DC-DC charger in its place; a relay may go on feeding a lead-acid battery."),
                caution=said(
                    "A cold alternator gives all it has into an empty lithium battery and can burn out."
                ),
            )
            continue
        is_over = high_v > top_v
        yield make(
            severity=Severity.FAIL if is_over else Severity.PASS,
            message=said(
                "Through {part} the battery sees up to {high_v:.1f} V of the alternator; {part_2} allows "
                "{top_v:.1f} V.",
                part=join.placed.id,
                high_v=high_v,
                part_2=placed.id,
                top_v=top_v,
            ),
            value=high_v,
            limit=top_v,
            way_out=said("Charge it by a DC-DC charger with its own voltage.") if is_over else "",
            caution=said("Overcharging a battery can end in gas, heat and fire.") if is_over else "",
        )


RELAY_RATING = Rule(
    name="relay-rating",
    group=WIRING,
    asks="Do the contacts of each relay carry, open and insulate what they see?",
    check=_relay_rating,
)
RELAY_START = Rule(
    name="start-through-relay",
    group=WIRING,
    asks="Do relay and auxiliary battery stand an engine start while they are joined to the starter battery?",
    check=_relay_start,
)
RELAY_PICK_UP = Rule(
    name="relay-pick-up",
    group=Group.USE,
    asks="Does each split-charge relay close when the engine runs and open when it stands?",
    check=_relay_pick_up,
)
RELAY_BOTH_ENDS = Rule(
    name="relay-both-ends",
    group=WIRING,
    asks="Is each cable between two joined batteries protected towards both?",
    check=_relay_both_ends,
)
RELAY_CHARGING = Rule(
    name="relay-charging",
    group=WIRING,
    asks="May the battery be charged through a relay alone, or straight by a second alternator?",
    check=_relay_charging,
)
