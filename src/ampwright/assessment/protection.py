"""Rules on protective devices: against the cable, against the load, at the source, against the fault."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from ampwright.assessment.capacity import largest_device_a, run_capacity
from ampwright.assessment.circuits import Circuit, Protection
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import length_text, part_source, run_text
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design, DesignRun
from ampwright.parts.protection import Isolator
from ampwright.sources import COMMON_PRACTICE, Source, own_choice
from ampwright.standards.cfr_33_183.overcurrent import device_distance_limit_m

__all__ = [
    "BREAKING_CAPACITY",
    "DEVICE_AGAINST_CABLE",
    "DEVICE_AT_SOURCE",
    "DEVICE_CARRIES_LOAD",
    "DEVICE_VOLTAGE",
    "OUTPUT_FAILS_SHORTED",
]

WIRING = Group.WIRING
FIRE = "A cable without a matching device can burn in a fault; a lithium battery delivers kiloamperes."
CONTINUOUS_FRAC = 0.8
"""Share of a device's rating for long-lasting load (common practice, no source)."""
PANEL_CURRENT_FACTOR = 1.25
"""Cable of a panel string against its short-circuit current (common practice, no source)."""


def _device_against_cable(design: Design, studies: Studies) -> Iterator[Finding]:
    make = partial(Finding, rule="device-against-cable", group=WIRING, unit="A")
    for run in design.runs:
        circuit = studies.circuits.by_run[run.index]
        capacity = run_capacity(design, run)
        if circuit.root_kind == "" or not capacity.is_known:
            why = "nothing feeds it" if capacity.is_known else capacity.note
            yield make(
                severity=Severity.NOT_CHECKED,
                subject=run.id,
                message=f"{run_text(run)}: protection could not be judged, {why}.",
                way_out="Connect it to a source."
                if capacity.is_known
                else "Use a cable of the table's range.",
            )
            continue
        if circuit.root_kind == "panel":
            yield _panel_run(design, studies, run)
            continue
        limit = largest_device_a(design, capacity.current_a)
        channel_a = _channel_limit_a(design, circuit)
        if circuit.own is None and channel_a is not None:
            is_over = channel_a > limit.rating_a
            yield make(
                severity=Severity.FAIL if is_over else Severity.PASS,
                subject=run.id,
                message=f"{run_text(run)}: its output channel limits at {channel_a:g} A; "
                f"the cable allows {limit.rating_a:.0f} A.",
                value=channel_a,
                limit=limit.rating_a,
                source=limit.source,
                way_out="Set the channel lower or use a larger cable." if is_over else "",
            )
            continue
        yield _against(design, run, circuit.own or circuit.upstream, (limit.rating_a, limit.source))


def _against(
    design: Design, run: DesignRun, protection: Protection | None, limit: tuple[float, Source]
) -> Finding:
    make = partial(Finding, rule="device-against-cable", group=WIRING, subject=run.id, unit="A")
    largest_a, source = limit
    if protection is None:
        return make(
            severity=Severity.FAIL,
            message=f"{run_text(run)}: no fuse or breaker protects it.",
            source=source,
            way_out=f"Put a device of at most {largest_a:.0f} A at its source.",
            caution=FIRE,
        )
    rating_a = protection.rating_a
    is_over = rating_a > largest_a
    where = "" if protection.run == run.index else f" in run {design.runs[protection.run].id}"
    return make(
        severity=Severity.FAIL if is_over else Severity.PASS,
        message=f"{run_text(run)}: protected by {protection.device.id}{where}, {rating_a:g} A; "
        f"the cable allows a device of {largest_a:.0f} A.",
        value=rating_a,
        limit=largest_a,
        source=source,
        way_out="Use a smaller device, a device of its own, or a larger cable." if is_over else "",
        caution=FIRE if is_over else "",
    )


def _panel_run(design: Design, studies: Studies, run: DesignRun) -> Finding:
    """Hold a panel's cable against 1.25 times its short-circuit current, the most it can give."""
    needed_a = PANEL_CURRENT_FACTOR * float(studies.network.run_fault_a[run.index])
    capacity = run_capacity(design, run)
    unknown = math.isnan(needed_a)
    is_over = not unknown and needed_a > capacity.current_a
    return Finding(
        rule="device-against-cable",
        group=WIRING,
        severity=Severity.NOT_CHECKED if unknown else Severity.FAIL if is_over else Severity.PASS,
        subject=run.id,
        message=f"{run_text(run)}: fed by panels, which cannot give more than their short-circuit current; "
        f"with a quarter on top {needed_a:.1f} A, the cable carries {capacity.current_a:.0f} A.",
        value=None if unknown else needed_a,
        limit=capacity.current_a,
        unit="A",
        source=COMMON_PRACTICE,
        way_out="Use a larger cable." if is_over else "",
    )


def _channel_limit_a(design: Design, circuit: Circuit) -> float | None:
    """Return the set limit of the output channel directly before a run; None without one."""
    if circuit.channel_link < 0:
        return None
    link = design.links[circuit.channel_link]
    for channel in design.channels:
        if channel.node in (link.start, link.end):
            return channel.limit_a
    return None


def _device_carries_load(design: Design, studies: Studies) -> Iterator[Finding]:
    for run in design.runs:
        current_a = float(studies.network.peak_a[run.index])
        for device in run.devices:
            make = partial(
                Finding,
                rule="device-carries-load",
                group=WIRING,
                subject=device.id,
                limit=device.part.rating_a,
                unit="A",
                source=part_source(device.part),
            )
            if math.isnan(current_a):
                yield make(
                    severity=Severity.NOT_CHECKED,
                    message=f"{device.id} in run {run.id}: its current could not be calculated.",
                )
                continue
            rating_a = device.part.rating_a
            is_over = current_a > rating_a
            is_near = not isinstance(device.part, Isolator) and current_a > CONTINUOUS_FRAC * rating_a
            yield make(
                severity=Severity.FAIL if is_over else Severity.ADVICE if is_near else Severity.PASS,
                message=f"{device.id} in run {run.id} is rated {rating_a:g} A and carries {current_a:.1f} A"
                + (", more than 80 % of it: it may trip in the heat when that lasts." if is_near else "."),
                value=current_a,
                way_out="Use the next larger device if the cable allows it." if is_over or is_near else "",
            )


def _device_at_source(design: Design, studies: Studies) -> Iterator[Finding]:
    make = partial(Finding, rule="device-at-source", group=WIRING, unit="m")
    for run in design.runs:
        circuit = studies.circuits.by_run[run.index]
        if circuit.root_kind == "panel" or _channel_limit_a(design, circuit) is not None:
            continue
        capacity = run_capacity(design, run)
        if circuit.root_kind == "" or not capacity.is_known:
            yield make(
                severity=Severity.NOT_CHECKED,
                subject=run.id,
                message=f"{run_text(run)}: the place of its device could not be judged.",
            )
            continue
        largest = largest_device_a(design, capacity.current_a)
        upstream = circuit.upstream
        if upstream is not None and upstream.rating_a <= largest.rating_a:
            yield make(
                severity=Severity.PASS,
                subject=run.id,
                message=f"{run_text(run)}: protected from its beginning by {upstream.device.id}.",
                source=largest.source,
            )
            continue
        yield _own_distance(design, run, circuit)


def _own_distance(design: Design, run: DesignRun, circuit: Circuit) -> Finding:
    make = partial(Finding, rule="device-at-source", group=WIRING, subject=run.id, unit="m")
    own = circuit.own
    if own is None:
        return make(
            severity=Severity.FAIL,
            message=f"{run_text(run)}: leaves {design.nodes[circuit.feeding_node]} without a device at its source.",
            way_out="Put a fuse or breaker at the source.",
            source=COMMON_PRACTICE,
            caution=FIRE,
        )
    is_at_battery = circuit.root_kind in {"battery", "starter"} and circuit.upstream is None
    limit = device_distance_limit_m(
        is_sheathed=run.is_sheathed or own.device.is_sheathed, is_battery_connected=is_at_battery
    )
    is_far = own.distance_m > limit.limit_m
    return make(
        severity=Severity.FAIL if is_far else Severity.PASS,
        message=f"{own.device.id} sits {length_text(design, own.distance_m)} from the source of run {run.id}; "
        f"at most {length_text(design, limit.limit_m)} ({limit.note}).",
        value=own.distance_m,
        limit=limit.limit_m,
        source=limit.source,
        way_out="Move the device to the source, or sheathe the cable up to it." if is_far else "",
        caution=FIRE if is_far else "",
    )


def _breaking_capacity(design: Design, studies: Studies) -> Iterator[Finding]:
    parts = {device.id: device.part for run in design.runs for device in run.devices}
    for fault in studies.network.device_fault:
        part = parts.get(fault.device)
        if part is None and fault.part >= 0:
            part = design.parts[fault.part].string_device
        if part is None or isinstance(part, Isolator):
            continue
        make = partial(
            Finding,
            rule="breaking-capacity",
            group=WIRING,
            subject=fault.device,
            unit="A",
            source=part_source(part),
        )
        if math.isnan(fault.fault_a):
            yield make(
                severity=Severity.NOT_CHECKED,
                message=f"{fault.device}: the fault current could not be calculated. {fault.explanation}",
            )
            continue
        is_over = fault.fault_a > part.breaking_capacity_a
        yield make(
            severity=Severity.FAIL if is_over else Severity.PASS,
            message=f"{fault.device} can interrupt {part.breaking_capacity_a:,.0f} A; a fault there reaches "
            f"{fault.fault_a:,.0f} A. {fault.explanation}",
            value=fault.fault_a,
            limit=part.breaking_capacity_a,
            way_out="Use a device of higher breaking capacity (type T fuse, hydraulic-magnetic breaker)."
            if is_over
            else "",
            caution="A device opened above its breaking capacity can burst or go on arcing."
            if is_over
            else "",
        )


def _device_voltage(design: Design, studies: Studies) -> Iterator[Finding]:
    for run in design.runs:
        voltages = [float(studies.network.node_high_v[node]) for node in (run.start, run.end)]
        highest_v = max(voltages)
        for device in run.devices:
            unknown = any(math.isnan(voltage) for voltage in voltages)
            is_over = not unknown and highest_v > device.part.rated_dc_v
            yield Finding(
                rule="device-voltage",
                group=WIRING,
                severity=Severity.NOT_CHECKED if unknown else Severity.FAIL if is_over else Severity.PASS,
                subject=device.id,
                message=f"{device.id} is rated {device.part.rated_dc_v:g} V DC; "
                + ("its voltage is not known." if unknown else f"it sees up to {highest_v:.1f} V."),
                value=None if unknown else highest_v,
                limit=device.part.rated_dc_v,
                unit="V",
                source=part_source(device.part),
                way_out="Use a device rated for that DC voltage." if is_over else "",
            )


def _output_fails_shorted(design: Design, studies: Studies) -> Iterator[Finding]:
    """Semiconductor outputs can fail closed: then only the feed's fuse protects the branch."""
    for run in design.runs:
        circuit = studies.circuits.by_run[run.index]
        if circuit.channel_link < 0:
            continue
        capacity = run_capacity(design, run)
        if not capacity.is_known:
            continue
        limit = largest_device_a(design, capacity.current_a)
        guard = circuit.own or circuit.upstream
        is_held = guard is not None and guard.rating_a <= limit.rating_a
        guard_text = f"{guard.device.id}, {guard.rating_a:g} A" if guard else "nothing"
        yield Finding(
            rule="output-fails-shorted",
            group=WIRING,
            severity=Severity.PASS if is_held else Severity.CONDITION,
            subject=run.id,
            message=f"{run_text(run)}: if its output fails closed, {guard_text} protects it; "
            f"the cable allows {limit.rating_a:.0f} A.",
            value=guard.rating_a if guard else None,
            limit=limit.rating_a,
            unit="A",
            source=own_choice("output-fails-shorted"),
            way_out=""
            if is_held
            else "Give the branch a fuse of its own, or a cable the feed's fuse protects.",
            caution="" if is_held else FIRE,
        )


DEVICE_AGAINST_CABLE = Rule(
    name="device-against-cable",
    group=WIRING,
    asks="Is each cable protected by a device no larger than it allows?",
    check=_device_against_cable,
)
DEVICE_CARRIES_LOAD = Rule(
    name="device-carries-load",
    group=WIRING,
    asks="Does each device carry its load without tripping?",
    check=_device_carries_load,
)
DEVICE_AT_SOURCE = Rule(
    name="device-at-source",
    group=WIRING,
    asks="Does each device sit at the source of what it protects?",
    check=_device_at_source,
)
BREAKING_CAPACITY = Rule(
    name="breaking-capacity",
    group=WIRING,
    asks="Can each device interrupt the largest fault of all sources and strings?",
    check=_breaking_capacity,
)
DEVICE_VOLTAGE = Rule(
    name="device-voltage",
    group=WIRING,
    asks="Is each device rated for the DC voltage it sees?",
    check=_device_voltage,
)
OUTPUT_FAILS_SHORTED = Rule(
    name="output-fails-shorted",
    group=WIRING,
    asks="Is each branch of an electronic output protected when the output fails closed?",
    check=_output_fails_shorted,
)
