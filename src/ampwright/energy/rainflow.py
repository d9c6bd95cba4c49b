"""Rainflow counting: the cycles hidden in a course of ups and downs.

Answers how deep and how many the cycles of a state of charge are; what they cost is in `ageing.py`.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from ampwright.records import record

__all__ = ["Cycles", "rainflow_cycles"]

Array = NDArray[np.float64]


@record
class Cycles:
    """Counted cycles; arrays (n_cycles,)."""

    range_frac: Array
    """From the lower to the upper turning point."""
    mean_frac: Array
    """Middle between them."""
    count_factor: Array
    """1 for a whole cycle, 0.5 for half of one."""


def rainflow_cycles(course: Array) -> Cycles:
    """Return the cycles of a course by the rainflow method.

    ASTM E1049-85 (2017), 5.4.4, read second hand; the standard's worked example is a validation test.

    Examples
    --------
    >>> found = rainflow_cycles(np.array([1.0, 0.4, 0.8, 0.2, 1.0]))
    >>> [(round(float(r), 1), float(n)) for r, n in zip(found.range_frac, found.count_factor)]
    [(0.4, 1.0), (0.8, 0.5), (0.8, 0.5)]
    """
    found: list[tuple[float, float, float]] = []
    points: list[float] = []
    for value in _turning_points(course):
        points.append(value)
        while len(points) >= 3:
            last, before = abs(points[-1] - points[-2]), abs(points[-2] - points[-3])
            if last < before:
                break
            middle = 0.5 * (points[-2] + points[-3])
            if len(points) == 3:  # the range holds the start: half a cycle
                found.append((before, middle, 0.5))
                del points[0]
            else:
                found.append((before, middle, 1.0))
                del points[-3:-1]
    for low, high in pairwise(points):
        found.append((abs(high - low), 0.5 * (low + high), 0.5))
    table = np.array(found, np.float64).reshape(-1, 3)
    return Cycles(range_frac=table[:, 0], mean_frac=table[:, 1], count_factor=table[:, 2])


def _turning_points(course: Array) -> list[float]:
    """Return both ends and every point where the course turns; level stretches count once."""
    moved = course[np.concatenate([[True], np.diff(course) != 0.0])]
    if moved.size < 3:
        return [float(value) for value in moved]
    steps = np.diff(moved)
    turns = np.flatnonzero(steps[1:] * steps[:-1] < 0.0) + 1
    return [float(moved[0]), *(float(value) for value in moved[turns]), float(moved[-1])]
