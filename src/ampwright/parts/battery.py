"""Batteries: the store of the auxiliary system."""

from __future__ import annotations

from typing import Annotated, Literal

from annotated_types import Ge, Gt, Le

from ampwright.parts.base import PartBase, StopInput
from ampwright.records import Count, Fraction, NonNegative, Positive, Temperature, record

__all__ = ["Battery", "CyclePoint", "RatePoint"]


@record
class CyclePoint:
    """How many cycles of one depth a battery stands."""

    depth_frac: Annotated[float, Gt(0), Le(1)]
    """Depth of each cycle, from full."""
    cycle_count: Annotated[int, Ge(1), Le(1_000_000)]
    """Cycles until it holds 80 % of its label."""


@record
class RatePoint:
    """What a battery gives when it is emptied in a stated time."""

    duration_h: Positive
    """Time in which a constant current empties it."""
    capacity_ah: Positive
    """Charge it gives in that time, at 20 degC."""


@record
class Battery(PartBase):
    """One battery case, with its management system where it has one."""

    kind: Literal["battery"]
    """Kind of part."""
    chemistry: Literal["lfp", "agm", "gel", "flooded"]
    """Cell chemistry: lithium iron phosphate, or lead-acid of three builds."""
    nominal_v: Positive
    """Nominal voltage, e.g. 12 or 24."""
    capacity_ah: Positive
    """Rated capacity: lithium at 5 h, lead-acid at 20 h rate."""
    resistance_ohm: Positive
    """Internal resistance at 25 degC and half charge, terminals included."""
    short_circuit_a: Positive
    """Prospective fault current at the terminals, full battery."""
    charge_max_a: Positive
    """Largest continuous charging current."""
    discharge_max_a: Positive
    """Largest continuous discharging current (management limit where there is one)."""
    discharge_peak_a: Positive
    """Largest current for `discharge_peak_s`."""
    discharge_peak_s: Positive = 10.0
    """Duration of the peak current."""
    charge_v: Positive
    """Recommended absorption voltage at the terminals."""
    charge_max_v: Positive
    """Voltage at which management ends charging, or gassing limit."""
    float_v: Positive
    """Recommended holding voltage."""
    cutoff_v: Positive
    """Voltage at which management opens, or below which the battery is harmed."""
    reconnect_v: Positive
    """Voltage at which management closes again."""
    charge_min_degc: Temperature
    """Lowest cell temperature at which it may be charged."""
    charge_max_degc: Temperature
    """Highest cell temperature at which it may be charged."""
    discharge_min_degc: Temperature
    """Lowest cell temperature at which it may be discharged."""
    heater_w: NonNegative = 0.0
    """Power of a built-in cell heater; 0 = none."""
    heater_feeds_from: Literal["chargers", "battery"] = "chargers"
    """What feeds its heater: chargers alone, or the battery too, which then keeps itself warm at any time."""
    is_management_inside: bool = False
    """True when a management system with its own switch is built in."""
    parallel_max_count: Count = 1
    """Most cases in parallel."""
    series_max_count: Count = 1
    """Most cases in series."""
    usable_frac: Fraction
    """Part of the capacity that should be used in daily service."""
    self_discharge_frac_per_month: Fraction
    """Own loss per month at 20 degC, management's consumption not included."""
    charge_efficiency_frac: Fraction
    """Ah out per Ah in."""
    capacity_at_rates: tuple[RatePoint, ...] = ()
    """Lead-acid: capacity of one case at other discharge times, short ones first, at least three; empty = by the usual Peukert exponent of its build."""
    cycle_life: tuple[CyclePoint, ...] = ()
    """Cycles by depth at 25 degC, shallow ones first, the last of depth 1; empty = not stated."""
    float_life_years: NonNegative = 0.0
    """Life in float service at 20 degC, for lead-acid; 0 = not stated."""
    stop_output: StopInput = ""
    """How its management orders chargers and loads to stop: "none" (it only opens its own switch), "wire" or "bus"; empty = not stated."""
