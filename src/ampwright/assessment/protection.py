"""Rules on protective devices themselves: load, breaking capacity, voltage."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from functools import partial

from ampwright.assessment.exposure import highest_v
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import part_source, temperature_text
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.job.design_wiring import DesignDevice, DesignRun
from ampwright.job.own_tables import device_class
from ampwright.parts.protection import Breaker, Fuse, Isolator
from ampwright.said import Said, said
from ampwright.standards.device_bands.rerating import CONTINUOUS_FACTOR, rerating

__all__ = ["BREAKING_CAPACITY", "DEVICE_CARRIES_LOAD", "DEVICE_VOLTAGE"]

WIRING = Group.WIRING
LARGER = said("Use the next larger device if the cable allows it.")


def _device_carries_load(design: Design, studies: Studies) -> Iterator[Finding]:
    for run in design.runs:
        current_a = float(studies.network.peak_a[run.index])
        for device in run.devices:
            yield _carries(design, run, device, current_a)


def _carries(design: Design, run: DesignRun, device: DesignDevice, current_a: float) -> Finding:
    """Hold a device against its rating, then against what the hottest air of its run leaves of it."""
    part = device.part
    rating_a = min(part.rating_a, part.holder_max_a) if isinstance(part, Fuse) else part.rating_a
    make = partial(
        Finding,
        rule="device-carries-load",
        group=WIRING,
        subject=device.id,
        unit="A",
        limit=rating_a,
        source=part_source(part),
    )
    if math.isnan(current_a):
        unknown = said(
            "{device} in run {run}: its current could not be calculated.", device=device.id, run=run.id
        )
        return make(severity=Severity.NOT_CHECKED, message=unknown)
    is_over = current_a > rating_a
    carried = said(
        "{device} in run {run} is rated {rating_a:g} A and carries {current_a:.1f} A",
        device=device.id,
        run=run.id,
        rating_a=rating_a,
        current_a=current_a,
    )
    make = partial(make, value=current_a)
    if is_over or isinstance(part, Isolator):
        return make(
            severity=Severity.FAIL if is_over else Severity.PASS,
            message=carried + ".",
            way_out=LARGER if is_over else "",
        )
    return _in_hot_air(design, run, part, make=partial(make, way_out=LARGER), carried=(carried, current_a))


def _in_hot_air(
    design: Design,
    run: DesignRun,
    part: Fuse | Breaker,
    *,
    make: Callable[..., Finding],
    carried: tuple[Said, float],
) -> Finding:
    message, current_a = carried
    rating_a = min(part.rating_a, part.holder_max_a) if isinstance(part, Fuse) else part.rating_a
    air = temperature_text(design, run.ambient_max_degc)
    hot = rerating(device_class(part), ambient_degc=run.ambient_max_degc)
    if hot is None:
        return make(
            severity=Severity.NOT_CHECKED,
            message=message + said("; how much of its rating air of {air} leaves it is not known.", air=air),
            way_out=said("Put it in cooler air, or use a device of another kind."),
        )
    hot_a = min(rating_a, part.rating_a * min(hot.rating_factor, 1.0))
    if hot_a < rating_a:
        make = partial(make, source=hot.source, limit=hot_a)
        message = message + said("; air of {air} leaves it {hot_a:.1f} A", air=air, hot_a=hot_a)
    if current_a > hot_a:
        return make(severity=Severity.CONDITION, message=message + said(": it may open when that lasts."))
    if current_a > CONTINUOUS_FACTOR * hot_a:
        near = said(", and more than 80 % of that may open it when it lasts.")
        return make(severity=Severity.ADVICE, message=message + near)
    return make(severity=Severity.PASS, message=message + ".", way_out="")


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
