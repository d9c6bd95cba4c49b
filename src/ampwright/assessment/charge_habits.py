"""Rule on what chargers do of themselves: equalising and temperature compensation, by the battery's kind."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import part_source, temperature_text
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design, DesignPart
from ampwright.job.device_settings import Charger, as_charger
from ampwright.job.wiring import Setting
from ampwright.network.demand import charge_setting_v
from ampwright.sources import COMMON_PRACTICE

__all__ = ["CELL_V_PER_K", "CHARGE_HABITS", "LEAD_CELL_V"]

WIRING = Group.WIRING
REFERENCE_DEGC = 25.0
"""Charge voltages of lead-acid are stated at this temperature (common practice, no source)."""
CELL_V_PER_K = 0.004
"""What a lead-acid cell wants more for each kelvin of cold (common practice, no source)."""
LEAD_CELL_V = 2.0
"""Nominal voltage of a lead-acid cell."""
GASSING = "Equalising a lithium or sealed battery drives it beyond its window."


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
            message=f"{placed.id} is set to battery type '{setting.programme}' on a lithium battery.",
            way_out="Choose its lithium type.",
            caution=GASSING,
        )
    if setting.equalise_v:
        return make(
            severity=Severity.FAIL,
            message=f"{placed.id} is to equalise at {setting.equalise_v:.2f} V on a lithium battery.",
            value=setting.equalise_v,
            limit=battery.charge_max_v * series,
            unit="V",
            way_out="Switch equalising off.",
            caution=GASSING,
        )
    if setting.compensation_v_per_k:
        top_v = charge_setting_v(placed) + setting.compensation_v_per_k * max(
            REFERENCE_DEGC - coldest_degc, 0.0
        )
        return make(
            severity=Severity.FAIL if top_v > battery.charge_max_v * series else Severity.CONDITION,
            message=f"{placed.id} compensates for temperature on a lithium battery: at "
            f"{temperature_text(design, coldest_degc)} it would charge at {top_v:.2f} V.",
            value=top_v,
            limit=battery.charge_max_v * series,
            unit="V",
            way_out="Switch temperature compensation off, or take its sensor away.",
        )
    still_open = [] if setting.programme == "lfp" else _open_habits(part, setting)
    if still_open:
        return make(
            severity=Severity.NOT_CHECKED,
            message=f"{placed.id}: whether {' and '.join(still_open)} is off is not said.",
            way_out='Say its battery type (programme = "lfp"), or set it to 0.',
        )
    return make(
        severity=Severity.PASS, message=f"{placed.id} neither equalises nor compensates for temperature."
    )


def _open_habits(part: Charger, setting: Setting) -> list[str]:
    """Return what a device may still do: not switched off, and its part does not rule it out."""
    found = []
    if setting.equalise_v is None and part.equalises != "never":
        found.append("equalising")
    if setting.compensation_v_per_k is None and part.compensates != "never":
        found.append("temperature compensation")
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
            message=f"{placed.id} is set to a lithium battery type on a battery of kind {battery.chemistry}: it "
            "ends charging early and holds too low.",
            source=part_source(part),
            way_out=f"Choose its type for {battery.chemistry}.",
        )
        return
    if setting.equalise_v and battery.chemistry != "flooded":
        yield make(
            severity=Severity.FAIL,
            message=f"{placed.id} is to equalise at {setting.equalise_v:.2f} V; a sealed battery of kind "
            f"{battery.chemistry} cannot be topped up.",
            source=COMMON_PRACTICE,
            way_out="Switch equalising off.",
            caution="A sealed battery vents gas and dries out for good.",
        )
        return
    usual_v_per_k = CELL_V_PER_K * round(design.system_v / LEAD_CELL_V)
    missing_v = usual_v_per_k * (REFERENCE_DEGC - coldest_degc)
    is_on = bool(setting.compensation_v_per_k) or part.compensates == "always"
    is_known_off = setting.compensation_v_per_k == 0.0 or part.compensates == "never"
    if is_on:
        yield make(severity=Severity.PASS, message=f"{placed.id} compensates for temperature.")
        return
    does = "does not compensate" if is_known_off else "is not said to compensate"
    yield make(
        severity=Severity.ADVICE,
        message=f"{placed.id} {does} for temperature: at {temperature_text(design, coldest_degc)} the battery wants "
        f"{missing_v:.2f} V more than at 25 °C, and is never full on cold days.",
        value=missing_v,
        unit="V",
        source=COMMON_PRACTICE,
        way_out=f"Switch it on with its sensor at the battery: {1000 * usual_v_per_k:.0f} mV for each kelvin.",
    )


CHARGE_HABITS = Rule(
    name="charge-habits",
    group=WIRING,
    asks="Do chargers leave out equalising and temperature compensation on lithium, and compensate on lead-acid?",
    check=_charge_habits,
)
