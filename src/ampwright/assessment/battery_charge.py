"""Rules on charging the battery: current, voltage, cold, and batteries joined without a charger."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from ampwright.assessment.battery import largest_battery_a
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import part_source, temperature_text
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design, DesignPart
from ampwright.job.joins import relay_joins
from ampwright.job.nodes import SECOND_NODE, STARTER_NODE
from ampwright.job.supply import is_second_direct
from ampwright.parts.charger import AlternatorCharger, MainsCharger, PanelController
from ampwright.parts.inverter import Inverter
from ampwright.said import said, said_together
from ampwright.sources import COMMON_PRACTICE

__all__ = ["BATTERIES_JOINED", "CHARGE_CURRENT", "CHARGE_VOLTAGE", "COLD_CHARGING"]

WIRING = Group.WIRING
AGREE_V = 0.1
"""Chargers of one battery agree within this per 12 V (common practice, no source)."""
CHARGE_CAUTION = said("Charging above the battery's limit overheats it.")
COLD_CAUTION = said("Charging a lithium cell below 0 °C plates metal in it for good.")
COLD_LEAD_CAUTION = said("A lead-acid battery that cold takes little charge and may gas or freeze.")


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


def _charge_current(design: Design, studies: Studies) -> Iterator[Finding]:
    """Alternator and mains chargers never run together; panels may run with either."""
    if _join(design) is not None or relay_joins(design):
        yield _through_join(design, studies)
    limits = _output_limits(design)
    second = design.vehicle.second if is_second_direct(design) else None
    second_a = second.alternator_a if second is not None else 0.0
    if not limits and second is None:
        return
    battery = design.battery_part()
    strings = design.parts[design.battery].strings
    on_road = second_a + sum(
        a for placed, a in limits if not isinstance(placed.part, MainsCharger | Inverter)
    )
    hooked = sum(a for placed, a in limits if not isinstance(placed.part, AlternatorCharger))
    total_a = max(on_road, hooked)
    all_a = second_a + sum(a for _, a in limits)
    allowed_a = battery.charge_max_a * strings
    is_over = total_a > allowed_a
    is_over_on_lead = not is_over and all_a > allowed_a
    names = said_together(
        (said("{name} {a:g} A", name=name, a=a) for name, a in _givers(limits, second_a)), between=", "
    )
    yield Finding(
        rule="charge-current",
        group=WIRING,
        severity=Severity.FAIL if is_over else Severity.ADVICE if is_over_on_lead else Severity.PASS,
        subject=design.parts[design.battery].id,
        message=said(
            "Chargers together can give {total_a:g} A ({names}); the battery takes {allowed_a:g} A.",
            total_a=total_a,
            names=names,
            allowed_a=allowed_a,
        )
        + (
            said(" With the engine running while hooked up it would be {all_a:g} A.", all_a=all_a)
            if is_over_on_lead
            else ""
        ),
        value=total_a,
        limit=allowed_a,
        unit="A",
        source=part_source(battery),
        way_out=said("Set output limits on the chargers so that their sum stays below.")
        if is_over
        else said("Do not run the engine while hooked up, or interlock the chargers.")
        if is_over_on_lead
        else "",
        caution=CHARGE_CAUTION if is_over else "",
    )


def _givers(limits: tuple[tuple[DesignPart, float], ...], second_a: float) -> list[tuple[str, float]]:
    """Return what charges, by name, a second alternator straight on the battery included."""
    return [*((placed.id, a) for placed, a in limits), *([(SECOND_NODE, second_a)] if second_a > 0.0 else [])]


def _through_join(design: Design, studies: Studies) -> Finding:
    """Hold what a joined starter battery and its alternator push into the battery against its limit."""
    placed, battery = design.parts[design.battery], design.battery_part()
    largest_a = largest_battery_a(design, studies, is_into=True)
    allowed_a = battery.charge_max_a * placed.strings
    make = partial(
        Finding,
        rule="charge-current",
        group=WIRING,
        subject=placed.id,
        limit=allowed_a,
        unit="A",
        source=part_source(battery),
    )
    if math.isnan(largest_a):
        return make(
            severity=Severity.NOT_CHECKED,
            message=said(
                "{part}: what the joined starter battery pushes into it could not be calculated.",
                part=placed.id,
            ),
        )
    is_over = largest_a > allowed_a
    # a lead-acid battery bounds its own current within minutes, which resistance alone does not show
    is_mild = battery.chemistry != "lfp" and _join(design) is None
    return make(
        severity=Severity.PASS if not is_over else Severity.ADVICE if is_mild else Severity.FAIL,
        message=said(
            "With the batteries joined, {largest_a:.0f} A can flow into {part} when it is low, "
            "limited by resistance and the alternator only; it takes {allowed_a:g} A.",
            largest_a=largest_a,
            part=placed.id,
            allowed_a=allowed_a,
        ),
        value=largest_a,
        way_out=said("Put a charger with a current limit between the two batteries.") if is_over else "",
        caution=CHARGE_CAUTION if is_over else "",
    )


def _join(design: Design) -> tuple[str, ...] | None:
    """Return the runs that lead from the starter battery to the auxiliary one, by the fewest steps; None without."""
    start, goal = design.node_of(STARTER_NODE), design.node_of(design.parts[design.battery].id)
    if start < 0 or goal < 0:
        return None
    steps: list[tuple[int, int, tuple[str, ...]]] = [(run.start, run.end, (run.id,)) for run in design.runs]
    relays = {join.link for join in relay_joins(design)}
    steps += [(link.start, link.end, ()) for index, link in enumerate(design.links) if index not in relays]
    way: dict[int, tuple[str, ...]] = {start: ()}
    border = [start]
    while border and goal not in way:
        node = border.pop(0)
        for one, other, name in steps:
            if node in {one, other}:
                beyond = other if node == one else one
                if beyond not in way:
                    way[beyond] = way[node] + name
                    border.append(beyond)
    return way.get(goal)


def _batteries_joined(design: Design, _: Studies) -> Iterator[Finding]:
    """Find a way by cable alone between the two batteries: nothing opens it when the engine stands."""
    if not design.vehicle.has_starter_battery or design.node_of(STARTER_NODE) < 0:
        return
    name, runs = design.parts[design.battery].id, _join(design)
    make = partial(Finding, rule="batteries-joined", group=WIRING, subject=name, source=COMMON_PRACTICE)
    if runs is None:
        through = said_together((join.placed.id for join in relay_joins(design)), between=", ")
        yield make(
            severity=Severity.PASS,
            message=said("{name} and the starter battery are not joined by cable alone", name=name)
            + (said("; {through} joins them while it is closed.", through=through) if through else "."),
        )
        return
    is_lithium = design.battery_part().chemistry == "lfp"
    yield make(
        severity=Severity.FAIL if is_lithium else Severity.CONDITION,
        message=said(
            "{name} is joined to the starter battery for good (runs {runs}), no charger or relay "
            "between them: house loads flatten the starter battery too, and nothing limits the "
            "alternator.",
            name=name,
            runs=said_together(runs, between=", "),
        )
        + (said(" The two kinds of battery want different voltages.") if is_lithium else ""),
        way_out=said("Put a charger between them.")
        if is_lithium
        else said("Put a charger between them, or a relay that closes only while the engine runs."),
        caution=said("A cold alternator gives all it has into an empty lithium battery and can burn out.")
        if is_lithium
        else said("The engine may not start after a night of house loads."),
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
            message=said("{part}: the temperature of its cells could not be calculated.", part=placed.id),
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
    seen = {"battery": name, "cold": temperature_text(design, lowest_degc), "limit": limit_text}
    if lowest_degc >= battery.charge_min_degc:
        return make(
            severity=Severity.PASS,
            message=said(
                "{battery}: cells may be as cold as {cold}; charging is allowed from {limit}.", **seen
            ),
        )
    if battery.heater_w > 0.0:
        return make(
            severity=Severity.ADVICE,
            message=said(
                "{battery}: cells may be as cold as {cold}; its heater of {heater_w:g} W warms it to {limit} before it takes "
                "charge, out of what the charger gives.",
                heater_w=battery.heater_w,
                **seen,
            ),
        )
    if battery.is_management_inside:
        return make(
            severity=Severity.CONDITION,
            message=said(
                "{battery}: cells may be as cold as {cold}; its management refuses charge below {limit}, so on such mornings "
                "nothing charges until it has warmed.",
                **seen,
            ),
            way_out=said("A heated battery, a warmer place, or charge later in the day."),
        )
    return make(
        severity=Severity.FAIL,
        message=said(
            "{battery}: cells may be as cold as {cold}; it may not be charged below {limit} and nothing prevents it.",
            **seen,
        ),
        way_out=said("A charger with a temperature sensor that stops it, or a heated battery."),
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
            message=said(
                "{subject} has no programme for a battery of kind {chemistry}.",
                subject=subject,
                chemistry=said(battery.chemistry),
            ),
            source=part_source(part),
            way_out=said("Use a charger made for this kind of battery."),
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
            message=said(
                "{subject} is to be set to {wanted_v:.2f} V; it can be set from {charge_v_min_v:.2f} to "
                "{charge_v_max_v:.2f} V.",
                subject=subject,
                wanted_v=wanted_v,
                charge_v_min_v=part.charge_v_min_v,
                charge_v_max_v=part.charge_v_max_v,
            ),
            limit=part.charge_v_max_v if is_above else part.charge_v_min_v,
            at_most=is_above,
            source=part_source(part),
            way_out=said("Choose a voltage it has, or another charger."),
        )
    is_over = wanted_v > top_v
    return make(
        severity=Severity.FAIL if is_over else Severity.PASS,
        message=said(
            "{subject} charges at {wanted_v:.2f} V; {placed_battery} allows {top_v:.2f} V.",
            subject=subject,
            wanted_v=wanted_v,
            placed_battery=placed_battery.id,
            top_v=top_v,
        ),
        limit=top_v,
        source=part_source(battery),
        way_out=said("Set {charge_v:.2f} V.", charge_v=battery.charge_v * placed_battery.in_series)
        if is_over
        else "",
        caution=said("Overcharging a battery can end in gas, heat and fire.") if is_over else "",
    )


def _agreement(design: Design, set_v: dict[str, float]) -> Finding:
    spread_v = max(set_v.values()) - min(set_v.values())
    limit_v = AGREE_V * design.system_v / 12.0
    is_apart = spread_v > limit_v + 1e-9
    listed = said_together(
        (said("{name} {voltage:.2f} V", name=name, voltage=voltage) for name, voltage in set_v.items()),
        between=", ",
    )
    return Finding(
        rule="charge-voltage",
        group=WIRING,
        severity=Severity.CONDITION if is_apart else Severity.PASS,
        subject=design.parts[design.battery].id,
        message=said(
            "Chargers of one battery should agree within {limit_v:g} V: {listed}.",
            limit_v=limit_v,
            listed=listed,
        ),
        value=spread_v,
        limit=limit_v,
        unit="V",
        source=COMMON_PRACTICE,
        way_out=said("Set them to the same absorption voltage.") if is_apart else "",
    )


BATTERIES_JOINED = Rule(
    name="batteries-joined",
    group=WIRING,
    asks="Is there a charger or relay between the starter battery and the auxiliary one?",
    check=_batteries_joined,
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
    no_override="A battery charged above its voltage can burn or burst.",
)
COLD_CHARGING = Rule(
    name="cold-charging",
    group=WIRING,
    asks="Is the battery kept from being charged too cold?",
    check=_cold_charging,
    no_override="Lithium charged frozen can fail later without a sign.",
)
