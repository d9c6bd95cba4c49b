"""Everything that takes current from the battery, as the kernel's consumers: DC loads and inverters."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ampwright.energy.charger_row import path_of_node_ohm
from ampwright.energy.inverters import InverterDemand, inverter_demand, inverter_loads, on_share
from ampwright.energy.schedule import Schedule
from ampwright.energy.sources_map import SourceMap
from ampwright.energy.tables import ConsumerTable
from ampwright.job.design import Design, DesignLoad, DesignPart
from ampwright.job.device_settings import set_inverter_start_v, set_inverter_stop_v
from ampwright.job.joins import relay_joins
from ampwright.job.nodes import SECOND_NODE, STARTER_NODE
from ampwright.parts.battery import Battery
from ampwright.parts.inverter import Inverter
from ampwright.records import record

__all__ = ["Consumers", "bus_loads", "consumers_of", "standby_by_plan_w"]

Array = NDArray[np.float64]
KINDS = {"power": 0, "current": 1, "resistance": 2}
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


def bus_loads(design: Design, wiring: SourceMap) -> list[DesignLoad]:
    """Return the DC loads fed by the auxiliary battery; those wired to the starter battery are the vehicle's.

    A load that is not wired yet counts as fed (docs/choices.md#energy-unwired).
    """
    starter = design.node_of(STARTER_NODE)
    battery = design.node_of(design.parts[design.battery].id)
    own = [load for load in design.loads if load.inverter < 0]
    if wiring.is_together(starter, battery):
        return own
    second = design.node_of(SECOND_NODE)
    engine = [starter] + [second] * (not wiring.is_together(second, battery))
    return [load for load in own if not any(wiring.is_together(load.node, node) for node in engine)]


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
    power = np.array([load.power_w for load in loads])
    peak = np.array([load.peak_w for load in loads])
    outlasts = schedule.longest_s[chosen] > delay_s

    def with_inverters(own: Array, name: str) -> Array:
        extra = [getattr(demand, name)[:, :, None] for demand in demands]
        return np.concatenate([own, *extra], axis=2)

    return Consumers(
        table=_table(design, loads, inverters, path_ohm),
        loads=tuple(chosen),
        inverters=tuple(placed.index for placed, _ in inverters),
        fridges=tuple(load.index for load in loads if load.fridge is not None),
        on_w=with_inverters(np.broadcast_to(power, duty.shape), "on_w"),
        duty_frac=with_inverters(duty, "duty_frac"),
        peak_w=with_inverters(inside * peak, "peak_w"),
        long_w=with_inverters(inside * peak * outlasts, "long_w"),
        demands=demands,
    )


def _table(
    design: Design,
    loads: list[DesignLoad],
    inverters: tuple[tuple[DesignPart, Inverter], ...],
    path_ohm: Array,
) -> ConsumerTable:
    cutoff = design.job.load_cutoff
    ohms = [_load_path_ohm(load, path_ohm) for load in loads]
    ohms += [path_of_node_ohm(design, path_ohm, placed.id) for placed, _ in inverters]
    stops = [
        (set_inverter_stop_v(placed, part), _inverter_start_v(placed, part)) for placed, part in inverters
    ]
    locks = [load.min_v or 0.0 if load.fridge else 0.0 for load in loads]
    frees = [max(load.fridge.restart_v, load.min_v or 0.0) if load.fridge else 0.0 for load in loads]
    fridge = np.full(len(loads) + len(inverters), -1, np.int64)
    rows = [row for row, load in enumerate(loads) if load.fridge is not None]
    fridge[rows] = np.arange(len(rows))
    stays = [load.is_before_cutoff for load in loads] + [
        any(load.is_before_cutoff for load in inverter_loads(design, placed.index)) for placed, _ in inverters
    ]
    return ConsumerTable(
        kind=np.array([KINDS[load.behaves] for load in loads] + [0] * len(inverters), np.int64),
        path_ohm=np.array(ohms, np.float64),
        nominal_v=design.system_v,
        is_cut=~np.array(stays, np.bool_),
        lock_v=np.array(locks + [stop for stop, _ in stops], np.float64),
        unlock_v=np.array(frees + [start for _, start in stops], np.float64),
        fridge=fridge,
        has_cutoff=cutoff is not None,
        open_v=cutoff.open_v if cutoff is not None else 0.0,
        close_v=cutoff.close_v if cutoff is not None else 0.0,
    )


def _load_path_ohm(load: DesignLoad, path_ohm: Array) -> float:
    value = float(path_ohm[load.node]) if load.node >= 0 else 0.0
    return value if np.isfinite(value) else 0.0


def _inverter_start_v(placed: DesignPart, part: Inverter) -> float:
    """Return the voltage at which it starts again; the gap where neither part nor setting says."""
    start_v = set_inverter_start_v(placed, part)
    return start_v or set_inverter_stop_v(placed, part) + INVERTER_GAP_V * part.input_nominal_v / 12.0


def standby_by_plan_w(design: Design, schedule: Schedule) -> Array:
    """Return the standby drains of all placed parts and refrigerators (n_plans, steps_per_day)."""
    total = np.zeros(schedule.duty_frac.shape[:2])
    at_vehicle = {join.placed.index for join in relay_joins(design)}  # those live on the starter battery
    for placed in design.parts:
        count = placed.strings if isinstance(placed.part, Battery) else 1
        own_a = 0.0 if placed.index in at_vehicle else placed.part.own_a
        if own_a > 0.0:
            drain_w = own_a * count * design.system_v
            total = total + drain_w * on_share(design, schedule, placed)
    for load in design.loads:
        if load.fridge is not None and load.fridge.standby_a > 0.0:
            drain_w = load.fridge.standby_a * load.count * design.system_v
            total = total + drain_w * schedule.window_frac[:, :, load.index]
    return total
