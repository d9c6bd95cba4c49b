"""An inverter as one DC consumer: mean power, its spread within a step, idle power and peaks."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ampwright.energy.mains import has_transfer
from ampwright.energy.schedule import Schedule, is_attached
from ampwright.job.converters import sides_of
from ampwright.job.design import Design, DesignPart
from ampwright.job.design_use import DesignLoad
from ampwright.parts.converter import Converter
from ampwright.parts.inverter import Inverter
from ampwright.parts.inverter_loss import inverter_loss_coefficients
from ampwright.records import record

__all__ = ["InverterDemand", "inverter_demand", "inverter_loads", "on_share", "users_of"]

Array = NDArray[np.float64]


@record
class InverterDemand:
    """What an inverter takes from the battery, per day plan and step of the day (n_plans, steps_per_day)."""

    on_w: Array
    """DC power while on, of an equivalent that is on for `duty_frac`."""
    duty_frac: Array
    """Share of the step of that equivalent."""
    peak_w: Array
    """DC power with all loads of the slot at their peaks."""
    long_w: Array
    """The same with only the peaks that outlast the delay of the load cut-off; 0 if there is none."""
    ac_w: Array
    """Mean AC power given from the battery."""
    loss_w: Array
    """Mean loss."""
    ac_peak_w: Array
    """AC power with all loads of the slot at their peaks."""
    ac_peak_va: Array
    """The same as apparent power."""


def inverter_loads(design: Design, inverter: int) -> list[DesignLoad]:
    """Return the loads plugged into an inverter."""
    return [load for load in design.loads if load.inverter == inverter]


def users_of(design: Design, placed: DesignPart) -> list[DesignLoad]:
    """Return the loads for which a part is on: those of an inverter, those behind a converter, else all."""
    if isinstance(placed.part, Inverter):
        return inverter_loads(design, placed.index)
    if isinstance(placed.part, Converter):
        sides = sides_of(design)
        return [load for load in design.loads if sides.behind(load.node, placed.index)]
    return list(design.loads)


def inverter_demand(
    design: Design, schedule: Schedule, placed: DesignPart, part: Inverter, *, delay_s: float
) -> InverterDemand:
    """Return an inverter's demand.

    Loads run independently within a step (docs/choices.md#energy-independent): the mean of the squared power is the square of the mean plus the
    sum of d (1 - d) p^2. An equivalent that is on at one power for part of the step keeps both means, so
    that the square term of the loss and the heat in the cable are right.
    """
    idle_w, linear, square = inverter_loss_coefficients(part)
    loads = inverter_loads(design, placed.index)
    shape = schedule.duty_frac.shape[:2]
    mean, spread, peak, peak_va = (np.zeros(shape) for _ in range(4))
    long_ac, is_long = np.zeros(shape), np.zeros(shape, np.bool_)
    keeps_mains = has_transfer(design, placed.index)
    for load in loads:
        duty, window = _from_battery(schedule, load.index, keeps_mains=keeps_mains)
        mean += duty * load.power_w
        spread += duty * (1.0 - duty) * load.power_w**2
        inside = window > 0.0
        peak += inside * load.peak_w
        peak_va += inside * (load.peak_w / load.power_factor)
        outlasts = inside & (schedule.longest_s[load.index] > delay_s)
        long_ac += np.where(outlasts, load.peak_w, duty * load.power_w)
        is_long |= outlasts
    idle = idle_w * on_share(design, schedule, placed)
    if keeps_mains:
        idle = idle * (1.0 - schedule.state("hooked-up"))
    loss = idle + linear * mean + square * (mean * mean + spread)
    dc = mean + loss
    dc_square = dc * dc + (1.0 + linear) ** 2 * spread
    safe = np.where(dc > 0.0, dc, 1.0)
    return InverterDemand(
        on_w=dc_square / safe,
        duty_frac=np.where(dc > 0.0, dc * dc / np.where(dc > 0.0, dc_square, 1.0), 0.0),
        peak_w=np.where(dc > 0.0, idle_w + peak * (1.0 + linear + square * peak), 0.0),
        long_w=np.where(is_long, idle_w + long_ac * (1.0 + linear + square * long_ac), 0.0),
        ac_w=mean,
        loss_w=loss,
        ac_peak_w=peak,
        ac_peak_va=peak_va,
    )


def _from_battery(schedule: Schedule, load: int, *, keeps_mains: bool) -> tuple[Array, Array]:
    duty, window = schedule.duty_frac[:, :, load], schedule.window_frac[:, :, load]
    if keeps_mains:
        duty = np.maximum(duty - schedule.mains_frac[:, :, load], 0.0)
        window = np.maximum(window - schedule.mains_window_frac[:, :, load], 0.0)
    return duty, window


def on_share(design: Design, schedule: Schedule, placed: DesignPart) -> Array:
    """Return the share of each step in which a part's own consumption runs (n_plans, steps_per_day)."""
    present = np.array([[float(is_attached(placed.part_of, plan))] for plan in design.plans])
    stored = schedule.state("stored")
    if placed.is_on_when == "always":
        share = np.ones_like(stored)
    elif placed.is_on_when == "not-stored":
        share = 1.0 - stored
    else:
        users = users_of(design, placed)
        chosen = [load.index for load in users]
        windows = schedule.window_frac[:, :, chosen]
        share = windows.max(axis=2) if chosen else np.zeros_like(stored)
    result: Array = share * present
    return result
