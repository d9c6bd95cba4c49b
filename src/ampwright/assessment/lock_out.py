"""Rule on the lock-out of alternator chargers: below what the alternator gives, above what the engine needs."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import part_source
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design, DesignPart
from ampwright.job.device_settings import charger_start_v, charger_stop_v
from ampwright.job.supply import alternator_name, supply
from ampwright.parts.charger import AlternatorCharger
from ampwright.said import said
from ampwright.sources import own_choice

__all__ = ["CHARGER_LOCK_OUT"]

WIRING = Group.WIRING
RESERVE_CELL_V = 2.05
"""Rest voltage of a lead-acid cell that still starts the engine (docs/choices.md#starter-reserve)."""
FULL_CELL_V = 2.13
"""Rest voltage of a full lead-acid cell (docs/choices.md#starter-reserve)."""
LEAD_CELL_V = 2.0
"""Nominal voltage of a lead-acid cell."""


def _charger_lock_out(design: Design, _: Studies) -> Iterator[Finding]:
    for placed, part in design.placed(AlternatorCharger):
        if design.vehicle.has_alternator:
            yield from _of_charger(design, placed, part)


def _of_charger(design: Design, placed: DesignPart, part: AlternatorCharger) -> Iterator[Finding]:
    vehicle = supply(design, alternator_name(design, placed))
    start_v, stop_v = charger_start_v(placed, part), charger_stop_v(placed, part)
    make = partial(Finding, rule="charger-lock-out", group=WIRING, subject=placed.id, unit="V")
    if start_v <= stop_v:
        yield make(
            severity=Severity.CONDITION,
            message=said(
                "{part} starts above {start_v:.1f} V and stops below {stop_v:.1f} V: it has no gap and "
                "starts and stops by turns.",
                part=placed.id,
                start_v=start_v,
                stop_v=stop_v,
            ),
            value=start_v,
            limit=stop_v,
            at_most=False,
            source=part_source(part),
            way_out=said("Set the start voltage above the stop voltage."),
        )
    if part.needs_run_signal:
        low_v = vehicle.alternator_low_v
        is_high = start_v > low_v
        yield make(
            severity=Severity.CONDITION if is_high else Severity.PASS,
            message=said(
                "{part} starts above {start_v:.1f} V; the alternator may give no more than {low_v:.1f} V",
                part=placed.id,
                start_v=start_v,
                low_v=low_v,
            )
            + (said(", so with its run signal on it may not start.") if is_high else "."),
            value=start_v,
            limit=low_v,
            source=part_source(part),
            way_out=said("Set its start voltage lower; its run signal tells that the engine runs.")
            if is_high
            else "",
        )
    elif vehicle.has_starter_battery:
        yield from _keeps_the_starter(design, placed, start_v, stop_v)


def _keeps_the_starter(
    design: Design, placed: DesignPart, start_v: float, stop_v: float
) -> Iterator[Finding]:
    """Judge a charger that goes by voltage alone: a resting starter battery is no running engine."""
    cells = round(design.vehicle.system_v / LEAD_CELL_V)
    for voltage_v, cell_v, does, harm in (
        (
            stop_v,
            RESERVE_CELL_V,
            said("stops below"),
            said("it empties the starter battery when the engine stands"),
        ),
        (
            start_v,
            FULL_CELL_V,
            said("starts above"),
            said("it starts on a full starter battery with the engine off"),
        ),
    ):
        limit_v = cells * cell_v
        is_low = voltage_v < limit_v
        yield Finding(
            rule="charger-lock-out",
            group=WIRING,
            severity=Severity.CONDITION if is_low else Severity.PASS,
            subject=placed.id,
            message=said(
                "{part} {does} {voltage_v:.1f} V at its input; {limit_v:.1f} V is asked for",
                part=placed.id,
                does=does,
                voltage_v=voltage_v,
                limit_v=limit_v,
            )
            + (said(": {harm}.", harm=harm) if is_low else "."),
            value=voltage_v,
            limit=limit_v,
            unit="V",
            at_most=False,
            source=own_choice("starter-reserve"),
            way_out=said("Set it higher, or use a charger with a run signal input.") if is_low else "",
            caution=said("The engine may not start.") if is_low else "",
        )


CHARGER_LOCK_OUT = Rule(
    name="charger-lock-out",
    group=WIRING,
    asks="Does each alternator charger lock out below what the alternator gives and above what the engine needs?",
    check=_charger_lock_out,
)
