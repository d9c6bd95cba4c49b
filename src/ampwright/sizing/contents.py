"""What the contents of refrigerators go through in a study and over the runs: temperature, hours out of range, hold-over."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ampwright.assessment.run_out import has_limits
from ampwright.energy.hold_over import hold_over_h
from ampwright.energy.result import EnergyResult
from ampwright.job.design import Design
from ampwright.job.design_use import DesignLoad
from ampwright.records import record

__all__ = ["Contents", "ContentsChance", "contents_of", "contents_over"]

Array = NDArray[np.float64]
FOOD_HIGH_DEGC = 8.0
"""Warmest contents of a refrigerator for which the job states no limits (docs/choices.md#contents-limit)."""
ABOVE_SET_K = 3.0
"""The same for one that is set as warm, or below 0 °C, above its set temperature (docs/choices.md#contents-limit)."""


@record
class Contents:
    """The contents of one refrigerator in one study."""

    lowest_degc: float
    """Coldest, while in use."""
    highest_degc: float
    """Warmest, while in use."""
    out_h: float
    """Hours out of range."""
    hold_over_h: float
    """Hours to the upper limit if the supply failed at the worst moment; infinite = beyond 60 days, or no upper limit."""


@record
class ContentsChance:
    """The contents of one refrigerator over the runs."""

    load: str
    """Id."""
    name: str
    """Plain description."""
    low_degc: float | None
    """Lowest temperature allowed; None = none stated."""
    high_degc: float | None
    """Highest temperature allowed; None = only a lowest one is stated."""
    is_stated: bool
    """True where the job states the range; else the usual limit is taken."""
    lowest_degc: Array
    """Coldest contents of each run (n_runs,)."""
    highest_degc: Array
    """Warmest contents of each run (n_runs,)."""
    out_h: Array
    """Hours out of range in each run (n_runs,)."""
    hold_over_h: Array
    """Hours to the upper limit without supply from the worst moment of each run (n_runs,)."""


def contents_of(design: Design, energy: EnergyResult) -> tuple[Contents | None, ...]:
    """Return what the contents of each refrigerator go through; None for one that is never in use (n_fridges)."""
    return tuple(_contents(design, energy, column) for column in range(len(energy.fridge_loads)))


def _contents(design: Design, energy: EnergyResult, column: int) -> Contents | None:
    low, high = _range_degc(design.loads[energy.fridge_loads[column]])
    degc = energy.fridge_degc[energy.fridge_is_used[:, column], column]
    if not degc.size:
        return None
    out = np.zeros(degc.size, np.bool_)
    if high is not None:
        out |= degc > high
    if low is not None:
        out |= degc < low
    return Contents(
        lowest_degc=float(degc.min()),
        highest_degc=float(degc.max()),
        out_h=float(np.count_nonzero(out)) * energy.step_h,
        hold_over_h=np.inf if high is None else hold_over_h(design, energy, column, limit_degc=high),
    )


def _range_degc(load: DesignLoad) -> tuple[float | None, float | None]:
    """Return the limits of the contents: the job's, else the usual upper one."""
    if has_limits(load):
        return load.contents_low_degc, load.contents_high_degc
    is_food = 0.0 <= load.set_degc < FOOD_HIGH_DEGC
    return None, FOOD_HIGH_DEGC if is_food else load.set_degc + ABOVE_SET_K


def contents_over(
    design: Design, runs: list[tuple[Contents | None, ...]], fridges: tuple[int, ...]
) -> tuple[ContentsChance, ...]:
    """Return what the runs show of each refrigerator that is in use.

    Parameters
    ----------
    runs : contents of each run
    fridges : loads of the contents, by index
    """
    found: list[ContentsChance] = []
    for column, index in enumerate(fridges):
        each = [seen for run in runs if (seen := run[column]) is not None]
        if not each:
            continue
        load = design.loads[index]
        low, high = _range_degc(load)
        found.append(
            ContentsChance(
                load=load.id,
                name=load.name,
                low_degc=low,
                high_degc=high,
                is_stated=has_limits(load),
                lowest_degc=np.array([one.lowest_degc for one in each]),
                highest_degc=np.array([one.highest_degc for one in each]),
                out_h=np.array([one.out_h for one in each]),
                hold_over_h=np.array([one.hold_over_h for one in each]),
            )
        )
    return tuple(found)
