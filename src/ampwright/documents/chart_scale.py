"""Scales of a chart: from days, fractions and degrees to millimetres, ticks, and thinned series."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from ampwright.records import record

__all__ = ["Scale", "column_path", "day_step", "round_ticks"]

DAY_STEPS = (1, 2, 5, 7, 10, 14, 20, 28, 50, 70, 100, 200)


@record
class Scale:
    """A straight scale: `low` falls on `low_mm`, `high` on `high_mm`."""

    low: float
    """Value at one end."""
    high: float
    """Value at the other end."""
    low_mm: float
    """Place of `low`."""
    high_mm: float
    """Place of `high`."""

    def mm(self, value: float) -> float:
        """Return the place of a value, held inside the two ends."""
        held = min(max(value, self.low), self.high)
        return self.low_mm + (held - self.low) / (self.high - self.low) * (self.high_mm - self.low_mm)


def day_step(day_count: int, *, day_mm: float, label_mm: float) -> int:
    """Return every how many days a label fits."""
    for step in DAY_STEPS:
        if step * day_mm >= label_mm:
            return step
    return day_count


def round_ticks(low: float, high: float, *, most: int) -> tuple[float, ...]:
    """Return round values from at or below `low` to at or above `high`, at most `most` gaps.

    Examples
    --------
    >>> round_ticks(2.3, 11.0, most=4)
    (0.0, 5.0, 10.0, 15.0)
    """
    span = max(high - low, 1e-6)
    decade = 10.0 ** math.floor(math.log10(span / most))
    for step in (decade, 2.0 * decade, 5.0 * decade, 10.0 * decade, 20.0 * decade):
        first = math.floor(low / step)
        last = max(math.ceil(high / step), first + 1)
        if last - first <= most:
            break
    return tuple(number * step for number in range(first, last + 1))


def column_path(
    hours: npt.NDArray[np.float64], values: npt.NDArray[np.float64], *, column_h: float
) -> tuple[tuple[float, float], ...]:
    """Return a path with at most four points a column that keeps the lowest and highest value of each.

    Parameters
    ----------
    hours, values : (n_points,)
    column_h : width of a column; where columns hold fewer points than that, all are kept
    """
    columns = np.floor((hours - hours[0]) / column_h).astype(np.int64)
    starts = np.flatnonzero(np.diff(columns, prepend=columns[0] - 1))
    ends = np.append(starts[1:], len(hours))
    kept: list[int] = []
    for start, end in zip(starts.tolist(), ends.tolist(), strict=True):
        part = values[start:end]
        kept += sorted({start, start + int(np.argmin(part)), start + int(np.argmax(part)), end - 1})
    return tuple((float(hours[i]), float(values[i])) for i in kept)
