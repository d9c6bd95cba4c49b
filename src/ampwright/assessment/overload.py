"""Rule on the inverter's overload: does its feed keep the voltage, and do the devices in it stay closed."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from ampwright.assessment.circuits import Protection
from ampwright.assessment.fault_time import opening_band, rated_device
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import part_source
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design, DesignPart
from ampwright.job.device_settings import set_inverter_stop_v
from ampwright.parts.inverter import Inverter
from ampwright.said import said

__all__ = ["INVERTER_OVERLOAD"]

WIRING = Group.WIRING


def _inverter_overload(design: Design, studies: Studies) -> Iterator[Finding]:
    for placed, part in design.placed(Inverter):
        yield _voltage_finding(design, studies, placed, part)
        for guard in _guards(design, studies, placed):
            yield _device_finding(design, studies, guard, part)


def _voltage_finding(design: Design, studies: Studies, placed: DesignPart, part: Inverter) -> Finding:
    stop_v = set_inverter_stop_v(placed, part)
    make = partial(
        Finding,
        rule="inverter-overload",
        group=WIRING,
        subject=placed.id,
        unit="V",
        at_most=False,
    )
    voltage_v = float(studies.network.short_low_v[design.node_of(placed.id)])
    if math.isnan(voltage_v):
        return make(
            severity=Severity.NOT_CHECKED,
            message=said(
                "{part}: the voltage at its overload of {overload_w:g} W could not be calculated, or "
                "none exists.",
                part=placed.id,
                overload_w=part.overload_w,
            ),
            limit=stop_v,
            source=part_source(part),
            way_out=said("A larger cable or battery, or a smaller inverter."),
        )
    battery_v = float(studies.network.short_low_v[design.node_of(design.parts[design.battery].id)])
    opens_v = design.battery_part().cutoff_v * design.parts[design.battery].in_series
    if design.battery_part().chemistry == "lfp" and battery_v < opens_v:
        return make(
            severity=Severity.CONDITION,
            message=said(
                "{part}: at its overload of {overload_w:g} W a low battery sags to {battery_v:.2f} V; "
                "its management opens below {opens_v:g} V, and everything goes off.",
                part=placed.id,
                overload_w=part.overload_w,
                battery_v=battery_v,
                opens_v=opens_v,
            ),
            value=battery_v,
            limit=opens_v,
            source=part_source(design.battery_part()),
            way_out=said("Start large loads with a full battery, or set the load cut-off higher."),
        )
    is_low = voltage_v < stop_v
    return make(
        severity=Severity.CONDITION if is_low else Severity.PASS,
        message=said(
            "{part}: {voltage_v:.2f} V at its overload of {overload_w:g} W, low battery; it switches "
            "off below {stop_v:g} V.",
            part=placed.id,
            voltage_v=voltage_v,
            overload_w=part.overload_w,
            stop_v=stop_v,
        ),
        value=voltage_v,
        limit=stop_v,
        source=part_source(part),
        way_out=said("Start large loads with a full battery, or use a larger cable.") if is_low else "",
    )


def _guards(design: Design, studies: Studies, placed: DesignPart) -> Iterator[Protection]:
    """Yield the devices between the battery and an inverter, from the inverter upwards."""
    node = design.node_of(placed.id)
    by_far = {circuit.far_node: circuit for circuit in studies.circuits.by_run if not circuit.why_unknown}
    while node in by_far:
        circuit = by_far.pop(node)
        if circuit.own is not None:
            yield circuit.own
        node = circuit.feeding_node


def _device_finding(design: Design, studies: Studies, guard: Protection, part: Inverter) -> Finding:
    make = partial(Finding, rule="inverter-overload", group=WIRING, subject=guard.device.id, unit="s")
    current_a = float(studies.network.short_peak_a[guard.run])
    band = None if math.isnan(current_a) else opening_band(rated_device(design, guard), current_a)
    if band is None:
        return make(
            severity=Severity.NOT_CHECKED,
            message=said(
                "{device}: current or opening time at the inverter's overload is not known.",
                device=guard.device.id,
            ),
        )
    opens_early = band.opening_min_s < part.overload_s and current_a > guard.rating_a
    told = said(
        "{device}, {rating_a:g} A: carries {current_a:.0f} A for {overload_s:g} s at the inverter's overload",
        device=guard.device.id,
        rating_a=guard.rating_a,
        current_a=current_a,
        overload_s=part.overload_s,
    )
    if not opens_early:
        return make(
            severity=Severity.PASS, message=said("{told}; it stays closed.", told=told), source=band.source
        )
    return make(
        severity=Severity.CONDITION,
        message=said(
            "{told}; it may open after {opening_min_s:.3g} s.", told=told, opening_min_s=band.opening_min_s
        ),
        value=band.opening_min_s,
        limit=part.overload_s,
        at_most=False,
        source=band.source,
        way_out=said("A larger device where the cable allows it, or do not use the overload."),
    )


INVERTER_OVERLOAD = Rule(
    name="inverter-overload",
    group=WIRING,
    asks="Do feed and devices stand the inverter's overload for as long as it lasts?",
    check=_inverter_overload,
)
