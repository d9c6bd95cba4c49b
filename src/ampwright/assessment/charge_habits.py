"""Rule on what chargers do of themselves: equalising and temperature compensation, by the battery's kind."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import part_source, temperature_text
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design, DesignPart
from ampwright.job.device_settings import CELL_V_PER_K, COMPENSATION_DEGC, LEAD_CELL_V, Charger, as_charger
from ampwright.job.wiring import Setting
from ampwright.network.demand import charge_setting_v
from ampwright.said import all_of, said
from ampwright.sources import COMMON_PRACTICE, own_choice

__all__ = ["CHARGE_HABITS"]

WIRING = Group.WIRING
CELL_SLOPES_V_PER_K = (0.003, 0.005)
"""Slopes that are published for a lead-acid cell (docs/choices.md#lead-compensation)."""
ROUNDING_V_PER_K = 1e-6
GASSING = said("Equalising a lithium or sealed battery drives it beyond its window.")


def _charge_habits(design: Design, studies: Studies) -> Iterator[Finding]:
    coldest_degc = min(float(studies.energy.cell_degc.min()), design.job.season.coldest_degc)
    for placed in design.parts:
        part = as_charger(placed)
        if part is None:
            continue
        setting = placed.setting or Setting(part=placed.id)
        if design.battery_part().chemistry == "lfp":
            yield _on_lithium(design, placed, (part, setting), coldest_degc)
        else:
            yield from _on_lead_acid(design, placed, (part, setting), coldest_degc)


def _on_lithium(
    design: Design, placed: DesignPart, by: tuple[Charger, Setting], coldest_degc: float
) -> Finding:
    """Lithium wants neither; a lithium programme, or a device that never does it, answers for both."""
    part, setting = by
    battery, series = design.battery_part(), design.parts[design.battery].in_series
    make = partial(Finding, rule="charge-habits", group=WIRING, subject=placed.id, source=COMMON_PRACTICE)
    if setting.programme is not None and setting.programme != "lfp":
        return make(
            severity=Severity.FAIL,
            message=said(
                "{part} is set to battery type '{programme}' on a lithium battery.",
                part=placed.id,
                programme=setting.programme,
            ),
            way_out=said("Choose its lithium type."),
            caution=GASSING,
        )
    if setting.equalise_v:
        return make(
            severity=Severity.FAIL,
            message=said(
                "{part} is to equalise at {equalise_v:.2f} V on a lithium battery.",
                part=placed.id,
                equalise_v=setting.equalise_v,
            ),
            value=setting.equalise_v,
            limit=battery.charge_max_v * series,
            unit="V",
            way_out=said("Switch equalising off."),
            caution=GASSING,
        )
    if setting.compensation_v_per_k:
        top_v = charge_setting_v(placed) + setting.compensation_v_per_k * max(
            COMPENSATION_DEGC - coldest_degc, 0.0
        )
        return make(
            severity=Severity.FAIL if top_v > battery.charge_max_v * series else Severity.CONDITION,
            message=said(
                "{part} compensates for temperature on a lithium battery: at {temperature} it would "
                "charge at {top_v:.2f} V.",
                part=placed.id,
                temperature=temperature_text(design, coldest_degc),
                top_v=top_v,
            ),
            value=top_v,
            limit=battery.charge_max_v * series,
            unit="V",
            way_out=said("Switch temperature compensation off, or take its sensor away."),
        )
    still_open = [] if setting.programme == "lfp" else _open_habits(part, setting)
    if still_open:
        return make(
            severity=Severity.NOT_CHECKED,
            message=said(
                "{part}: whether {still_open} is off is not said.",
                part=placed.id,
                still_open=all_of(still_open),
            ),
            way_out=said('Say its battery type (programme = "lfp"), or set it to 0.'),
        )
    return make(
        severity=Severity.PASS,
        message=said("{part} neither equalises nor compensates for temperature.", part=placed.id),
    )


def _open_habits(part: Charger, setting: Setting) -> list[str]:
    """Return what a device may still do: not switched off, and its part does not rule it out."""
    found: list[str] = []
    if setting.equalise_v is None and part.equalises != "never":
        found.append(said("equalising"))
    if setting.compensation_v_per_k is None and part.compensates != "never":
        found.append(said("temperature compensation"))
    return found


def _on_lead_acid(
    design: Design, placed: DesignPart, by: tuple[Charger, Setting], coldest_degc: float
) -> Iterator[Finding]:
    part, setting = by
    battery = design.battery_part()
    make = partial(Finding, rule="charge-habits", group=WIRING, subject=placed.id)
    if setting.programme == "lfp":
        yield make(
            severity=Severity.CONDITION,
            message=said(
                "{part} is set to a lithium battery type on a battery of kind {chemistry}: it ends "
                "charging early and holds too low.",
                part=placed.id,
                chemistry=said(battery.chemistry),
            ),
            source=part_source(part),
            way_out=said("Choose its type for {chemistry}.", chemistry=said(battery.chemistry)),
        )
        return
    if setting.equalise_v and battery.chemistry != "flooded":
        yield make(
            severity=Severity.FAIL,
            message=said(
                "{part} is to equalise at {equalise_v:.2f} V; a sealed battery of kind {chemistry} "
                "cannot be topped up.",
                part=placed.id,
                equalise_v=setting.equalise_v,
                chemistry=said(battery.chemistry),
            ),
            source=COMMON_PRACTICE,
            way_out=said("Switch equalising off."),
            caution=said("A sealed battery vents gas and dries out for good."),
        )
        return
    yield _compensation(design, placed, by, coldest_degc)


def _compensation(
    design: Design, placed: DesignPart, by: tuple[Charger, Setting], coldest_degc: float
) -> Finding:
    """Return whether a charger of a lead-acid battery follows its temperature, and by how much."""
    part, setting = by
    cells = round(design.system_v / LEAD_CELL_V)
    slope, usual_v_per_k = setting.compensation_v_per_k, CELL_V_PER_K * cells
    make = partial(Finding, rule="charge-habits", group=WIRING, subject=placed.id)
    low, high = (each * cells for each in CELL_SLOPES_V_PER_K)
    if slope and not low - ROUNDING_V_PER_K <= slope <= high + ROUNDING_V_PER_K:
        told = {"part": placed.id, "cells": cells, "low_mv": 1000 * low, "high_mv": 1000 * high}
        return make(
            severity=Severity.CONDITION,
            message=said(
                "{part} is set to raise its voltage by {set_mv:.0f} mV for each kelvin of cold; {cells} lead-acid cells want "
                "{low_mv:.0f} to {high_mv:.0f} mV.",
                set_mv=1000 * slope,
                **told,
            ),
            value=slope,
            limit=high if slope > high else low,
            unit="V/K",
            at_most=slope > high,
            source=own_choice("lead-compensation"),
            way_out=said(
                "Set {usual_mv:.0f} mV for each kelvin; some devices ask for it by cell.",
                usual_mv=1000 * usual_v_per_k,
            ),
        )
    if slope or (slope is None and part.compensates == "always"):
        return make(
            severity=Severity.PASS, message=said("{part} compensates for temperature.", part=placed.id)
        )
    missing_v = usual_v_per_k * (COMPENSATION_DEGC - coldest_degc)
    is_known_off = slope == 0.0 or part.compensates == "never"
    does = said("does not compensate") if is_known_off else said("is not said to compensate")
    return make(
        severity=Severity.ADVICE,
        message=said(
            "{part} {does} for temperature: at {temperature} the battery wants {missing_v:.2f} V "
            "more than at 25 °C, and is never full on cold days.",
            part=placed.id,
            does=does,
            temperature=temperature_text(design, coldest_degc),
            missing_v=missing_v,
        ),
        value=missing_v,
        unit="V",
        source=COMMON_PRACTICE,
        way_out=said(
            "Switch it on with its sensor at the battery: {usual_v_per_k:.0f} mV for each kelvin.",
            usual_v_per_k=1000 * usual_v_per_k,
        ),
    )


CHARGE_HABITS = Rule(
    name="charge-habits",
    group=WIRING,
    asks="Do chargers leave out equalising and temperature compensation on lithium, and compensate on lead-acid?",
    check=_charge_habits,
)
