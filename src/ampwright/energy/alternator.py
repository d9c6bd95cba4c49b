"""What the alternator can spare and what its chargers and split-charge relays make of it, idling and on the road."""

from __future__ import annotations

import dataclasses
import math
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from ampwright.energy.charger_row import (
    LEAST_PATH_OHM,
    ChargerRow,
    charger_path_ohm,
    derating_frac,
    path_of_node_ohm,
    set_charge_v,
    set_output_a,
)
from ampwright.energy.frame import Frame
from ampwright.energy.sources_map import SourceMap
from ampwright.job.design import Design, DesignPart
from ampwright.job.design_vehicle import DesignVehicle
from ampwright.job.joins import Join, close_v, open_v, relay_joins
from ampwright.job.nodes import SECOND_NODE
from ampwright.job.supply import MAIN, SECOND, alternator_name, is_second_direct, supply, supply_names
from ampwright.parts.charger import AlternatorCharger
from ampwright.records import record

__all__ = [
    "ENGINE_ON",
    "ENGINE_STATES",
    "AlternatorState",
    "alternator_rows",
    "alternator_states",
    "charging_v",
    "closing_joins",
    "join_path_ohm",
    "relay_rows",
    "state_weights",
    "with_reach",
]

Array = NDArray[np.float64]
EngineState = Literal["road", "idle"]
ENGINE_ON: tuple[EngineState, ...] = ("road", "idle")
ENGINE_STATES: tuple[tuple[EngineState, bool], ...] = (
    ("road", False),
    ("road", True),
    ("idle", False),
    ("idle", True),
)


@record
class AlternatorState:
    """Balance of the alternator in one state of the engine, by day or by night."""

    name: str
    """Which alternator, in words."""
    state: EngineState
    """On the road or idling."""
    is_night: bool
    """True with the vehicle's lights on."""
    label_a: float
    """Its rating."""
    hot_a: float
    """What it gives hot."""
    own_a: float
    """What the vehicle itself takes."""
    spare_a: float
    """Hot output less the vehicle's own load; 0 when nothing is left."""
    wanted_a: float
    """Input current all chargers together would take, an empty battery behind a relay included."""
    input_a: tuple[float, ...]
    """Input current each charger, then each relay between the batteries, gets (n_feeds,)."""
    available_w: tuple[float, ...]
    """Output power each can give (n_feeds,)."""
    limit_a: tuple[float, ...]
    """Output current limit of each, before heat (n_feeds,)."""
    is_reached: bool = False
    """True when the use has the engine in this state at this time of the day."""

    @property
    def short_a(self) -> float:
        """How much the chargers would like above what is spare; 0 when it is enough."""
        return max(self.wanted_a - self.spare_a, 0.0)


def alternator_states(design: Design, wiring: SourceMap, path_ohm: Array) -> tuple[AlternatorState, ...]:
    """Return the alternator's balance on the road and idling, by day and by night.

    Notes
    -----
    Voltage: as stated; on the road the mean of that and the lowest for a regulated alternator
    (docs/choices.md#energy-regulated-voltage). A charger without a run signal on a regulated alternator that may fall below the charger's lock-out is
    reckoned as locked out, and so is a relay that closes by voltage. Chargers and relays share what is spare in
    proportion to what they want. Through a relay flows (alternator's voltage less the battery's) over the resistance
    of the whole way, never more than its share of what is spare; a relay worked by hand is not counted on.
    """
    if not design.vehicle.has_alternator:
        return ()
    chargers = _chargers(design, wiring)
    return tuple(
        _balance(design, chargers, path_ohm, name=name, moment=(state, is_night))
        for name in supply_names(design)
        for state, is_night in ENGINE_STATES
    )


def alternator_rows(frame: Frame, states: tuple[AlternatorState, ...]) -> list[ChargerRow]:
    """Return one row per alternator charger that is connected at both ends."""
    design = frame.design
    if not states:
        return []
    weights = state_weights(frame, states)
    rows = []
    for position, (placed, part) in enumerate(_chargers(design, frame.wiring)):
        heat = derating_frac(
            frame.working_degc(placed), start_degc=part.derate_start_degc, end_degc=part.derate_end_degc
        )
        present = frame.presence(placed)
        limit = sum(weight * one.limit_a[position] for weight, one in zip(weights, states, strict=True))
        power = sum(weight * one.available_w[position] for weight, one in zip(weights, states, strict=True))
        rows.append(
            ChargerRow(
                label=placed.id,
                part=placed.index,
                kind="alternator",
                set_v=set_charge_v(placed, part.charge_v),
                path_ohm=charger_path_ohm(design, frame.path_ohm, f"{placed.id}.out"),
                efficiency_frac=part.efficiency_frac,
                limit_a=np.asarray(limit) * heat * present,
                available_w=np.asarray(power) * present,
            )
        )
    return rows


def relay_rows(frame: Frame, states: tuple[AlternatorState, ...]) -> list[ChargerRow]:
    """Return one row per relay between the batteries that closes with the engine: the alternator behind a resistance."""
    design = frame.design
    if not states:
        return []
    weights = state_weights(frame, states)
    first = len(_chargers(design, frame.wiring))
    rows = []
    for position, join in enumerate(closing_joins(design), start=first):
        present = frame.presence(join.placed)
        limit = sum(weight * one.limit_a[position] for weight, one in zip(weights, states, strict=True))
        power = sum(weight * one.available_w[position] for weight, one in zip(weights, states, strict=True))
        rows.append(
            ChargerRow(
                label=join.placed.id,
                part=join.placed.index,
                kind="alternator",
                set_v=min(charging_v(design.vehicle, state) for state in ENGINE_ON),
                path_ohm=join_path_ohm(design, frame.path_ohm, join),
                efficiency_frac=1.0,
                limit_a=np.asarray(limit) * present,
                available_w=np.asarray(power) * present,
            )
        )
    return rows


def join_path_ohm(design: Design, path_ohm: Array, join: Join) -> float:
    """Return the resistance from the starter battery through a closed relay to the auxiliary battery, at least 1 mohm."""
    names = [design.nodes[node] for node in (join.starter_end, join.auxiliary_end)]
    ways = sum(path_of_node_ohm(design, path_ohm, name) for name in names)
    return max(ways + join.part.resistance_ohm, LEAST_PATH_OHM)


def closing_joins(design: Design) -> tuple[Join, ...]:
    """Return the relays between the batteries that close with the engine; one worked by hand is not counted on."""
    return tuple(join for join in relay_joins(design) if join.part.pick_up != "manual")


def _relay_wants_a(design: Design, join: Join, *, volts: float, path_ohm: float) -> float:
    """Return what flows into an empty battery through a closed relay; 0 where it does not close or chatters."""
    vehicle, part = design.vehicle, join.part
    if part.pick_up == "voltage" and (
        volts < close_v(join.placed, part) or vehicle.alternator_low_v < open_v(join.placed, part)
    ):
        return 0.0
    return _into_empty_a(design, volts, path_ohm)


def _into_empty_a(design: Design, volts: float, path_ohm: float) -> float:
    """Return what flows into an empty battery from a voltage, limited by resistance alone."""
    placed, cutoff = design.parts[design.battery], design.job.load_cutoff
    empty_v = cutoff.open_v if cutoff is not None else design.battery_part().cutoff_v * placed.in_series
    own_ohm = design.battery_part().resistance_ohm * placed.in_series / placed.strings
    return max(volts - empty_v, 0.0) / (path_ohm + own_ohm)


def state_weights(frame: Frame, states: tuple[AlternatorState, ...]) -> list[Array]:
    """Return the share of every step of the use spent in each state (n_steps,)."""
    night = frame.calendar.all_days(frame.sun.sun_elevation_deg < 0.0)
    share = {name: frame.calendar.by_plan(frame.schedule.state(name)) for name in ENGINE_ON}
    share["road"] = share["road"] * (1.0 - frame.design.vehicle.engine_off_frac)
    return [share[one.state] * (night == one.is_night) for one in states]


def with_reach(frame: Frame, states: tuple[AlternatorState, ...]) -> tuple[AlternatorState, ...]:
    """Return the states, each told whether the use ever is in it."""
    weights = state_weights(frame, states)
    return tuple(
        dataclasses.replace(one, is_reached=bool(weight.any()))
        for one, weight in zip(states, weights, strict=True)
    )


def _chargers(design: Design, wiring: SourceMap) -> list[tuple[DesignPart, AlternatorCharger]]:
    placed = [design.parts[index] for index in wiring.chargers]
    return [(one, one.part) for one in placed if isinstance(one.part, AlternatorCharger)]


def _balance(
    design: Design,
    chargers: list[tuple[DesignPart, AlternatorCharger]],
    path_ohm: Array,
    *,
    name: str,
    moment: tuple[EngineState, bool],
) -> AlternatorState:
    state, is_night = moment
    vehicle = supply(design, name)
    hot_a = vehicle.alternator_a * (vehicle.hot_road_frac if state == "road" else vehicle.hot_idle_frac)
    own_a = vehicle.own_load_night_a if is_night else vehicle.own_load_day_a
    closing = closing_joins(design) if name == MAIN else ()
    spare = max(hot_a - own_a - sum(join.part.coil_a for join in closing), 0.0)
    volts = charging_v(vehicle, state)
    limits = [_output_limit_a(placed, part, state) for placed, part in chargers]
    paths = [path_of_node_ohm(design, path_ohm, f"{placed.id}.in") for placed, _ in chargers]
    wanted = [
        _wanted_a(vehicle, placed, part, volts=volts, path_ohm=path, limit_a=limit)
        if alternator_name(design, placed) == name
        else 0.0
        for (placed, part), path, limit in zip(chargers, paths, limits, strict=True)
    ]
    joined = [
        _relay_wants_a(design, join, volts=volts, path_ohm=join_path_ohm(design, path_ohm, join))
        if name == MAIN
        else 0.0
        for join in closing_joins(design)
    ]
    direct_a = 0.0
    if name == SECOND and is_second_direct(design):
        direct_a = _into_empty_a(design, volts, charger_path_ohm(design, path_ohm, SECOND_NODE))
    total = sum(wanted) + sum(joined) + direct_a
    share = min(spare / total, 1.0) if total > 0.0 else 0.0
    inputs = [
        min(want * share, _lockout_a(placed, part, volts=volts, path_ohm=path))
        for want, (placed, part), path in zip(wanted, chargers, paths, strict=True)
    ]
    through = [want * share for want in joined]
    fed = [alternator_name(design, placed) == name for placed, _ in chargers]
    return AlternatorState(
        name=name,
        state=state,
        is_night=is_night,
        label_a=vehicle.alternator_a,
        hot_a=hot_a,
        own_a=own_a,
        spare_a=spare,
        wanted_a=total,
        input_a=(*inputs, *through),
        available_w=(
            *(
                part.efficiency_frac * (volts - amps * path) * amps
                for amps, (_, part), path in zip(inputs, chargers, paths, strict=True)
            ),
            *(volts * amps for amps in through),
        ),
        limit_a=(*(limit * is_fed for limit, is_fed in zip(limits, fed, strict=True)), *through),
    )


def charging_v(vehicle: DesignVehicle, state: EngineState) -> float:
    """Return the voltage an alternator is reckoned with: on the road the mean of a regulated one's two."""
    if state == "road" and vehicle.regulation == "regulated":
        return 0.5 * (vehicle.alternator_low_v + vehicle.alternator_v)
    return vehicle.alternator_v


def _output_limit_a(placed: DesignPart, part: AlternatorCharger, state: EngineState) -> float:
    limit = set_output_a(placed, part.output_max_a)
    setting = placed.setting
    if state == "idle" and setting is not None and setting.idle_limit_a is not None:
        return min(limit, setting.idle_limit_a)
    return limit


def _stop_v(placed: DesignPart, part: AlternatorCharger) -> float:
    setting = placed.setting
    return setting.stop_v if setting is not None and setting.stop_v is not None else part.input_stop_v


def _start_v(placed: DesignPart, part: AlternatorCharger) -> float:
    setting = placed.setting
    return setting.start_v if setting is not None and setting.start_v is not None else part.input_start_v


def _wanted_a(
    vehicle: DesignVehicle,
    placed: DesignPart,
    part: AlternatorCharger,
    *,
    volts: float,
    path_ohm: float,
    limit_a: float,
) -> float:
    """Input current for full output at the charge voltage, cable drop included; 0 when it does not start."""
    stop = _stop_v(placed, part)
    may_fall = vehicle.regulation == "regulated" and vehicle.alternator_low_v < stop
    starts = part.needs_run_signal or volts >= _start_v(placed, part)
    if not starts or volts < stop or (may_fall and not part.needs_run_signal):
        return 0.0
    power = limit_a * set_charge_v(placed, part.charge_v) / part.efficiency_frac
    rest = volts * volts - 4.0 * path_ohm * power
    amps = 2.0 * power / (volts + math.sqrt(rest)) if rest > 0.0 else 0.5 * volts / path_ohm
    limit = placed.setting.input_limit_a if placed.setting is not None else None
    return amps if limit is None else min(amps, limit)


def _lockout_a(placed: DesignPart, part: AlternatorCharger, *, volts: float, path_ohm: float) -> float:
    """Input current at which the cable drop reaches the lock-out, or half the voltage."""
    if path_ohm <= 0.0:
        return math.inf
    return max(min(volts - _stop_v(placed, part), 0.5 * volts), 0.0) / path_ohm
