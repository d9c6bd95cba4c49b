"""Rule on settings: what each device can be set to, and what is wanted of it.

The absorption voltage is judged with the battery's window, in `battery_charge`.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial
from typing import Literal

from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import part_source
from ampwright.findings import Finding, Group, Severity
from ampwright.job.as_left import VALUES
from ampwright.job.design import Design, DesignPart
from ampwright.job.device_settings import Charger
from ampwright.parts.base import Feature
from ampwright.parts.charger import AlternatorCharger, MainsCharger, PanelController
from ampwright.parts.inverter import Inverter
from ampwright.parts.kinds import Part
from ampwright.records import record
from ampwright.said import Said, said, said_together
from ampwright.units import symbol

__all__ = ["SETTING_RANGE", "SettingRange", "is_settable", "setting_range", "value_words"]

WIRING = Group.WIRING
WORDS = {
    "programme": said("battery type"),
    "charge_v": said("absorption voltage"),
    "float_v": said("float voltage"),
    "absorption_minutes": said("absorption time"),
    "equalise_v": said("equalising voltage"),
    "compensation_v_per_k": said("temperature compensation"),
    "limit_a": said("current limit"),
    "output_limit_a": said("output limit"),
    "input_limit_a": said("input limit"),
    "start_v": said("start voltage"),
    "stop_v": said("stop voltage"),
    "idle_limit_a": said("output limit at idle"),
    "open_v": said("opens below"),
    "close_v": said("closes above"),
    "delay_s": said("delay"),
    "comfort_open_v": said("comfort loads open below"),
    "comfort_close_v": said("comfort loads close above"),
}


def value_words(name: str) -> Said:
    """Return the name of a setting in words."""
    return WORDS[name]


@record
class SettingRange:
    """What one figure of a device can be set to."""

    kind: Literal["range", "fixed", "not stated", "absent"]
    """How it is known; absent = the device has no such setting."""
    low: float = -math.inf
    """Lowest figure, in the setting's unit."""
    high: float = math.inf
    """Highest figure."""


NOT_STATED = SettingRange(kind="not stated")
ABSENT = SettingRange(kind="absent")


def setting_range(part: Part, name: str) -> SettingRange:
    """Return what a figure of a device can be set to; `name` is a field of the job's settings."""
    if isinstance(part, AlternatorCharger | Inverter) and name in {"start_v", "stop_v"}:
        low, high, top = part.input_stop_min_v, part.input_stop_max_v, part.input_max_v
        delivered = part.input_restart_v if isinstance(part, Inverter) else part.input_start_v
        return _stated(low, high) if name == "stop_v" else _following(low, high, delivered, top)
    if isinstance(part, AlternatorCharger | MainsCharger | PanelController):
        return _of_charger(part, part.output_max_a).get(name, ABSENT)
    if isinstance(part, Inverter) and part.charger_max_a > 0.0:
        return _of_charger(part, part.charger_max_a).get(name, ABSENT)
    return ABSENT


def _of_charger(part: Charger, most_a: float) -> dict[str, SettingRange]:
    """Return what the figures of a charger can be set to; what is missing it does not have."""
    found = {
        "charge_v": SettingRange(kind="range", low=part.charge_v_min_v, high=part.charge_v_max_v),
        "float_v": _stated(part.float_v_min_v, part.float_v_max_v),
        "absorption_minutes": NOT_STATED,
        "equalise_v": _habit(part.equalises),
        "compensation_v_per_k": _habit(part.compensates),
        "output_limit_a": _current(part.output_limit_min_a, most_a),
    }
    if isinstance(part, AlternatorCharger):
        found["idle_limit_a"] = found["output_limit_a"]
    if not isinstance(part, PanelController):
        found["input_limit_a"] = _current(part.input_limit_min_a, math.inf)
    return found


def _habit(habit: Feature) -> SettingRange:
    """Return what a charger's habit can be set to; 0 is off."""
    if habit == "can-be-off":
        return SettingRange(kind="range", low=0.0)
    return SettingRange(kind="fixed", low=0.0, high=0.0) if habit == "never" else NOT_STATED


def _stated(low: float, high: float) -> SettingRange:
    if high <= 0.0:
        return NOT_STATED
    return SettingRange(kind="fixed" if low == high else "range", low=low, high=high)


def _following(low: float, high: float, delivered: float, top: float) -> SettingRange:
    """Return the range of a start voltage: it can be set where the stop voltage can."""
    stop = _stated(low, high)
    if stop.kind == "fixed":
        return SettingRange(kind="fixed", low=delivered, high=delivered) if delivered else NOT_STATED
    return SettingRange(kind="range", low=low, high=top) if stop.kind == "range" else NOT_STATED


def _current(least: float, most: float) -> SettingRange:
    if least > 0.0:
        return SettingRange(kind="range", low=least, high=most)
    if math.isinf(most):
        return ABSENT
    return SettingRange(kind="fixed", low=most, high=most)


def _setting_range(design: Design, _: Studies) -> Iterator[Finding]:
    for placed in design.parts:
        if placed.setting is not None:
            yield from _of_device(placed)


def _of_device(placed: DesignPart) -> Iterator[Finding]:
    make = partial(
        Finding, rule="setting-range", group=WIRING, subject=placed.id, source=part_source(placed.part)
    )
    wanted = {name: getattr(placed.setting, name) for name in VALUES if name != "charge_v"}
    given = {name: value for name, value in wanted.items() if value is not None}
    open_names, wrong = [], []
    for name, value in given.items():
        if name == "programme":
            wrong += [] if _has_programme(placed.part, str(value)) else [(name, value, ABSENT)]
            continue
        found = setting_range(placed.part, name)
        if found.kind == "not stated":
            open_names.append(value_words(name))
        elif found.kind == "absent" or not found.low - 1e-9 <= value <= found.high + 1e-9:
            wrong.append((name, value, found))
    for name, value, found in wrong:
        yield make(**_wrong(placed, name, value, found))  # type: ignore[arg-type]
    if open_names:
        yield make(
            severity=Severity.ADVICE,
            message=said(
                "{part}: its record does not say what these can be set to: {open_names}.",
                part=placed.id,
                open_names=said_together(open_names, between=", "),
            ),
            way_out=said("Look it up in its manual before relying on it."),
        )
    elif not wrong and given:
        yield make(
            severity=Severity.PASS, message=said("{part} can be set to what is wanted of it.", part=placed.id)
        )


def _has_programme(part: Part, programme: str) -> bool:
    return not hasattr(part, "chemistries") or programme in part.chemistries


def _wrong(placed: DesignPart, name: str, value: float | str, found: SettingRange) -> dict[str, object]:
    """Return severity, message, figures and way out for a value a device cannot be set to."""
    words = value_words(name)
    if name == "programme" or not isinstance(value, float | int):
        return {
            "severity": Severity.FAIL,
            "message": said(
                "{part} has no programme for a battery of kind {value}.", part=placed.id, value=value
            ),
            "way_out": said("Choose a battery type its menu has."),
        }
    unit = symbol(name)
    if found.kind == "absent":
        return {
            "severity": Severity.FAIL,
            "message": said(
                "{part}: {words} {value:g} {unit} is wanted, but it has no such setting.",
                part=placed.id,
                words=words,
                value=value,
                unit=unit,
            ),
            "way_out": said("Take the setting out, or use a device that has it."),
        }
    is_above = value > found.high
    can = (
        said("it is fixed at {low:g} {unit}", low=found.low, unit=unit)
        if found.kind == "fixed"
        else said("it can be set from {low:g} {unit}", low=found.low, unit=unit)
        + (said(" to {high:g} {unit}", high=found.high, unit=unit) if math.isfinite(found.high) else "")
    )
    return {
        "severity": Severity.FAIL,
        "message": said(
            "{part}: {words} {value:g} {unit} is wanted; {can}.",
            part=placed.id,
            words=words,
            value=value,
            unit=unit,
            can=can,
        ),
        "value": float(value),
        "limit": found.high if is_above else found.low,
        "unit": unit,
        "at_most": is_above,
        "way_out": said("Choose a value it has, or another device."),
    }


SETTING_RANGE = Rule(
    name="setting-range",
    group=WIRING,
    asks="Can each device be set to what is wanted of it?",
    check=_setting_range,
)


def is_settable(part: Part, name: str, value: float) -> bool:
    """Return whether a device is known to take a value."""
    found = setting_range(part, name)
    return found.kind in {"range", "fixed"} and found.low <= value <= found.high
