"""Rules on the battery: charge current, discharge current, strings, cold."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import part_source, temperature_text
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design, DesignPart
from ampwright.parts.charger import AlternatorCharger, MainsCharger, PanelController
from ampwright.parts.inverter import Inverter
from ampwright.sources import COMMON_PRACTICE

__all__ = ["CHARGE_CURRENT", "CHARGE_VOLTAGE", "COLD_CHARGING", "DISCHARGE_CURRENT", "STRING_PROTECTION"]

WIRING = Group.WIRING
AGREE_V = 0.1
"""Chargers of one battery agree within this per 12 V (common practice, no source)."""
COLD_CAUTION = "Charging a lithium cell below 0 °C plates metal in it for good."
COLD_LEAD_CAUTION = "A lead-acid battery that cold takes little charge and may gas or freeze."


def _output_limits(design: Design) -> tuple[tuple[DesignPart, float], ...]:
    """Return every charger with the largest current it is set to give."""
    found: list[tuple[DesignPart, float]] = []
    for placed in design.parts:
        part = placed.part
        if isinstance(part, AlternatorCharger | MainsCharger | PanelController):
            largest_a = part.output_max_a
        elif isinstance(part, Inverter) and part.charger_max_a > 0:
            largest_a = part.charger_max_a
        else:
            continue
        setting = placed.setting
        limit_a = setting.output_limit_a if setting and setting.output_limit_a else largest_a
        found.append((placed, min(limit_a, largest_a)))
    return tuple(found)


def _charge_current(design: Design, _: Studies) -> Iterator[Finding]:
    """Alternator and mains chargers never run together; panels may run with either."""
    battery = design.battery_part()
    strings = design.parts[design.battery].strings
    limits = _output_limits(design)
    if not limits:
        return
    on_road = sum(a for placed, a in limits if not isinstance(placed.part, MainsCharger | Inverter))
    hooked = sum(a for placed, a in limits if not isinstance(placed.part, AlternatorCharger))
    total_a = max(on_road, hooked)
    all_a = sum(a for _, a in limits)
    allowed_a = battery.charge_max_a * strings
    is_over = total_a > allowed_a
    is_over_on_lead = not is_over and all_a > allowed_a
    names = ", ".join(f"{placed.id} {a:g} A" for placed, a in limits)
    yield Finding(
        rule="charge-current",
        group=WIRING,
        severity=Severity.FAIL if is_over else Severity.ADVICE if is_over_on_lead else Severity.PASS,
        subject=design.parts[design.battery].id,
        message=f"Chargers together can give {total_a:g} A ({names}); the battery takes {allowed_a:g} A."
        + (f" With the engine running while hooked up it would be {all_a:g} A." if is_over_on_lead else ""),
        value=total_a,
        limit=allowed_a,
        unit="A",
        source=part_source(battery),
        way_out="Set output limits on the chargers so that their sum stays below."
        if is_over
        else "Do not run the engine while hooked up, or interlock the chargers."
        if is_over_on_lead
        else "",
        caution="Charging above the battery's limit overheats it." if is_over else "",
    )


def _discharge_current(design: Design, studies: Studies) -> Iterator[Finding]:
    battery = design.battery_part()
    placed = design.parts[design.battery]
    largest_a = _largest_out_a(design, studies)
    make = partial(
        Finding,
        rule="discharge-current",
        group=WIRING,
        subject=placed.id,
        limit=battery.discharge_max_a * placed.strings,
        unit="A",
        source=part_source(battery),
    )
    if math.isnan(largest_a):
        yield make(
            severity=Severity.NOT_CHECKED,
            message=f"{placed.id}: the largest current could not be calculated.",
        )
        return
    limit_a = battery.discharge_max_a * placed.strings
    peak_a = battery.discharge_peak_a * placed.strings
    severity = Severity.PASS
    if largest_a > peak_a:
        severity = Severity.FAIL
    elif largest_a > limit_a:
        severity = Severity.CONDITION
    yield make(
        severity=severity,
        message=f"Inverter and loads can ask {largest_a:.0f} A of {placed.id} at low battery; it gives "
        f"{limit_a:g} A for long and {peak_a:g} A for {battery.discharge_peak_s:g} s. "
        + ("If its management opens, everything is lost at once." if severity != Severity.PASS else ""),
        value=largest_a,
        way_out="Do not run the largest loads together, or add a string."
        if severity != Severity.PASS
        else "",
    )


def _largest_out_a(design: Design, studies: Studies) -> float:
    """Return the largest current out of the battery; NaN where a run at it has no known current."""
    node = design.node_of(design.parts[design.battery].id)
    ways = [
        (run.index, 1.0 if run.start == node else -1.0) for run in design.runs if node in {run.start, run.end}
    ]
    if not ways or any(math.isnan(studies.network.peak_a[index]) for index, _ in ways):
        return math.nan
    here_w = sum(load.peak_w for load in design.loads if load.node == node)
    sums = [
        sum(sign * float(point.run_a[index]) for index, sign in ways) + here_w / float(point.node_v[node])
        for point in studies.network.points
        if not math.isnan(point.node_v[node])
    ]
    return math.nan if any(math.isnan(total) for total in sums) else max(sums, default=math.nan)


def _string_protection(design: Design, _: Studies) -> Iterator[Finding]:
    placed = design.parts[design.battery]
    battery = design.battery_part()
    make = partial(Finding, rule="string-protection", group=WIRING, subject=placed.id)
    for count, most, how in (
        (placed.strings, battery.parallel_max_count, "in parallel"),
        (placed.in_series, battery.series_max_count, "in series"),
    ):
        if count > most:
            yield make(
                severity=Severity.FAIL,
                message=f"{placed.id} has {count} {how}; the battery is built for {most} {how}.",
                value=float(count),
                limit=float(most),
                source=part_source(battery),
                way_out="Use fewer, larger cases.",
            )
    if placed.strings == 1:
        return
    is_missing = placed.string_device is None
    yield make(
        severity=Severity.FAIL if is_missing else Severity.PASS,
        message=f"{placed.id} has {placed.strings} strings in parallel; a fault in one is fed by the others, "
        + ("and no string has a device of its own." if is_missing else "and each has its own device."),
        source=COMMON_PRACTICE,
        way_out="Put a fuse of high breaking capacity in each string." if is_missing else "",
        caution="The strings feed a fault in their neighbour with kiloamperes." if is_missing else "",
    )


def _cold_charging(design: Design, studies: Studies) -> Iterator[Finding]:
    coldest_degc = float(studies.energy.cell_degc.min())
    if math.isnan(coldest_degc):
        placed = design.parts[design.battery]
        yield Finding(
            rule="cold-charging",
            group=WIRING,
            severity=Severity.NOT_CHECKED,
            subject=placed.id,
            message=f"{placed.id}: the temperature of its cells could not be calculated.",
        )
        return
    yield _cold_finding(design, min(coldest_degc, design.job.season.coldest_degc))


def _cold_finding(design: Design, lowest_degc: float) -> Finding:
    battery, name = design.battery_part(), design.parts[design.battery].id
    make = partial(
        Finding,
        rule="cold-charging",
        group=WIRING,
        subject=name,
        value=lowest_degc,
        limit=battery.charge_min_degc,
        unit="°C",
        at_most=False,
        source=part_source(battery),
    )
    limit_text = temperature_text(design, battery.charge_min_degc)
    seen = f"{name}: cells may be as cold as {temperature_text(design, lowest_degc)}"
    if lowest_degc >= battery.charge_min_degc:
        return make(severity=Severity.PASS, message=f"{seen}; charging is allowed from {limit_text}.")
    if battery.heater_w > 0.0:
        warms = f"its heater of {battery.heater_w:g} W warms it to {limit_text} before it takes charge"
        return make(severity=Severity.ADVICE, message=f"{seen}; {warms}, out of what the charger gives.")
    if battery.is_management_inside:
        return make(
            severity=Severity.CONDITION,
            message=f"{seen}; its management refuses charge below {limit_text}, "
            "so on such mornings nothing charges until it has warmed.",
            way_out="A heated battery, a warmer place, or charge later in the day.",
        )
    return make(
        severity=Severity.FAIL,
        message=f"{seen}; it may not be charged below {limit_text} and nothing prevents it.",
        way_out="A charger with a temperature sensor that stops it, or a heated battery.",
        caution=COLD_CAUTION if battery.chemistry == "lfp" else COLD_LEAD_CAUTION,
    )


def _charge_voltage(design: Design, _: Studies) -> Iterator[Finding]:
    set_v: dict[str, float] = {}
    for placed, _limit in _output_limits(design):
        part = placed.part
        if isinstance(part, AlternatorCharger | MainsCharger | PanelController | Inverter):
            wanted_v = (
                placed.setting.charge_v if placed.setting and placed.setting.charge_v else part.charge_v
            )
            set_v[placed.id] = wanted_v
            yield _voltage_window(design, placed.id, part, wanted_v)
            if not isinstance(part, Inverter):
                yield from _programme(design, placed.id, part)
    if len(set_v) > 1:
        yield _agreement(design, set_v)


def _programme(
    design: Design, subject: str, part: AlternatorCharger | MainsCharger | PanelController
) -> Iterator[Finding]:
    battery = design.battery_part()
    if battery.chemistry not in part.chemistries:
        yield Finding(
            rule="charge-voltage",
            group=WIRING,
            severity=Severity.CONDITION,
            subject=subject,
            message=f"{subject} has no programme for a battery of kind {battery.chemistry}.",
            source=part_source(part),
            way_out="Use a charger made for this kind of battery.",
        )


def _voltage_window(
    design: Design,
    subject: str,
    part: AlternatorCharger | MainsCharger | PanelController | Inverter,
    wanted_v: float,
) -> Finding:
    battery = design.battery_part()
    placed_battery = design.parts[design.battery]
    top_v = battery.charge_max_v * placed_battery.in_series
    make = partial(Finding, rule="charge-voltage", group=WIRING, subject=subject, value=wanted_v, unit="V")
    if not part.charge_v_min_v <= wanted_v <= part.charge_v_max_v:
        is_above = wanted_v > part.charge_v_max_v
        return make(
            severity=Severity.FAIL,
            message=f"{subject} is to be set to {wanted_v:.2f} V; it can be set from "
            f"{part.charge_v_min_v:.2f} to {part.charge_v_max_v:.2f} V.",
            limit=part.charge_v_max_v if is_above else part.charge_v_min_v,
            at_most=is_above,
            source=part_source(part),
            way_out="Choose a voltage it has, or another charger.",
        )
    is_over = wanted_v > top_v
    return make(
        severity=Severity.FAIL if is_over else Severity.PASS,
        message=f"{subject} charges at {wanted_v:.2f} V; {placed_battery.id} allows {top_v:.2f} V.",
        limit=top_v,
        source=part_source(battery),
        way_out=f"Set {battery.charge_v * placed_battery.in_series:.2f} V." if is_over else "",
        caution="Overcharging a battery can end in gas, heat and fire." if is_over else "",
    )


def _agreement(design: Design, set_v: dict[str, float]) -> Finding:
    spread_v = max(set_v.values()) - min(set_v.values())
    limit_v = AGREE_V * design.system_v / 12.0
    is_apart = spread_v > limit_v + 1e-9
    listed = ", ".join(f"{name} {voltage:.2f} V" for name, voltage in set_v.items())
    return Finding(
        rule="charge-voltage",
        group=WIRING,
        severity=Severity.CONDITION if is_apart else Severity.PASS,
        subject=design.parts[design.battery].id,
        message=f"Chargers of one battery should agree within {limit_v:g} V: {listed}.",
        value=spread_v,
        limit=limit_v,
        unit="V",
        source=COMMON_PRACTICE,
        way_out="Set them to the same absorption voltage." if is_apart else "",
    )


CHARGE_CURRENT = Rule(
    name="charge-current",
    group=WIRING,
    asks="Does the battery take what all chargers give together?",
    check=_charge_current,
)
CHARGE_VOLTAGE = Rule(
    name="charge-voltage",
    group=WIRING,
    asks="Do all chargers stay inside the battery's voltage window and agree?",
    check=_charge_voltage,
)
DISCHARGE_CURRENT = Rule(
    name="discharge-current",
    group=WIRING,
    asks="Does the battery give what inverter and loads ask together?",
    check=_discharge_current,
)
STRING_PROTECTION = Rule(
    name="string-protection",
    group=WIRING,
    asks="Has each parallel string of the battery its own device?",
    check=_string_protection,
)
COLD_CHARGING = Rule(
    name="cold-charging",
    group=WIRING,
    asks="Is the battery kept from being charged too cold?",
    check=_cold_charging,
)
