"""The arrays the kernel runs on: battery, consumers, sources, refrigerators, as named tuples.

Named tuples, since the compiler of the kernel takes them apart without cost. Everything here is a
number or a float64 array; ids stay in `Design`.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

__all__ = [
    "LANES",
    "ActiveTable",
    "BankTable",
    "ConsumerTable",
    "FridgeTable",
    "KernelResult",
    "SourceTable",
    "StepTable",
    "empty_active",
    "empty_result",
    "table_slopes",
]

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
Indices = NDArray[np.int64]
LINE = 64
"""Bytes of a line of the processor's cache."""
LANES = 8
"""Runs side by side in the kernel: one register of 512 bits, or two of 256."""


class BankTable(NamedTuple):
    """The whole battery bank as one two-pole."""

    table_ah: Array
    """Charge at the points of the open-circuit table, rising, from 0 to the capacity."""
    table_v: Array
    """Open-circuit voltage at those points."""
    slopes: Array
    """Slope of each piece of the table, V/Ah."""
    rated_ah: float
    """Rated capacity; lithium's is the last of `table_ah`, lead-acid gives more when emptied slowly."""
    resistance_ohm: float
    """Internal resistance at 25 degC."""
    doubling_k: float
    """Kelvin of cold that double the resistance."""
    efficiency_frac: float
    """Ah stored per Ah taken in."""
    self_discharge_a: float
    """Own loss as a current."""
    acceptance_h: float
    """Time constant of the charge acceptance; 0 = takes what the voltages drive."""
    available_frac: float
    """Share of the charge that is available at once (kinetic model); 1 = all."""
    exchange_per_h: float
    """Rate at which the rest becomes available."""
    cold_loss_frac_per_k: float
    """Share of the capacity lost for each kelvin below 20 degC."""
    cutoff_v: float
    """Voltage below which discharge is blocked; 0 = nothing blocks."""
    reconnect_v: float
    """Voltage at which discharge is free again."""
    discharge_max_a: float
    """Current above which discharge is blocked; 1e9 = nothing blocks."""
    discharge_min_degc: float
    """Cell temperature below which discharge is blocked."""
    charge_max_v: float
    """Voltage above which charge is blocked."""
    charge_again_v: float
    """Voltage below which charge is free again."""
    charge_min_degc: float
    """Cell temperature below which charge is blocked."""
    charge_max_degc: float
    """Cell temperature above which charge is blocked."""
    heater_w: float
    """Power of the cell heaters."""
    heater_free_w: float
    """Power the heaters may take without any charger: none, or all of it where the battery feeds them too."""
    heater_stop_degc: float
    """Cell temperature the heaters work up to."""
    cooling_w_per_k: float
    """Heat the cells lose for each kelvin above the air."""
    lag_h: float
    """Time constant of the cell temperature."""


class ConsumerTable(NamedTuple):
    """Consumers on the battery's bus: DC loads and inverters; n_consumers."""

    kind: Indices
    """(n_consumers,) 0 constant power, 1 constant current, 2 constant resistance."""
    path_ohm: Array
    """(n_consumers,) loop resistance from the battery."""
    nominal_v: float
    """Voltage at which powers are stated."""
    is_cut: Flags
    """(n_consumers,) True when the load cut-off switches it off."""
    lock_v: Array
    """(n_consumers,) own terminal voltage below which it stops; 0 = none."""
    unlock_v: Array
    """(n_consumers,) terminal voltage at which it starts again."""
    shed_v: Array
    """(n_consumers,) battery voltage below which it is shed before the others; 0 = never."""
    shed_back_v: Array
    """(n_consumers,) battery voltage at which it comes back."""
    fridge: Indices
    """(n_consumers,) index of its refrigerator, -1 for none."""
    has_cutoff: bool
    """True when a load cut-off is fitted."""
    open_v: float
    """Voltage below which the load cut-off opens."""
    close_v: float
    """Voltage at which it closes again."""


class SourceTable(NamedTuple):
    """Chargers; n_sources."""

    set_v: Array
    """(n_sources,) charge voltage at the charger's output."""
    path_ohm: Array
    """(n_sources,) loop resistance to the battery."""


class FridgeTable(NamedTuple):
    """Refrigerators; n_fridges."""

    set_degc: Array
    """(n_fridges,) cabinet temperature."""
    capacity_wh_per_k: Array
    """(n_fridges,) heat capacity of cabinet and contents."""
    ice_wh: Array
    """(n_fridges,) latent heat of the ice lining."""
    running_w: Array
    """(n_fridges,) electrical power while running."""
    carnot_frac: Array
    """(n_fridges,) fraction of the ideal cycle."""
    evaporator_below_k: Array
    """(n_fridges,) evaporator below cabinet."""
    condenser_above_k: Array
    """(n_fridges,) condenser above air."""


class StepTable(NamedTuple):
    """What changes from step to step."""

    step_h: float
    """Length of a step."""
    row: Indices
    """(n_steps,) row of the tables that repeat from day to day; those have n_rows."""
    on_w: Array
    """(n_rows, n_consumers) power while on."""
    duty_frac: Array
    """(n_rows, n_consumers) share of the step it is on; for a refrigerator the share it may run."""
    peak_w: Array
    """(n_rows, n_consumers) highest power within the step."""
    long_w: Array
    """(n_rows, n_consumers) power that lasts longer than the delay of the load cut-off."""
    ac_w: Array
    """(n_rows, n_consumers) mean AC power of an inverter; 0 for others."""
    loss_w: Array
    """(n_rows, n_consumers) mean loss of an inverter; 0 for others."""
    standby_w: Array
    """(n_rows,) standby drains."""
    limit_a: Array
    """(n_steps, n_sources) current limit of each charger."""
    available_w: Array
    """(n_steps, n_sources) output power each charger could give."""
    zone_degc: Array
    """(n_steps,) air at the battery."""
    air_degc: Array
    """(n_steps, n_fridges) air at each refrigerator."""
    leak_w_per_k: Array
    """(n_steps, n_fridges) heat leak."""
    is_used: Flags
    """(n_steps, n_fridges) False while it is away or in store."""


class ActiveTable(NamedTuple):
    """Scratch of the kernel: the consumers that are on in a step, closed up, and what it carries on."""

    member: Indices
    """(n_consumers,) position in ConsumerTable."""
    kind: Indices
    """(n_consumers,) kind."""
    power_w: Array
    """(n_consumers,) power while on."""
    duty_frac: Array
    """(n_consumers,) share of the step."""
    path_ohm: Array
    """(n_consumers,) loop resistance."""
    peak_w: Array
    """(n_consumers,) highest power."""
    long_w: Array
    """(n_consumers,) power that outlasts the delay of the load cut-off."""
    source: Indices
    """(n_sources,) position in SourceTable of each charger that can give."""
    set_v: Array
    """(n_sources,) its charge voltage."""
    source_ohm: Array
    """(n_sources,) its loop resistance."""
    limit_a: Array
    """(n_sources,) its current limit."""
    available_w: Array
    """(n_sources,) its power."""
    lock: Flags
    """(n_consumers,) stopped by its own voltage limit."""
    shed: Flags
    """(n_consumers,) shed before the others."""
    last_a: Array
    """(n_consumers,) current in the step before."""
    carried: Array
    """(5,) charge, level, cell temperature, battery's current, its voltage at the end of the step before."""
    is_off: Flags
    """(3,) load cut-off open, management open, charge stopped by voltage."""
    temp_degc: Array
    """(n_fridges,) cabinet temperature."""
    ice_wh: Array
    """(n_fridges,) ice left."""
    cop: Array
    """(n_fridges,) coefficient of performance."""
    fridge_duty: Array
    """(n_fridges,) share of the step it wants to run."""


class KernelResult(NamedTuple):
    """What the kernel fills in."""

    charge_ah: Array
    """(n_steps + 1,) charge in the battery."""
    battery_v: Array
    """(n_steps,) mean terminal voltage."""
    end_v: Array
    """(n_steps,) terminal voltage at the end of the step."""
    low_v: Array
    """(n_steps,) lowest terminal voltage, peaks included."""
    battery_a: Array
    """(n_steps,) mean current, positive = charging."""
    peak_a: Array
    """(n_steps,) highest discharging current, peaks included."""
    cell_degc: Array
    """(n_steps,) cell temperature at the start of the step."""
    wanted_charge_a: Array
    """(n_steps,) what all chargers together would drive at this voltage, taper not counted."""
    source_w: Array
    """(n_steps, n_sources) mean output power."""
    consumer_w: Array
    """(n_steps, n_consumers) mean power taken at the consumer's terminals."""
    missing_w: Array
    """(n_steps, n_consumers) mean power wanted and not given."""
    is_unserved: Flags
    """(n_steps, n_consumers) True when it was switched off though wanted."""
    fridge_degc: Array
    """(n_steps, n_fridges) cabinet temperature at the end of the step."""
    ice_wh: Array
    """(n_steps, n_fridges) ice left at the end of the step."""
    is_cut: Flags
    """(n_steps,) load cut-off open."""
    is_open: Flags
    """(n_steps,) discharge blocked by the management, or battery empty."""
    is_blocked: Flags
    """(n_steps,) charge blocked by the management."""
    heater_w: Array
    """(n_steps,) power of the cell heaters."""
    terms_wh: Array
    """(9,) inverter AC, inverter loss, standby, heater, cable, battery, coulombic, self-discharge, stored."""
    fridge_wh: Array
    """(3, n_fridges) heat leaked in, heat pumped out, heat reset while not in use."""


def table_slopes(table_ah: Array, table_v: Array) -> Array:
    """Return the slope of each piece of a piecewise linear table."""
    slopes: Array = np.diff(table_v) / np.diff(table_ah)
    return slopes


def empty_active(
    consumer_count: int, source_count: int, fridges: FridgeTable, *, start_ah: float, start_degc: float
) -> ActiveTable:
    """Return scratch for one run, refrigerators at their set temperature with all their ice."""
    return ActiveTable(
        member=np.zeros(consumer_count, np.int64),
        kind=np.zeros(consumer_count, np.int64),
        power_w=np.zeros(consumer_count),
        duty_frac=np.zeros(consumer_count),
        path_ohm=np.zeros(consumer_count),
        peak_w=np.zeros(consumer_count),
        long_w=np.zeros(consumer_count),
        source=np.zeros(source_count, np.int64),
        set_v=np.zeros(source_count),
        source_ohm=np.zeros(source_count),
        limit_a=np.zeros(source_count),
        available_w=np.zeros(source_count),
        lock=np.zeros(consumer_count, np.bool_),
        shed=np.zeros(consumer_count, np.bool_),
        last_a=np.zeros(consumer_count),
        carried=np.array([start_ah, start_ah, start_degc, 0.0, 0.0]),
        is_off=np.zeros(3, np.bool_),
        temp_degc=fridges.set_degc.copy(),
        ice_wh=fridges.ice_wh.copy(),
        cop=np.zeros(fridges.set_degc.size),
        fridge_duty=np.zeros(fridges.set_degc.size),
    )


def empty_result(steps: StepTable) -> KernelResult:
    """Return zeroed arrays of the right shapes, in one piece of memory: of long runs it comes in large pages."""
    n_steps, n_consumers = steps.row.size, steps.on_w.shape[1]
    n_sources, n_fridges = steps.limit_a.shape[1], steps.air_degc.shape[1]
    shapes = dict.fromkeys(KernelResult._fields, (n_steps,)) | {
        "charge_ah": (n_steps + 1,),
        "source_w": (n_steps, n_sources),
        **dict.fromkeys(("consumer_w", "missing_w", "is_unserved"), (n_steps, n_consumers)),
        **dict.fromkeys(("fridge_degc", "ice_wh"), (n_steps, n_fridges)),
        "terms_wh": (9,),
        "fridge_wh": (3, n_fridges),
    }
    kinds = {name: np.dtype(np.bool_ if name.startswith("is_") else np.float64) for name in shapes}
    sizes = [math.prod(shape) * kinds[name].itemsize for name, shape in shapes.items()]
    # Each begins in a line of the cache of its own, and no two in the same place of a page.
    starts = np.cumsum([0, *(-(-size // LINE) * LINE + LINE for size in sizes)])
    room = np.zeros(int(starts[-1]), np.uint8)
    return KernelResult(
        **{
            name: room[start : start + size].view(kinds[name]).reshape(shape)
            for (name, shape), start, size in zip(shapes.items(), starts.tolist(), sizes, strict=False)
        }
    )
