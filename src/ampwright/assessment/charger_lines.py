"""What to set on a charger: battery type, voltages, habits, currents, lock-out."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ampwright.assessment.result import Assessment
from ampwright.assessment.setting_range import SettingRange, setting_range, value_words
from ampwright.assessment.settings_advice import (
    advised_charge_v,
    advised_float_v,
    advised_idle_a,
    advised_input_a,
    advised_output_a,
)
from ampwright.assessment.settings_records import Origin, SettingLine
from ampwright.job.design import Design, DesignPart
from ampwright.job.device_settings import CELL_V_PER_K, LEAD_CELL_V, Charger, as_charger
from ampwright.job.supply import alternator_name, supply
from ampwright.job.wiring import Setting
from ampwright.parts.charger import AlternatorCharger
from ampwright.said import said, said_together
from ampwright.units import symbol

__all__ = ["charger_lines"]

Proposed = tuple[float | str, str]
"""A value and its reason."""


def charger_lines(found: Assessment, placed: DesignPart) -> tuple[SettingLine, ...]:
    """Return what to set on a charger, or on the charger in an inverter; nothing for anything else."""
    part = as_charger(placed)
    if part is None:
        return ()
    setting = next(
        (each for each in found.design.wanted_settings if each.part == placed.id), Setting(part=placed.id)
    )
    return tuple(_lines(found, placed, part, setting))


def _lines(found: Assessment, placed: DesignPart, part: Charger, setting: Setting) -> Iterator[SettingLine]:
    design = found.design
    yield from _programme(design, part, setting)
    for name, proposed in (*_voltages(design, placed), *_habits(design)):
        wanted = getattr(setting, name)
        window = _window(design, part, name)
        if window.kind == "absent" or (wanted is None and window.kind == "fixed"):
            continue
        value, why = proposed if wanted is None else (wanted, proposed[1])
        is_implied = name in {"equalise_v", "compensation_v_per_k"} and setting.programme == "lfp"
        why = said_together((why, said("comes with the lithium type")), between="; ") if is_implied else why
        yield _line(name, (value, why), "proposal" if wanted is None and not is_implied else "job", window)
    if setting.absorption_minutes is not None:
        why = said("longest time at the absorption voltage")
        yield _line(
            "absorption_minutes",
            (setting.absorption_minutes, why),
            "job",
            SettingRange(kind="not stated"),
        )
    yield from _currents(found, placed, part, setting)
    if isinstance(part, AlternatorCharger):
        yield from _lock_out(supply(design, alternator_name(design, placed)).alternator_low_v, part, setting)


def _programme(design: Design, part: Charger, setting: Setting) -> Iterator[SettingLine]:
    kind = design.battery_part().chemistry
    wanted = setting.programme
    if wanted is None and kind not in getattr(part, "chemistries", (kind,)):
        return
    proposed: Proposed = (wanted or kind, said("first: choosing it resets the voltages"))
    yield _line(
        "programme", proposed, "proposal" if wanted is None else "job", SettingRange(kind="not stated")
    )


def _voltages(design: Design, placed: DesignPart) -> tuple[tuple[str, Proposed], ...]:
    battery, series = design.battery_part(), design.parts[design.battery].in_series
    wants = [
        said("the battery wants {value_v:.1f} V; all chargers alike", value_v=value_v * series)
        for value_v in (battery.charge_v, battery.float_v)
    ]
    return (
        ("charge_v", (advised_charge_v(design, placed), wants[0])),
        ("float_v", (advised_float_v(design, placed), wants[1])),
    )


def _habits(design: Design) -> tuple[tuple[str, Proposed], ...]:
    if design.battery_part().chemistry == "lfp":
        return (
            ("equalise_v", (0.0, said("off: lithium is never equalised"))),
            ("compensation_v_per_k", (0.0, said("off: lithium wants the same voltage at every temperature"))),
        )
    slope = CELL_V_PER_K * round(design.system_v / LEAD_CELL_V)
    off = (
        said("off: only a flooded battery, by hand and watched")
        if design.battery_part().chemistry != "flooded"
        else said("off in service: only a flooded battery, by hand and watched")
    )
    return (
        ("equalise_v", (0.0, off)),
        (
            "compensation_v_per_k",
            (slope, said("4 mV for each cell and kelvin of cold, sensor at the battery")),
        ),
    )


def _currents(
    found: Assessment, placed: DesignPart, part: Charger, setting: Setting
) -> Iterator[SettingLine]:
    design = found.design
    allowed_a = design.battery_part().charge_max_a * design.parts[design.battery].strings
    most_a = part.output_max_a if hasattr(part, "output_max_a") else part.charger_max_a
    advised_a = advised_output_a(design, placed)
    why = said("the battery takes {allowed_a:g} A from all chargers together", allowed_a=allowed_a)
    window = setting_range(part, "output_limit_a")
    if setting.output_limit_a is not None or window.kind == "range":
        value = setting.output_limit_a or advised_a or most_a
        origin: Origin = "job" if setting.output_limit_a else "proposal" if advised_a else "part"
        yield _line("output_limit_a", (value, why), origin, window)
    idle = advised_idle_a(design, found.energy, placed)
    if setting.idle_limit_a is not None:
        spares = said("what the hot alternator spares at idle")
        yield _line(
            "idle_limit_a", (setting.idle_limit_a, spares), "job", setting_range(part, "idle_limit_a")
        )
    elif idle is not None:
        limit_a, state = idle
        spares = said(
            "hot at idle the alternator spares {spare_a:.0f} A, {wanted_a:.0f} A are wanted",
            spare_a=state.spare_a,
            wanted_a=state.wanted_a,
        )
        yield _line("idle_limit_a", (limit_a, spares), "proposal", setting_range(part, "idle_limit_a"))
    input_a = advised_input_a(design, placed)
    if setting.input_limit_a is not None:
        gives = said("what lead, inlet and post, or the vehicle's feed, give")
        yield _line(
            "input_limit_a", (setting.input_limit_a, gives), "job", setting_range(part, "input_limit_a")
        )
    elif input_a is not None:
        gives = said("post and inlet give no more; a generator may give less")
        yield _line("input_limit_a", (input_a, gives), "proposal", setting_range(part, "input_limit_a"))


def _lock_out(low_v: float, part: AlternatorCharger, setting: Setting) -> Iterator[SettingLine]:
    above = (
        said("below the {low_v:.1f} V of the alternator", low_v=low_v)
        if part.needs_run_signal
        else said("above a resting starter battery")
    )
    for name, delivered_v in (("stop_v", part.input_stop_v), ("start_v", part.input_start_v)):
        wanted_v = getattr(setting, name)
        value = delivered_v if wanted_v is None else wanted_v
        yield _line(name, (value, above), "part" if wanted_v is None else "job", setting_range(part, name))


def _window(design: Design, part: Charger, name: str) -> SettingRange:
    """Return what device and battery allow together."""
    found = setting_range(part, name)
    battery, series = design.battery_part(), design.parts[design.battery].in_series
    if name == "equalise_v" and battery.chemistry != "flooded" and found.kind == "range":
        return SettingRange(kind="range", low=0.0, high=0.0)
    if name not in {"charge_v", "float_v"} or found.kind == "absent":
        return found
    return SettingRange(kind="range", low=found.low, high=min(found.high, battery.charge_max_v * series))


def _line(name: str, proposed: Proposed, origin: Origin, window: SettingRange) -> SettingLine:
    return SettingLine(
        name=name,
        words=value_words(name),
        value=proposed[0],
        unit=symbol(name),
        low=window.low if math.isfinite(window.low) else None,
        high=window.high if math.isfinite(window.high) else None,
        is_fixed=window.kind == "fixed",
        why=proposed[1],
        origin=origin,
    )
