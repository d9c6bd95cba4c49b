"""Chargers: from the alternator, from mains, and controllers for panels."""

from __future__ import annotations

from typing import Literal

from ampwright.parts.base import Feature, StopInput, SuppliedPart
from ampwright.records import Fraction, NonNegative, Positive, Temperature, record

__all__ = ["AlternatorCharger", "MainsCharger", "PanelController"]


@record
class AlternatorCharger(SuppliedPart):
    """DC-DC charger fed by the alternator; terminals "in" and "out"."""

    kind: Literal["alternator-charger"]
    """Kind of part."""
    input_nominal_v: Positive
    """Nominal voltage of the vehicle side."""
    output_nominal_v: Positive
    """Nominal voltage of the battery side."""
    input_start_v: Positive
    """Input voltage above which it starts."""
    input_stop_v: Positive
    """Input voltage below which it locks out."""
    input_max_v: Positive
    """Highest input voltage it survives."""
    output_max_a: Positive
    """Largest output current."""
    output_limit_min_a: NonNegative = 0.0
    """Smallest output limit it can be set to; 0 = not adjustable."""
    charge_v: Positive
    """Absorption voltage as delivered."""
    charge_v_min_v: Positive
    """Lowest absorption voltage it can be set to."""
    charge_v_max_v: Positive
    """Highest absorption voltage it can be set to."""
    float_v: Positive
    """Holding voltage as delivered."""
    efficiency_frac: Fraction
    """Output power over input power at full output."""
    derate_start_degc: Temperature
    """Ambient temperature where the output begins to fall."""
    derate_end_degc: Temperature
    """Ambient temperature where the output reaches zero."""
    is_isolated: bool | None = None
    """True when nothing joins the negatives of its two sides inside; absent = not stated."""
    needs_run_signal: bool
    """True when it starts only with a run signal wire (for regulated alternators)."""
    chemistries: tuple[Literal["lfp", "agm", "gel", "flooded"], ...]
    """Battery chemistries it has a programme for."""
    input_limit_min_a: NonNegative = 0.0
    """Smallest input limit it can be set to; 0 = not adjustable."""
    input_stop_min_v: NonNegative = 0.0
    """Lowest lock-out voltage it can be set to; 0 = not stated, the same as the highest = fixed."""
    input_stop_max_v: NonNegative = 0.0
    """Highest lock-out voltage it can be set to; 0 = not stated."""
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


@record
class MainsCharger(SuppliedPart):
    """Battery charger fed from mains or a generator; terminal "out"."""

    kind: Literal["mains-charger"]
    """Kind of part."""
    input_ac_v: Positive
    """Nominal mains voltage."""
    input_max_w: Positive
    """Largest power taken from the mains."""
    output_nominal_v: Positive
    """Nominal voltage of the battery side."""
    output_max_a: Positive
    """Largest output current."""
    charge_v: Positive
    """Absorption voltage as delivered."""
    charge_v_min_v: Positive
    """Lowest absorption voltage it can be set to."""
    charge_v_max_v: Positive
    """Highest absorption voltage it can be set to."""
    float_v: Positive
    """Holding voltage as delivered."""
    efficiency_frac: Fraction
    """Output power over input power at full output."""
    derate_start_degc: Temperature
    """Ambient temperature where the output begins to fall."""
    derate_end_degc: Temperature
    """Ambient temperature where the output reaches zero."""
    chemistries: tuple[Literal["lfp", "agm", "gel", "flooded"], ...]
    """Battery chemistries it has a programme for."""
    power_factor: Fraction = 0.0
    """Power factor of its input at full output; 0 = not stated."""
    input_hz: tuple[Literal[50, 60], ...] = ()
    """Mains frequencies it is built for; empty = not stated."""
    output_limit_min_a: NonNegative = 0.0
    """Smallest output limit it can be set to; 0 = not adjustable."""
    input_limit_min_a: NonNegative = 0.0
    """Smallest input limit it can be set to; 0 = not adjustable."""
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


@record
class PanelController(SuppliedPart):
    """Charge controller between panels and battery; terminals "in" and "out"."""

    kind: Literal["panel-controller"]
    """Kind of part."""
    tracking: Literal["maximum-power", "switching"]
    """Maximum-power-point tracking, or series switching (panel works at battery voltage)."""
    output_nominal_v: Positive
    """Nominal voltage of the battery side."""
    input_max_v: Positive
    """Highest open-circuit voltage the input survives, in any weather."""
    input_max_a: Positive
    """Highest short-circuit current of the panels connected."""
    output_max_a: Positive
    """Largest output current."""
    start_above_battery_v: NonNegative
    """The panel voltage must exceed the battery's by this much."""
    charge_v: Positive
    """Absorption voltage as delivered."""
    charge_v_min_v: Positive
    """Lowest absorption voltage it can be set to."""
    charge_v_max_v: Positive
    """Highest absorption voltage it can be set to."""
    float_v: Positive
    """Holding voltage as delivered."""
    efficiency_frac: Fraction
    """Output power over input power."""
    chemistries: tuple[Literal["lfp", "agm", "gel", "flooded"], ...]
    """Battery chemistries it has a programme for."""
    output_limit_min_a: NonNegative = 0.0
    """Smallest output limit it can be set to; 0 = not adjustable."""
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
