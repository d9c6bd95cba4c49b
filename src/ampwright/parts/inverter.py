"""Inverters, and inverters with a built-in mains charger."""

from __future__ import annotations

from typing import Literal

from ampwright.parts.base import Feature, StopInput, SuppliedPart
from ampwright.records import Fraction, NonNegative, Positive, Temperature, record

__all__ = ["Inverter", "OverloadPoint"]


@record
class OverloadPoint:
    """One more point of an inverter's overload."""

    power_w: Positive
    """Power above the continuous one."""
    lasts_s: Positive
    """Duration from cold."""


@record
class Inverter(SuppliedPart):
    """Inverter; one DC terminal. With `charger_max_a` above zero it also charges from mains."""

    kind: Literal["inverter"]
    """Kind of part."""
    input_nominal_v: Positive
    """Nominal battery voltage."""
    input_min_v: Positive
    """Battery voltage below which it switches off."""
    input_max_v: Positive
    """Battery voltage above which it switches off."""
    output_ac_v: Positive
    """Nominal AC voltage, e.g. 230 or 120."""
    output_hz: tuple[Literal[50, 60], ...] = ()
    """Frequencies it can be set to, as delivered first; empty = not stated. Its charger takes these too."""
    continuous_w: Positive
    """Continuous power at 25 degC ambient."""
    continuous_va: Positive
    """Continuous apparent power at 25 degC ambient."""
    continuous_at_40_degc_w: Positive
    """Continuous power at 40 degC ambient."""
    overload_w: Positive
    """Power it gives for `overload_s`."""
    overload_s: Positive
    """Duration of the overload from cold."""
    overload_more: tuple[OverloadPoint, ...] = ()
    """Further points of the overload, where the data sheet gives several."""
    overload_recovery_s: NonNegative = 0.0
    """Time without load after which the whole overload is there again; 0 = not stated."""
    surge_w: Positive
    """Power for motor starting, about one second."""
    idle_w: NonNegative
    """DC power taken when on without load."""
    efficiency_30_frac: Positive
    """Efficiency at 30 % of continuous power, idle included."""
    efficiency_100_frac: Positive
    """Efficiency at continuous power, idle included."""
    input_capacitance_uf: Positive | None = None
    """Capacitance across its DC terminals; absent = not stated."""
    has_precharge: bool | None = None
    """True when it limits the current that charges its capacitors by itself; absent = not stated."""
    charger_max_a: NonNegative = 0.0
    """Largest charging current from mains; 0 = no charger."""
    charger_input_max_w: NonNegative = 0.0
    """Largest mains power the charger takes."""
    charger_power_factor: Fraction = 0.0
    """Power factor of its charger's input at full output; 0 = not stated."""
    charge_v: NonNegative = 0.0
    """Absorption voltage of the built-in charger; 0 = no charger."""
    charge_v_min_v: NonNegative = 0.0
    """Lowest absorption voltage it can be set to; 0 = no charger."""
    charge_v_max_v: NonNegative = 0.0
    """Highest absorption voltage it can be set to; 0 = no charger."""
    float_v: NonNegative = 0.0
    """Holding voltage of the built-in charger; 0 = no charger."""
    derate_start_degc: Temperature = 40.0
    """Ambient temperature where its charger begins to give less."""
    derate_end_degc: Temperature = 60.0
    """Ambient temperature where its charger gives nothing."""
    transfer_s: NonNegative = 0.0
    """Change-over time from mains to inverter; 0 = no transfer switch."""
    input_restart_v: NonNegative = 0.0
    """Battery voltage above which it starts again; 0 = not stated."""
    input_stop_min_v: NonNegative = 0.0
    """Lowest switch-off voltage it can be set to; 0 = not stated, the same as the highest = fixed."""
    input_stop_max_v: NonNegative = 0.0
    """Highest switch-off voltage it can be set to; 0 = not stated."""
    output_limit_min_a: NonNegative = 0.0
    """Smallest output limit its charger it can be set to; 0 = not adjustable."""
    input_limit_min_a: NonNegative = 0.0
    """Smallest input limit its charger it can be set to; 0 = not adjustable."""
    float_v_min_v: NonNegative = 0.0
    """Lowest holding voltage it can be set to; 0 = not stated."""
    float_v_max_v: NonNegative = 0.0
    """Highest holding voltage it can be set to; 0 = not stated."""
    voltage_step_v: NonNegative = 0.0
    """Step of its voltage settings; 0 = not stated."""
    equalises: Feature = ""
    """Whether it equalises of itself: "never", "can-be-off" or "always"; empty = not stated."""
    compensates: Feature = ""
    """Whether it shifts its voltage with temperature: "never", "can-be-off" or "always"; empty = not stated."""
    stop_input: StopInput = ""
    """How another device can stop it: "none", "wire" or "bus"; empty = not stated."""
