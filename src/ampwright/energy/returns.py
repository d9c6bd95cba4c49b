"""What an auxiliary battery gives back to the vehicle through a closed relay while the alternator is held low.

The energy study takes a regulated alternator on the road at the mean of its two voltages, half of the time at
either. Above that mean the way through the relay runs backwards: what comes in at the usual voltage is less than
what flows out at the lowest one. The vehicle's own load takes it; more has nowhere to go, the alternator then stops
giving and the voltages of both sides meet.
"""

from __future__ import annotations

import dataclasses

import numpy as np
from numpy.typing import NDArray

from ampwright.energy.alternator import charging_v, closing_joins, join_path_ohm
from ampwright.energy.bank import bank_table, rest_v
from ampwright.energy.consumers import Consumers
from ampwright.energy.converters import KINDS
from ampwright.energy.frame import Frame
from ampwright.energy.schedule import is_attached
from ampwright.job.joins import Join, open_v
from ampwright.records import record

__all__ = ["ReturnRow", "return_rows", "with_returns"]

Array = NDArray[np.float64]
LOW_FRAC = 0.5
"""Part of the road time at the lowest regulated voltage (docs/choices.md#energy-regulated-voltage)."""


@record
class ReturnRow:
    """One relay as a drain; arrays per plan and step of the day."""

    part: int
    """Index of the relay."""
    path_ohm: float
    """Resistance of the whole way between the batteries."""
    mean_v: float
    """Mean voltage of the alternator: below it nothing flows back."""
    amps: Array
    """Mean current on the road (n_plans, steps_per_day)."""
    duty_frac: Array
    """Share of the step on the road (n_plans, steps_per_day)."""


def return_rows(frame: Frame) -> tuple[ReturnRow, ...]:
    """Return the relays that close with the engine of a regulated alternator and lie below the battery on the mean."""
    design = frame.design
    vehicle = design.vehicle
    if not vehicle.has_alternator or vehicle.regulation != "regulated":
        return ()
    at_start_v = rest_v(design, design.start_soc_frac)
    mean_v = charging_v(vehicle, "road")
    night = np.mean(frame.sun.sun_elevation_deg.reshape(-1, frame.sun.steps_per_day) < 0.0, axis=0)
    road = frame.schedule.state("road") * (1.0 - vehicle.engine_off_frac)
    found: list[ReturnRow] = []
    for join in closing_joins(design):
        path_ohm = join_path_ohm(design, frame.path_ohm, join)
        driven_a = max(at_start_v - mean_v, 0.0) / (path_ohm + bank_table(design).resistance_ohm)
        if driven_a <= 0.0 or not _stays_closed(join, vehicle.alternator_low_v):
            continue
        by_day, by_night = (
            min(LOW_FRAC * own_a, driven_a) for own_a in (vehicle.own_load_day_a, vehicle.own_load_night_a)
        )
        amps = np.broadcast_to(by_day * (1.0 - night) + by_night * night, road.shape)
        there = np.array([[float(is_attached(join.placed.part_of, plan))] for plan in design.plans])
        found.append(
            ReturnRow(
                part=join.placed.index, path_ohm=path_ohm, mean_v=mean_v, amps=amps, duty_frac=road * there
            )
        )
    return tuple(found)


def _stays_closed(join: Join, low_v: float) -> bool:
    """Tell whether a relay stays closed at the lowest voltage: one that goes by voltage may open."""
    return join.part.pick_up != "voltage" or low_v >= open_v(join.placed, join.part)


def with_returns(consumers: Consumers, rows: tuple[ReturnRow, ...]) -> Consumers:
    """Return the consumers with each relay's return as a constant current that stops at the mean voltage."""
    if not rows:
        return consumers
    table = consumers.table
    count = len(rows)
    stops = np.array([row.mean_v for row in rows])
    watts = [(row.amps * table.nominal_v)[:, :, None] for row in rows]
    drawn = [(np.sign(row.duty_frac) * row.amps * table.nominal_v)[:, :, None] for row in rows]
    duties = [row.duty_frac[:, :, None] for row in rows]
    return dataclasses.replace(
        consumers,
        table=table._replace(
            kind=np.append(table.kind, np.full(count, KINDS["current"], np.int64)),
            path_ohm=np.append(table.path_ohm, [row.path_ohm for row in rows]),
            is_cut=np.append(table.is_cut, np.zeros(count, np.bool_)),
            lock_v=np.append(table.lock_v, stops),
            unlock_v=np.append(table.unlock_v, stops),
            shed_v=np.append(table.shed_v, np.zeros(count)),
            shed_back_v=np.append(table.shed_back_v, np.zeros(count)),
            fridge=np.append(table.fridge, np.full(count, -1, np.int64)),
        ),
        on_w=np.concatenate([consumers.on_w, *watts], axis=2),
        duty_frac=np.concatenate([consumers.duty_frac, *duties], axis=2),
        peak_w=np.concatenate([consumers.peak_w, *drawn], axis=2),
        long_w=np.concatenate([consumers.long_w, *drawn], axis=2),
        returns=tuple(row.part for row in rows),
    )
