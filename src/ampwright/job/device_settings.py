"""What a device works with: its setting where there is one, else what its part is delivered with."""

from __future__ import annotations

from ampwright.job.design import DesignPart
from ampwright.parts.charger import AlternatorCharger, MainsCharger, PanelController
from ampwright.parts.inverter import Inverter

__all__ = [
    "Charger",
    "as_charger",
    "charger_start_v",
    "charger_stop_v",
    "set_float_v",
    "set_inverter_start_v",
    "set_inverter_stop_v",
]

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
