"""Rule on the float voltage: how every charger holds the battery, and whether they agree."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import part_source
from ampwright.energy.bank import bank_table
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.job.device_settings import as_charger, set_float_v
from ampwright.said import said, said_together
from ampwright.sources import COMMON_PRACTICE, own_choice

__all__ = ["FLOAT_VOLTAGE"]

WIRING = Group.WIRING
AGREE_V = 0.1
"""Chargers of one battery agree within this per 12 V (common practice, no source)."""
ABOVE_V = 0.1
"""How far above the recommended float a charger may hold, per 12 V (docs/choices.md#float-above)."""


def _float_voltage(design: Design, _: Studies) -> Iterator[Finding]:
    held = {
        placed.id: set_float_v(placed, part)
        for placed in design.parts
        if (part := as_charger(placed)) is not None
    }
    for name, float_v in held.items():
        yield _window(design, name, float_v)
    if len(held) > 1:
        yield _agreement(design, held)


def _window(design: Design, subject: str, float_v: float) -> Finding:
    """Judge one charger: above the window it gasses or ages, below the rest voltage it does not hold."""
    battery, placed = design.battery_part(), design.parts[design.battery]
    series, per_12_v = placed.in_series, design.system_v / 12.0
    wanted_v, most_v = battery.float_v * series, battery.charge_max_v * series
    limit_v = wanted_v + ABOVE_V * per_12_v
    rest_v = float(bank_table(design).table_v[-1])
    is_lead = battery.chemistry != "lfp"
    make = partial(Finding, rule="float-voltage", group=WIRING, subject=subject, value=float_v, unit="V")
    told = said("{subject} holds at {float_v:.2f} V", subject=subject, float_v=float_v)
    if float_v > most_v + 1e-9:
        return make(
            severity=Severity.FAIL,
            message=said(
                "{told}; {part} allows {most_v:.2f} V at all.", told=told, part=placed.id, most_v=most_v
            ),
            limit=most_v,
            source=part_source(battery),
            way_out=said("Set {wanted_v:.2f} V.", wanted_v=wanted_v),
            caution=said("Overcharging a battery can end in gas, heat and fire."),
        )
    if float_v > limit_v + 1e-9:
        harm = (
            said("it gasses and dries out") if is_lead else said("it is kept full by force and ages faster")
        )
        return make(
            severity=Severity.CONDITION,
            message=said(
                "{told}; {part} wants {wanted_v:.2f} V: {harm}.",
                told=told,
                part=placed.id,
                wanted_v=wanted_v,
                harm=harm,
            ),
            limit=limit_v,
            source=own_choice("float-above"),
            way_out=said("Set {wanted_v:.2f} V.", wanted_v=wanted_v),
        )
    if is_lead and float_v < rest_v - 1e-9:
        return make(
            severity=Severity.CONDITION,
            message=said(
                "{told}, below the {rest_v:.2f} V of a full {part} at rest: it is never held full.",
                told=told,
                rest_v=rest_v,
                part=placed.id,
            ),
            limit=rest_v,
            at_most=False,
            source=COMMON_PRACTICE,
            way_out=said("Set {wanted_v:.2f} V.", wanted_v=wanted_v),
        )
    return make(
        severity=Severity.PASS,
        message=said("{told}; {part} wants {wanted_v:.2f} V.", told=told, part=placed.id, wanted_v=wanted_v),
        limit=limit_v,
        source=part_source(battery),
    )


def _agreement(design: Design, held: dict[str, float]) -> Finding:
    spread_v = max(held.values()) - min(held.values())
    limit_v = AGREE_V * design.system_v / 12.0
    is_apart = spread_v > limit_v + 1e-9
    listed = said_together(
        (said("{name} {voltage:.2f} V", name=name, voltage=voltage) for name, voltage in held.items()),
        between=", ",
    )
    return Finding(
        rule="float-voltage",
        group=WIRING,
        severity=Severity.CONDITION if is_apart else Severity.PASS,
        subject=design.parts[design.battery].id,
        message=said(
            "Chargers of one battery should hold within {limit_v:g} V of each other: {listed}.",
            limit_v=limit_v,
            listed=listed,
        )
        + (said(" The higher one carries everything and the others seem dead.") if is_apart else ""),
        value=spread_v,
        limit=limit_v,
        unit="V",
        source=COMMON_PRACTICE,
        way_out=said("Set them to the same float voltage.") if is_apart else "",
    )


FLOAT_VOLTAGE = Rule(
    name="float-voltage",
    group=WIRING,
    asks="Does every charger hold the battery at the float voltage it wants, and do they agree?",
    check=_float_voltage,
)
