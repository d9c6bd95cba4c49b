"""When loads run: shares of each step, by day plan, from schedules in minutes."""

from __future__ import annotations

from typing import get_args

import numpy as np
from numpy.typing import NDArray

from ampwright.energy.calendar import MINUTES
from ampwright.job.design import Design
from ampwright.job.design_use import DesignLoad, DesignPlan, DesignWhen
from ampwright.job.use import State
from ampwright.job.wiring import Attached
from ampwright.records import record

__all__ = ["STATES", "Schedule", "is_attached", "schedule_of"]

STATES: tuple[State, ...] = get_args(State)
Array = NDArray[np.float64]


@record
class Schedule:
    """Shares of the steps of a day, for each day plan."""

    state_frac: Array
    """(n_plans, steps_per_day, n_states) share of the step in each state, in the order of `STATES`."""
    duty_frac: Array
    """(n_plans, steps_per_day, n_loads) mean share of the step each load draws its power."""
    mains_frac: Array
    """(n_plans, steps_per_day, n_loads) the part of it while hooked up."""
    window_frac: Array
    """(n_plans, steps_per_day, n_loads) share of the step inside one of its stretches."""
    mains_window_frac: Array
    """(n_plans, steps_per_day, n_loads) the part of it while hooked up."""
    longest_s: Array
    """(n_loads,) longest time each load can stay on within a step."""

    def state(self, name: State) -> Array:
        """Return the share of each step in one state (n_plans, steps_per_day)."""
        share: Array = self.state_frac[:, :, STATES.index(name)]
        return share


def is_attached(part_of: Attached, plan: DesignPlan) -> bool:
    """Return whether what is carried there is present on such a day."""
    if part_of == "body":
        return plan.is_body_attached
    return part_of == "vehicle" or plan.is_trailer_attached


def schedule_of(design: Design, steps_per_day: int) -> Schedule:
    """Return the schedules of all loads, step by step."""
    plans, loads = design.plans, design.loads
    states = np.array([_state_of_minute(plan) for plan in plans])
    per_step = MINUTES // steps_per_day
    hooked = states == STATES.index("hooked-up")
    entries = [(load, when) for load in loads for when in load.when]
    shape = (len(plans), steps_per_day, len(loads))
    duty, mains, window, mains_window = (np.zeros(shape) for _ in range(4))
    if entries:
        inside = np.array([_minutes_inside(when) for _, when in entries])
        may = np.array([_states_allowed(when) for _, when in entries])
        present = np.array([[_is_present(load, when, plan) for plan in plans] for load, when in entries])
        on = may[:, states] & inside[:, None, :] & present[:, :, None]
        share = _step_share(on, per_step)
        on_mains = _step_share(on & hooked[None], per_step) if hooked.any() else np.zeros_like(share)
        for row, (load, when) in enumerate(entries):
            duty[:, :, load.index] += share[row] * (when.duty_frac * load.dimmed_frac)
            mains[:, :, load.index] += on_mains[row] * (when.duty_frac * load.dimmed_frac)
            window[:, :, load.index] += share[row]
            mains_window[:, :, load.index] += on_mains[row]
    over = np.maximum(duty, 1.0)
    state_frac = np.stack([_step_share(states == index, per_step) for index in range(len(STATES))], axis=-1)
    return Schedule(
        state_frac=state_frac,
        duty_frac=duty / over,
        mains_frac=mains / over,
        window_frac=np.minimum(window, 1.0),
        mains_window_frac=np.minimum(mains_window, 1.0),
        longest_s=np.array([_longest_s(load, 60.0 * per_step) for load in loads]),
    )


def _step_share(flags: NDArray[np.bool_], per_step: int) -> Array:
    whole = np.ascontiguousarray(flags).view(np.uint8).reshape(-1, per_step).astype(np.float32)
    # Single precision counts minutes exactly, and a product is the fastest sum over a short axis.
    count = (whole @ np.ones(per_step, np.float32)).astype(np.float64)
    result: Array = (count / per_step).reshape(*flags.shape[:-1], -1)
    return result


def _state_of_minute(plan: DesignPlan) -> NDArray[np.int8]:
    states = np.full(MINUTES, STATES.index(plan.otherwise), np.int8)
    for period in plan.periods:
        for start, end in _stretches(period.start_min, period.end_min):
            states[start:end] = STATES.index(period.state)
    return states


def _stretches(start_min: int, end_min: int) -> tuple[tuple[int, int], ...]:
    if end_min > start_min:
        return ((start_min, end_min),)
    return ((start_min, MINUTES), (0, end_min))


def _minutes_inside(when: DesignWhen) -> NDArray[np.bool_]:
    inside = np.zeros(MINUTES, np.bool_)
    for start, end in _stretches(when.start_min, when.end_min):
        inside[start:end] = True
    return inside


def _states_allowed(when: DesignWhen) -> list[bool]:
    return [state in when.states if when.states else state != "stored" for state in STATES]


def _is_present(load: DesignLoad, when: DesignWhen, plan: DesignPlan) -> bool:
    return (not when.days or plan.id in when.days) and is_attached(load.part_of, plan)


def _longest_s(load: DesignLoad, step_s: float) -> float:
    """Longest on-time in a step: a use's minutes where they are given, else the duty's share of it."""
    times = [
        60.0 * when.written.use_minutes
        if isinstance(when.written.use_minutes, int | float)
        else when.duty_frac * step_s
        for when in load.when
    ]
    return min(max(times), step_s)
