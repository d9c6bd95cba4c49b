"""What a device works with: its setting where there is one, else what its part is delivered with."""

from __future__ import annotations

from ampwright.job.design import DesignPart
from ampwright.parts.charger import AlternatorCharger, MainsCharger, PanelController
from ampwright.parts.inverter import Inverter

__all__ = [
    "CELL_V_PER_K",
    "COMPENSATION_DEGC",
    "LEAD_CELL_V",
    "Charger",
    "as_charger",
    "charger_start_v",
    "charger_stop_v",
    "compensation_v_per_k",
    "set_float_v",
    "set_inverter_start_v",
    "set_inverter_stop_v",
]

CELL_V_PER_K = 0.004
"""What a lead-acid cell wants more for each kelvin of cold (docs/choices.md#lead-compensation)."""
COMPENSATION_DEGC = 25.0
"""Charge voltages of lead-acid are stated at this temperature (common practice, no source)."""
LEAD_CELL_V = 2.0
"""Nominal voltage of a lead-acid cell."""
Charger = AlternatorCharger | MainsCharger | PanelController | Inverter


def as_charger(placed: DesignPart) -> Charger | None:
    """Return the part where it charges the battery; None where it does not."""
    part = placed.part
    if isinstance(part, AlternatorCharger | MainsCharger | PanelController):
        return part
    return part if isinstance(part, Inverter) and part.charger_max_a > 0.0 else None


def set_float_v(placed: DesignPart, part: Charger) -> float:
    """Return the holding voltage set, or as delivered."""
    setting = placed.setting
    return setting.float_v if setting is not None and setting.float_v is not None else part.float_v


def compensation_v_per_k(placed: DesignPart, *, chemistry: str, system_v: float) -> float:
    """Return how much a charger raises its voltage for each kelvin of cold at the battery: as set, else as its part does.

    A part that always compensates does so by the usual slope of lead-acid, unless its battery type is lithium.
    """
    part = as_charger(placed)
    if part is None:
        return 0.0
    setting = placed.setting
    if setting is not None and setting.compensation_v_per_k is not None:
        return setting.compensation_v_per_k
    programme = chemistry if setting is None or setting.programme is None else setting.programme
    if part.compensates != "always" or programme == "lfp":
        return 0.0
    return CELL_V_PER_K * round(system_v / LEAD_CELL_V)


def charger_start_v(placed: DesignPart, part: AlternatorCharger) -> float:
    """Return the input voltage above which a charger starts."""
    setting = placed.setting
    return setting.start_v if setting is not None and setting.start_v is not None else part.input_start_v


def charger_stop_v(placed: DesignPart, part: AlternatorCharger) -> float:
    """Return the input voltage below which a charger locks out."""
    setting = placed.setting
    return setting.stop_v if setting is not None and setting.stop_v is not None else part.input_stop_v


def set_inverter_stop_v(placed: DesignPart, part: Inverter) -> float:
    """Return the voltage below which an inverter switches off."""
    setting = placed.setting
    return setting.stop_v if setting is not None and setting.stop_v is not None else part.input_min_v


def set_inverter_start_v(placed: DesignPart, part: Inverter) -> float:
    """Return the voltage above which an inverter starts again, never below its switch-off; 0 = not known."""
    setting = placed.setting
    start_v = setting.start_v if setting is not None and setting.start_v is not None else part.input_restart_v
    return max(start_v, set_inverter_stop_v(placed, part)) if start_v > 0.0 else 0.0
