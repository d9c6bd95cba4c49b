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
    allowed_a = battery.charge_max_a * strings
    is_over = total_a > allowed_a
    names = ", ".join(f"{placed.id} {a:g} A" for placed, a in limits)
    yield Finding(
        rule="charge-current",
        group=WIRING,
        severity=Severity.FAIL if is_over else Severity.PASS,
        subject=design.parts[design.battery].id,
        message=f"Chargers together can give {total_a:g} A ({names}); the battery takes {allowed_a:g} A.",
        value=total_a,
        limit=allowed_a,
        unit="A",
        source=part_source(battery),
        way_out="Set output limits on the chargers so that their sum stays below." if is_over else "",
        caution="Charging above the battery's limit overheats it." if is_over else "",
    )


def _discharge_current(design: Design, studies: Studies) -> Iterator[Finding]:
    battery = design.battery_part()
    placed = design.parts[design.battery]
    node = design.node_of(placed.id)
    largest_a = math.nan
    for point in studies.network.points:
        out = sum(
            float(point.run_a[run.index]) * (1.0 if run.start == node else -1.0)
            for run in design.runs
            if node in (run.start, run.end)
        )
        if not math.isnan(out) and not out <= largest_a:
            largest_a = out
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


def _string_protection(design: Design, _: Studies) -> Iterator[Finding]:
    placed = design.parts[design.battery]
    if placed.strings == 1:
        return
    is_missing = placed.string_device is None
    yield Finding(
        rule="string-protection",
        group=WIRING,
        severity=Severity.FAIL if is_missing else Severity.PASS,
        subject=placed.id,
        message=f"{placed.id} has {placed.strings} strings in parallel; a fault in one is fed by the others, "
        + ("and no string has a device of its own." if is_missing else "and each has its own device."),
        source=COMMON_PRACTICE,
        way_out="Put a fuse of high breaking capacity in each string." if is_missing else "",
        caution="The strings feed a fault in their neighbour with kiloamperes." if is_missing else "",
    )


def _cold_charging(design: Design, studies: Studies) -> Iterator[Finding]:
    battery = design.battery_part()
    placed = design.parts[design.battery]
    coldest_degc = float(studies.energy.cell_degc.min())
    lowest_degc = min(coldest_degc, design.job.season.coldest_degc)
    make = partial(
        Finding,
        rule="cold-charging",
        group=WIRING,
        subject=placed.id,
        value=lowest_degc,
        limit=battery.charge_min_degc,
        unit="°C",
        at_most=False,
        source=part_source(battery),
    )
    limit_text = temperature_text(design, battery.charge_min_degc)
    seen = f"cells may be as cold as {temperature_text(design, lowest_degc)}"
    if lowest_degc >= battery.charge_min_degc:
        yield make(
            severity=Severity.PASS, message=f"{placed.id}: {seen}; charging is allowed from {limit_text}."
        )
    elif battery.heater_w > 0.0:
        yield make(
            severity=Severity.ADVICE,
            message=f"{placed.id}: {seen}; its heater of {battery.heater_w:g} W warms it to {limit_text} before it "
            "takes charge, out of what the charger gives.",
        )
    elif battery.is_management_inside:
        yield make(
            severity=Severity.CONDITION,
            message=f"{placed.id}: {seen}; its management refuses charge below {limit_text}, "
            "so on such mornings nothing charges until it has warmed.",
            way_out="A heated battery, a warmer place, or charge later in the day.",
        )
    else:
        yield make(
            severity=Severity.FAIL,
            message=f"{placed.id}: {seen}; it may not be charged below {limit_text} and nothing prevents it.",
            way_out="A charger with a temperature sensor that stops it, or a heated battery.",
            caution="Charging a lithium cell below 0 °C plates metal in it for good.",
        )


def _charge_voltage(design: Design, _: Studies) -> Iterator[Finding]:
    battery = design.battery_part()
    placed_battery = design.parts[design.battery]
    series = placed_battery.in_series
    make = partial(Finding, rule="charge-voltage", group=WIRING, unit="V")
    set_v: dict[str, float] = {}
    for placed, _limit in _output_limits(design):
        part = placed.part
        if not isinstance(part, AlternatorCharger | MainsCharger | PanelController | Inverter):
            continue
        wanted_v = placed.setting.charge_v if placed.setting and placed.setting.charge_v else part.charge_v
        set_v[placed.id] = wanted_v
        top_v = battery.charge_max_v * series
        if not part.charge_v_min_v <= wanted_v <= part.charge_v_max_v:
            yield make(
                severity=Severity.FAIL,
                subject=placed.id,
                message=f"{placed.id} is to be set to {wanted_v:.2f} V; it can be set from "
                f"{part.charge_v_min_v:.2f} to {part.charge_v_max_v:.2f} V.",
                value=wanted_v,
                limit=part.charge_v_max_v,
                source=part_source(part),
                way_out="Choose a voltage it has, or another charger.",
            )
            continue
        is_over = wanted_v > top_v
        yield make(
            severity=Severity.FAIL if is_over else Severity.PASS,
            subject=placed.id,
            message=f"{placed.id} charges at {wanted_v:.2f} V; {placed_battery.id} allows {top_v:.2f} V.",
            value=wanted_v,
            limit=top_v,
            source=part_source(battery),
            way_out=f"Set {battery.charge_v * series:.2f} V." if is_over else "",
            caution="Overcharging a battery can end in gas, heat and fire." if is_over else "",
        )
    if len(set_v) > 1:
        yield _agreement(design, set_v)


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
