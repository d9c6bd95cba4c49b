"""One run's draw of everything that may differ from what the job says, put into its design.

Groups are drawn apart, so that their shares can be told: refrigerators, hours, shade and what is forgotten in the use;
battery and alternator; and the amounts the job calls unknown. The weather is drawn in `climate`.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from typing import Literal

import numpy as np

from ampwright.job.design import Design
from ampwright.job.design_use import DesignLoad, DesignPlan, DesignWhen
from ampwright.job.doubt import Doubt
from ampwright.job.unknowns import Path, UnknownInput
from ampwright.parts.battery import Battery
from ampwright.parts.panel import Panel
from ampwright.records import record

__all__ = ["Draw", "can_matter", "doubted", "drawn", "unknown_draw"]

Group = Literal["fridge", "hours", "shade", "forget", "parts", "unknown"]
MINUTES_PER_DAY = 1440
STREAMS: Mapping[str, int] = {"use": 2, "parts": 3, "unknown": 4}
"""Third number of the seed of each stream, the four groups of the use in one; 0 and 1 belong to the weather."""
DELIBERATE = frozenset({"hooked-up", "idle"})
"""States that only come about because somebody thought of charging."""


@record
class Draw:
    """How one run differs from the job."""

    fridge_factor: float
    """On the heat leak of refrigerators."""
    hours_factor: float
    """On the hours of other loads."""
    sun_factor: float
    """On the sun of all days."""
    forgotten: tuple[bool, ...]
    """Days on which hooking up and idling are forgotten (n_days)."""
    battery_factor: float
    """On the battery's capacity."""
    alternator_factor: float
    """On what the hot alternator gives."""


def drawn(doubt: Doubt, member: int, *, day_count: int, groups: frozenset[Group]) -> Draw:
    """Return the draw of one run; groups left out keep the job's figures.

    Even chances between the ends, triangular where the job's figure is the likeliest (docs/choices.md#doubt).
    """
    use = np.random.default_rng([doubt.seed, member, STREAMS["use"]])
    parts = np.random.default_rng([doubt.seed, member, STREAMS["parts"]])
    fridge, hours = _about_one(use, doubt.fridge_draw_frac), _about_one(use, doubt.hours_frac)
    sun = 1.0 - doubt.shade_frac * use.uniform()
    forgotten = tuple((use.uniform(size=day_count) < doubt.forget_frac).tolist())
    battery = 1.0 - doubt.battery_frac * parts.uniform()
    alternator = _about_one(parts, doubt.alternator_frac)
    in_parts = "parts" in groups
    return Draw(
        fridge_factor=fridge if "fridge" in groups else 1.0,
        hours_factor=hours if "hours" in groups else 1.0,
        sun_factor=sun if "shade" in groups else 1.0,
        forgotten=forgotten if "forget" in groups else (False,) * day_count,
        battery_factor=battery if in_parts else 1.0,
        alternator_factor=alternator if in_parts else 1.0,
    )


def can_matter(design: Design, group: Group) -> bool:
    """Tell whether a group changes anything at all in a design."""
    if group == "fridge":
        return any(load.fridge is not None for load in design.loads)
    if group == "hours":
        return any(load.fridge is None for load in design.loads)
    if group == "shade":
        return any(isinstance(placed.part, Panel) for placed in design.parts)
    if group == "forget":
        states = {
            state for plan in design.plans for state in (plan.otherwise, *(p.state for p in plan.periods))
        }
        return bool(states & DELIBERATE)
    return True


def unknown_draw(unknowns: tuple[UnknownInput, ...], seed: int, member: int) -> dict[Path, float]:
    """Return a value of every unknown amount, triangular with its likely value as the likeliest."""
    generator = np.random.default_rng([seed, member, STREAMS["unknown"]])
    return {
        one.path: float(generator.triangular(one.low, min(max(one.likely, one.low), one.high), one.high))
        for one in unknowns
    }


def _about_one(generator: np.random.Generator, most: float) -> float:
    return float(generator.triangular(1.0 - most, 1.0, 1.0 + most)) if most > 0.0 else 1.0


def doubted(design: Design, draw: Draw) -> Design:
    """Return the design as it would be in this run."""
    plans, days = _plans(design, draw)
    bank = design.parts[design.battery]
    parts = design.parts
    if isinstance(bank.part, Battery):
        weaker = dataclasses.replace(bank.part, capacity_ah=bank.part.capacity_ah * draw.battery_factor)
        parts = (*parts[: bank.index], dataclasses.replace(bank, part=weaker), *parts[bank.index + 1 :])
    vehicle = dataclasses.replace(
        design.vehicle,
        hot_road_frac=min(design.vehicle.hot_road_frac * draw.alternator_factor, 1.0),
        hot_idle_frac=min(design.vehicle.hot_idle_frac * draw.alternator_factor, 1.0),
    )
    return dataclasses.replace(
        design,
        plans=plans,
        days=days,
        parts=parts,
        vehicle=vehicle,
        loads=tuple(_load(load, draw) for load in design.loads),
    )


def _load(load: DesignLoad, draw: Draw) -> DesignLoad:
    if load.fridge is not None:
        return dataclasses.replace(load, draw_factor=load.draw_factor * draw.fridge_factor)
    return dataclasses.replace(load, when=tuple(_stretched(one, draw.hours_factor) for one in load.when))


def _stretched(when: DesignWhen, factor: float) -> DesignWhen:
    """Return a schedule with more or fewer hours; what is on all through its stretch stays on beyond its end."""
    duty_frac = when.duty_frac * factor
    if duty_frac <= 1.0:
        return dataclasses.replace(when, duty_frac=duty_frac)
    length_min = (when.end_min - when.start_min - 1) % MINUTES_PER_DAY + 1
    longer_min = round(length_min * duty_frac)
    if longer_min >= MINUTES_PER_DAY:
        return dataclasses.replace(when, duty_frac=1.0, start_min=0, end_min=MINUTES_PER_DAY)
    end_min = (when.start_min + longer_min - 1) % MINUTES_PER_DAY + 1
    return dataclasses.replace(when, duty_frac=1.0, end_min=end_min)


def _plans(design: Design, draw: Draw) -> tuple[tuple[DesignPlan, ...], tuple[int, ...]]:
    """Return day plans with this run's sun, each twice: as planned, and with charging forgotten."""
    sunny = [
        dataclasses.replace(
            plan,
            sun_factor=plan.sun_factor * draw.sun_factor,
            open_sun_factor=plan.open_sun_factor * draw.sun_factor,
        )
        for plan in design.plans
    ]
    forgotten = [
        dataclasses.replace(
            plan,
            otherwise="off" if plan.otherwise in DELIBERATE else plan.otherwise,
            periods=tuple(period for period in plan.periods if period.state not in DELIBERATE),
        )
        for plan in sunny
    ]
    count = len(sunny)
    days = tuple(
        day + count if is_forgotten else day
        for day, is_forgotten in zip(design.days, draw.forgotten, strict=True)
    )
    return (*sunny, *forgotten), days
