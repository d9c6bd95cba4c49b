"""The course of a use as a chart needs it: series on one clock, stretches, limits.

Answers what is drawn; how it is laid out is the matter of `chart.py`.
"""

from __future__ import annotations

from typing import Literal

import numpy as np
import numpy.typing as npt

from ampwright.records import record

__all__ = ["CutOff", "FridgeCourse", "Stretch", "StretchKind", "UseCourse"]

StretchKind = Literal["road", "idle", "hooked-up", "stored"]


@record
class Stretch:
    """A time in one state of the vehicle; engine off is what is left."""

    kind: StretchKind
    """The state."""
    start_h: float
    """Hours since the first midnight."""
    end_h: float
    """Hours since the first midnight."""


@record
class CutOff:
    """A time during which loads are cut off."""

    start_h: float
    """Hours since the first midnight."""
    end_h: float
    """Hours since the first midnight."""


@record
class FridgeCourse:
    """Contents of one refrigerator over the use."""

    name: str
    """Plain description."""
    low_degc: float | None
    """Lowest temperature its contents tolerate."""
    high_degc: float | None
    """Highest temperature its contents tolerate."""
    contents_degc: npt.NDArray[np.float64]
    """contents_degc : (n_steps,), at the end of each step"""


@record
class UseCourse:
    """State of charge and what goes with it, equal steps from the first midnight."""

    step_h: float
    """Length of a step."""
    day_count: int
    """Days of the use."""
    soc_frac: npt.NDArray[np.float64]
    """soc_frac : (n_steps + 1,), at the start of each step and at the end of the last"""
    reserve_frac: float
    """Part of the capacity that should never be needed."""
    nights: tuple[tuple[float, float], ...] = ()
    """Start and end of each time in which no panel can give anything, hours since the first midnight."""
    stretches: tuple[Stretch, ...] = ()
    """Times in other states than engine off."""
    cut_offs: tuple[CutOff, ...] = ()
    """Times with loads cut off."""
    runs_frac: tuple[tuple[float, float], ...] = ()
    """Lowest charge of each day in the runs, 5 % and 95 % of them lower; empty without runs."""
    legs: tuple[str, ...] = ()
    """Name of the place of each day (n_days); empty where the use stays at one place."""
    fridges: tuple[FridgeCourse, ...] = ()
    """Refrigerators with limits for their contents."""
