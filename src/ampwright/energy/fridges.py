"""Refrigerators as the kernel's heat stores, and the air and use they see in every step."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from ampwright.energy.air import Air
from ampwright.energy.calendar import Calendar
from ampwright.energy.schedule import STATES, Schedule, is_attached
from ampwright.energy.tables import FridgeTable
from ampwright.job.design import Design
from ampwright.parts.fridge import Fridge
from ampwright.records import record

__all__ = ["FridgeSteps", "fridge_steps", "fridge_table"]

Array = NDArray[np.float64]


@record
class FridgeSteps:
    """What refrigerators see, (n_steps, n_fridges)."""

    air_degc: Array
    """Air at each."""
    leak_w_per_k: Array
    """Heat leak, openings included while the vehicle is in use."""
    is_used: NDArray[np.bool_]
    """False while it is away with the body or trailer, or in store without a schedule; its contents then
    keep the set temperature (docs/choices.md#energy-fridge-away)."""


def fridge_table(
    design: Design, loads: tuple[int, ...], load_frac: Mapping[int, float] | None = None
) -> FridgeTable:
    """Return the fixed figures of the refrigerators, each times its count.

    Parameters
    ----------
    load_frac : part of the power at the battery's bus that arrives at a load behind a converter, by load: its machine
        is then as good as the two together
    """
    whole = load_frac or {}
    arrives = np.array([whole.get(index, 1.0) for index in loads])
    found = [(design.loads[index], _fridge(design, index)) for index in loads]
    return FridgeTable(
        set_degc=np.array([load.set_degc for load, _ in found]),
        capacity_wh_per_k=np.array([part.contents_wh_per_k * load.count for load, part in found]),
        ice_wh=np.array([part.cold_store_wh * load.count for load, part in found]),
        running_w=np.array([load.power_w for load, _ in found]) / arrives,
        carnot_frac=np.array([part.carnot_frac for _, part in found]) * arrives,
        evaporator_below_k=np.array([part.evaporator_below_k for _, part in found]),
        condenser_above_k=np.array([part.condenser_above_k for _, part in found]),
    )


def fridge_steps(
    design: Design, schedule: Schedule, calendar: Calendar, air: Air, loads: tuple[int, ...]
) -> FridgeSteps:
    """Return the air, heat leak and use of each refrigerator in every step."""
    n_steps = calendar.day_count * calendar.steps_per_day
    shape = (n_steps, len(loads))
    degc, leak, used = np.zeros(shape), np.zeros(shape), np.zeros(shape, np.bool_)
    stored = schedule.state_frac[:, :, STATES.index("stored")] >= 0.5
    for column, index in enumerate(loads):
        load, part = design.loads[index], _fridge(design, index)
        present = np.array([[is_attached(load.part_of, plan)] for plan in design.plans])
        runs = schedule.window_frac[:, :, index] > 0.0
        opened = np.where(stored, 1.0, part.opening_factor)
        degc[:, column] = calendar.all_days(air.at(load.zone))
        leak[:, column] = calendar.by_plan(opened) * (part.leak_w_per_k * load.draw_factor * load.count)
        used[:, column] = calendar.by_plan(present & (runs | ~stored))
    return FridgeSteps(air_degc=degc, leak_w_per_k=leak, is_used=used)


def _fridge(design: Design, index: int) -> Fridge:
    part = design.loads[index].fridge
    if part is None:
        message = f"load '{design.loads[index].id}' is no refrigerator"
        raise TypeError(message)
    return part
