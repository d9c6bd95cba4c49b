"""Rules on protective devices themselves: load, breaking capacity, voltage."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from ampwright.assessment.exposure import highest_v
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import part_source
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.parts.protection import Breaker, Fuse, Isolator
from ampwright.said import said

__all__ = ["BREAKING_CAPACITY", "DEVICE_CARRIES_LOAD", "DEVICE_VOLTAGE"]

WIRING = Group.WIRING
CONTINUOUS_FRAC = 0.8
"""Share of a device's rating for long-lasting load (common practice, no source)."""


def _device_carries_load(design: Design, studies: Studies) -> Iterator[Finding]:
    for run in design.runs:
        current_a = float(studies.network.peak_a[run.index])
        for device in run.devices:
            part = device.part
            rating_a = min(part.rating_a, part.holder_max_a) if isinstance(part, Fuse) else part.rating_a
            make = partial(
                Finding,
                rule="device-carries-load",
                group=WIRING,
                subject=device.id,
                limit=rating_a,
                unit="A",
                source=part_source(device.part),
            )
            if math.isnan(current_a):
                yield make(
                    severity=Severity.NOT_CHECKED,
                    message=said(
                        "{device} in run {run}: its current could not be calculated.",
                        device=device.id,
                        run=run.id,
                    ),
                )
                continue
            is_over = current_a > rating_a
            is_near = not isinstance(device.part, Isolator) and current_a > CONTINUOUS_FRAC * rating_a
            yield make(
                severity=Severity.FAIL if is_over else Severity.ADVICE if is_near else Severity.PASS,
                message=said(
                    "{device} in run {run} is rated {rating_a:g} A and carries {current_a:.1f} A",
                    device=device.id,
                    run=run.id,
                    rating_a=rating_a,
                    current_a=current_a,
                )
                + (
                    said(", more than 80 % of it: it may trip in the heat when that lasts.")
                    if is_near
                    else "."
                ),
                value=current_a,
                way_out=said("Use the next larger device if the cable allows it.")
                if is_over or is_near
                else "",
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
                message=said(
                    "{device}: the fault current could not be calculated. {explanation}",
                    device=fault.device,
                    explanation=fault.explanation,
                ),
            )
            continue
        is_over = fault.fault_a > part.breaking_capacity_a
        yield make(
            severity=Severity.FAIL if is_over else Severity.PASS,
            message=said(
                "{device} can interrupt {breaking_capacity_a:,.0f} A; a fault there reaches "
                "{fault_a:,.0f} A. {explanation}",
                device=fault.device,
                breaking_capacity_a=part.breaking_capacity_a,
                fault_a=fault.fault_a,
                explanation=fault.explanation,
            ),
            value=fault.fault_a,
            limit=part.breaking_capacity_a,
            way_out=said(
                "Use a device of higher breaking capacity (type T fuse, hydraulic-magnetic breaker)."
            )
            if is_over
            else "",
            caution=said("A device opened above its breaking capacity can burst or go on arcing.")
            if is_over
            else "",
        )


def _device_voltage(design: Design, studies: Studies) -> Iterator[Finding]:
    for run in design.runs:
        voltages = [highest_v(design, studies.network, node) for node in (run.start, run.end)]
        unknown = any(math.isnan(voltage) for voltage in voltages)
        voltage_v = math.nan if unknown else max(voltages)
        for device in run.devices:
            yield _voltage_finding(device.id, device.part, voltage_v)
    for placed in design.parts:
        if placed.string_device is not None:
            voltage_v = highest_v(design, studies.network, design.node_of(placed.id))
            yield _voltage_finding(said("{part} string", part=placed.id), placed.string_device, voltage_v)


def _voltage_finding(subject: str, part: Fuse | Breaker | Isolator, voltage_v: float) -> Finding:
    unknown = math.isnan(voltage_v)
    is_over = not unknown and voltage_v > part.rated_dc_v
    return Finding(
        rule="device-voltage",
        group=WIRING,
        severity=Severity.NOT_CHECKED if unknown else Severity.FAIL if is_over else Severity.PASS,
        subject=subject,
        message=said("{subject} is rated {rated_dc_v:g} V DC; ", subject=subject, rated_dc_v=part.rated_dc_v)
        + (
            said("its voltage is not known.")
            if unknown
            else said("it sees up to {voltage_v:.1f} V.", voltage_v=voltage_v)
        ),
        value=None if unknown else voltage_v,
        limit=part.rated_dc_v,
        unit="V",
        source=part_source(part),
        way_out=said("Use a device rated for that DC voltage.") if is_over else "",
    )


DEVICE_CARRIES_LOAD = Rule(
    name="device-carries-load",
    group=WIRING,
    asks="Does each device carry its load without tripping?",
    check=_device_carries_load,
)
BREAKING_CAPACITY = Rule(
    name="breaking-capacity",
    group=WIRING,
    asks="Can each device interrupt the largest fault of all sources and strings?",
    check=_breaking_capacity,
    no_override="A device opened above its breaking capacity bursts or goes on arcing: there is then no protection.",
)
DEVICE_VOLTAGE = Rule(
    name="device-voltage",
    group=WIRING,
    asks="Is each device rated for the DC voltage it sees?",
    check=_device_voltage,
    no_override="A device opened above its DC voltage may go on arcing: there is then no protection.",
)
