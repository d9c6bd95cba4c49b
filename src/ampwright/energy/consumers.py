"""Everything that takes current from the battery, as the kernel's consumers: DC loads, inverters, idle converters."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ampwright.energy.charger_row import path_of_node_ohm
from ampwright.energy.converters import BusRow, at_bus, bus_row, idle_rows
from ampwright.energy.inverters import InverterDemand, inverter_demand, on_share, users_of
from ampwright.energy.schedule import Schedule
from ampwright.energy.sources_map import SourceMap
from ampwright.energy.tables import ConsumerTable
from ampwright.job.converters import Sides, sides_of
from ampwright.job.design import Design, DesignPart
from ampwright.job.design_use import DesignLoad
from ampwright.job.device_settings import set_inverter_start_v, set_inverter_stop_v
from ampwright.job.joins import relay_joins
from ampwright.job.nodes import SECOND_NODE, STARTER_NODE
from ampwright.parts.battery import Battery
from ampwright.parts.converter import Converter
from ampwright.parts.inverter import Inverter
from ampwright.records import record

__all__ = ["Consumers", "bus_loads", "consumers_of", "standby_by_plan_w"]

Array = NDArray[np.float64]
INVERTER_GAP_V = 1.0  # per 12 V of nominal voltage; docs/choices.md#energy-inverter-gap


@record
class Consumers:
    """The kernel's consumers and what belongs to each; arrays per plan and step of the day."""

    table: ConsumerTable
    """What does not change from step to step."""
    loads: tuple[int, ...]
    """Loads that are consumers, in order."""
    inverters: tuple[int, ...]
    """Parts of the inverters, which follow the loads."""
    fridges: tuple[int, ...]
    """Loads that are refrigerators."""
    on_w: Array
    """(n_plans, steps_per_day, n_consumers)."""
    duty_frac: Array
    """(n_plans, steps_per_day, n_consumers)."""
    peak_w: Array
    """(n_plans, steps_per_day, n_consumers)."""
    long_w: Array
    """(n_plans, steps_per_day, n_consumers)."""
    demands: tuple[InverterDemand, ...]
    """What each inverter takes."""
    rows: tuple[BusRow, ...]
    """Each load as the bus sees it, in order of `loads`; then the idle draws of converters."""
    returns: tuple[int, ...] = ()
    """Parts of the relays through which current flows back to the vehicle; their columns are the last."""

    @property
    def converter_count(self) -> int:
        """How many converters follow the inverters."""
        return len(self.rows) - len(self.loads)

    @property
    def load_frac(self) -> dict[int, float]:
        """Part of each load's power at the bus that arrives at its terminals, by load."""
        return {load: row.load_frac for load, row in zip(self.loads, self.rows, strict=False)}


def bus_loads(design: Design, wiring: SourceMap) -> list[DesignLoad]:
    """Return the DC loads fed by the auxiliary battery; those wired to the starter battery are the vehicle's.

    A load that is not wired yet counts as fed (docs/choices.md#energy-unwired).
    """
    starter = design.node_of(STARTER_NODE)
    battery = design.node_of(design.parts[design.battery].id)
    sides = sides_of(design)
    own = [
        load
        for load in design.loads
        if load.inverter < 0 and not (load.node >= 0 and _is_converted_for_vehicle(sides, load.node))
    ]
    if wiring.is_together(starter, battery):
        return own
    second = design.node_of(SECOND_NODE)
    engine = [starter] + [second] * (not wiring.is_together(second, battery))
    return [load for load in own if not any(wiring.is_together(load.node, node) for node in engine)]


def _is_converted_for_vehicle(sides: Sides, node: int) -> bool:
    return sides.converter[node] >= 0 and sides.is_vehicle[node]


def consumers_of(design: Design, schedule: Schedule, wiring: SourceMap, path_ohm: Array) -> Consumers:
    """Return all consumers of a design."""
    cutoff = design.job.load_cutoff
    delay_s = cutoff.delay_s if cutoff is not None else 0.0
    loads = bus_loads(design, wiring)
    inverters = design.placed(Inverter)
    demands = tuple(
        inverter_demand(design, schedule, placed, part, delay_s=delay_s) for placed, part in inverters
    )
    chosen = [load.index for load in loads]
    duty = schedule.duty_frac[:, :, chosen]
    inside = schedule.window_frac[:, :, chosen] > 0.0
    sides = sides_of(design)
    rows = [bus_row(design, load, sides, path_ohm) for load in loads]
    idle = idle_rows(design, sides, path_ohm)
    power = np.array([row.on_w for row in rows])
    peak = np.array([row.peak_w for row in rows])
    outlasts = schedule.longest_s[chosen] > delay_s
    idle_w = [row.on_w for _, row in idle]
    shares = [on_share(design, schedule, placed) for placed, _ in idle]

    def with_others(own: Array, name: str, of_idle: list[Array]) -> Array:
        extra = [getattr(demand, name)[:, :, None] for demand in demands]
        return np.concatenate([own, *extra, *(values[:, :, None] for values in of_idle)], axis=2)

    whole = [np.full(duty.shape[:2], watts) for watts in idle_w]
    drawn = [watts * share for watts, share in zip(whole, shares, strict=True)]
    return Consumers(
        table=_table(design, tuple(zip(loads, rows, strict=True)), inverters, idle, path_ohm=path_ohm),
        loads=tuple(chosen),
        inverters=tuple(placed.index for placed, _ in inverters),
        fridges=tuple(load.index for load in loads if load.fridge is not None),
        on_w=with_others(np.broadcast_to(power, duty.shape), "on_w", whole),
        duty_frac=with_others(duty, "duty_frac", shares),
        peak_w=with_others(inside * peak, "peak_w", drawn),
        long_w=with_others(inside * peak * outlasts, "long_w", drawn),
        demands=demands,
        rows=(*rows, *(row for _, row in idle)),
    )


def _table(
    design: Design,
    loads: tuple[tuple[DesignLoad, BusRow], ...],
    inverters: tuple[tuple[DesignPart, Inverter], ...],
    idle: tuple[tuple[DesignPart, BusRow], ...],
    *,
    path_ohm: Array,
) -> ConsumerTable:
    cutoff = design.job.load_cutoff
    stops = [
        (set_inverter_stop_v(placed, part), _inverter_start_v(placed, part)) for placed, part in inverters
    ]
    locks = [_thresholds(load, row) for load, row in loads]
    locks += [*stops, *((row.lock_v, row.unlock_v) for _, row in idle)]
    ohms = [row.path_ohm for _, row in loads]
    ohms += [path_of_node_ohm(design, path_ohm, placed.id) for placed, _ in inverters]
    ohms += [row.path_ohm for _, row in idle]
    fridge = np.full(len(ohms), -1, np.int64)
    cold = [position for position, (load, _) in enumerate(loads) if load.fridge is not None]
    fridge[cold] = np.arange(len(cold))
    stays = [load.is_before_cutoff for load, _ in loads]
    stays += [
        any(load.is_before_cutoff for load in users_of(design, placed)) for placed, _ in (*inverters, *idle)
    ]
    kinds = [row.kind for _, row in loads]
    comfort = cutoff.comfort if cutoff is not None else None
    is_first = [not load.is_essential for load, _ in loads]
    is_first += [
        bool(users) and not any(load.is_essential for load in users)
        for users in (users_of(design, placed) for placed, _ in (*inverters, *idle))
    ]
    is_shed = np.array(is_first, np.bool_) & ~np.array(stays, np.bool_) & (comfort is not None)
    return ConsumerTable(
        kind=np.array(kinds + [0] * (len(ohms) - len(kinds)), np.int64),
        path_ohm=np.array(ohms, np.float64),
        nominal_v=design.system_v,
        is_cut=~np.array(stays, np.bool_),
        lock_v=np.array([stop for stop, _ in locks], np.float64),
        unlock_v=np.array([start for _, start in locks], np.float64),
        shed_v=np.where(is_shed, comfort.open_v if comfort is not None else 0.0, 0.0),
        shed_back_v=np.where(is_shed, comfort.close_v if comfort is not None else 0.0, 0.0),
        fridge=fridge,
        has_cutoff=cutoff is not None,
        open_v=cutoff.open_v if cutoff is not None else 0.0,
        close_v=cutoff.close_v if cutoff is not None else 0.0,
    )


def _thresholds(load: DesignLoad, row: BusRow) -> tuple[float, float]:
    """Return the voltages at which a load stops and starts again: its converter's where it lies behind one."""
    if row.lock_v > 0.0 or load.fridge is None:
        return row.lock_v, row.unlock_v
    least_v = load.min_v or 0.0
    return least_v, max(load.fridge.restart_v, least_v)


def _inverter_start_v(placed: DesignPart, part: Inverter) -> float:
    """Return the voltage at which it starts again; the gap where neither part nor setting says."""
    start_v = set_inverter_start_v(placed, part)
    return start_v or set_inverter_stop_v(placed, part) + INVERTER_GAP_V * part.input_nominal_v / 12.0


def standby_by_plan_w(design: Design, schedule: Schedule) -> Array:
    """Return the standby drains of all placed parts and refrigerators (n_plans, steps_per_day)."""
    total = np.zeros(schedule.duty_frac.shape[:2])
    sides, path_ohm = sides_of(design), np.zeros(len(design.nodes))
    at_vehicle = {join.placed.index for join in relay_joins(design)}  # those live on the starter battery
    at_vehicle |= {
        placed.index
        for placed, _ in design.placed(Converter)
        if sides.is_vehicle[design.node_of(f"{placed.id}.in")]
    }
    for placed in design.parts:
        count = placed.strings if isinstance(placed.part, Battery) else 1
        own_a = 0.0 if placed.index in at_vehicle else placed.part.own_a
        if own_a > 0.0:
            drain_w = own_a * count * design.system_v
            total = total + drain_w * on_share(design, schedule, placed)
    for load in design.loads:
        if load.fridge is not None and load.fridge.standby_a > 0.0:
            drain_w = load.fridge.standby_a * load.count * sides.nominal_at(load.node, design.system_v)
            if load.node >= 0 and sides.converter[load.node] >= 0:
                head = design.parts[sides.converter[load.node]]
                drain_w = at_bus(design, head, sides, path_ohm, (drain_w, drain_w)).on_w
            total = total + drain_w * schedule.window_frac[:, :, load.index]
    return total
