"""Axes of a time-current chart: both logarithmic, 1 A to 20 kA across, 10 ms to 3 h upwards."""

from __future__ import annotations

import math

from ampwright.documents.chart_records import Label, text_mm
from ampwright.documents.chart_scale import Scale
from ampwright.documents.curve_records import CurveBox, CurveLine
from ampwright.documents.words.words import Words
from ampwright.records import record

__all__ = ["LEAST_A", "LEAST_S", "MOST_A", "MOST_S", "SIZE_MM", "Axes", "axes_drawing"]

LEAST_A, MOST_A = 1.0, 20_000.0
LEAST_S, MOST_S = 0.01, 10_800.0
SIZE_MM = 2.1
"""Type size."""
TIMES = ((0.01, "10 ms"), (0.1, "0.1 s"), (1.0, "1 s"), (10.0, "10 s"), (60.0, "1 min"), (600.0, "10 min"))
LAST_TIMES = ((3600.0, "1 h"), (10_800.0, "3 h"))
CURRENTS = ((1.0, "1"), (10.0, "10"), (100.0, "100"), (1000.0, "1 000"), (10_000.0, "10 000"))


@record
class Axes:
    """Where the plot lies."""

    left_mm: float
    """Left edge."""
    right_mm: float
    """Right edge."""
    top_mm: float
    """Upper edge."""
    bottom_mm: float
    """Lower edge."""

    def x_mm(self, current_a: float) -> float:
        """Return the place of a current, held inside the plot."""
        scale = Scale(
            low=math.log10(LEAST_A), high=math.log10(MOST_A), low_mm=self.left_mm, high_mm=self.right_mm
        )
        return scale.mm(math.log10(min(max(current_a, LEAST_A), MOST_A)))

    def y_mm(self, time_s: float) -> float:
        """Return the place of a time, held inside the plot."""
        scale = Scale(
            low=math.log10(LEAST_S), high=math.log10(MOST_S), low_mm=self.bottom_mm, high_mm=self.top_mm
        )
        return scale.mm(math.log10(min(max(time_s, LEAST_S), MOST_S)))


def axes_drawing(
    axes: Axes, words: Words
) -> tuple[tuple[CurveBox, ...], tuple[CurveLine, ...], tuple[Label, ...]]:
    """Return the frame, the grid and the words of both axes."""
    frame = CurveBox(
        id="frame",
        kind="frame",
        x_mm=axes.left_mm,
        y_mm=axes.top_mm,
        width_mm=axes.right_mm - axes.left_mm,
        height_mm=axes.bottom_mm - axes.top_mm,
    )
    labels = (*_current_labels(axes), *_time_labels(axes, words))
    return (frame,), (*_current_grid(axes), *_time_grid(axes)), labels


def _current_grid(axes: Axes) -> list[CurveLine]:
    lines: list[CurveLine] = []
    for decade, _ in CURRENTS:
        for step in (1.0, 2.0, 5.0):
            current_a = decade * step
            if LEAST_A < current_a < MOST_A:
                x_mm = axes.x_mm(current_a)
                lines.append(
                    CurveLine(
                        id=f"grid-{current_a:g}a",
                        kind="grid" if step == 1.0 else "fine-grid",
                        points_mm=((x_mm, axes.top_mm), (x_mm, axes.bottom_mm)),
                    )
                )
    return lines


def _time_grid(axes: Axes) -> list[CurveLine]:
    lines: list[CurveLine] = []
    for time_s, text in (*TIMES, *LAST_TIMES):
        if LEAST_S < time_s < MOST_S:
            y_mm = axes.y_mm(time_s)
            lines.append(
                CurveLine(
                    id=f"grid-{text.replace(' ', '-')}",
                    kind="grid",
                    points_mm=((axes.left_mm, y_mm), (axes.right_mm, y_mm)),
                )
            )
    return lines


def _current_labels(axes: Axes) -> list[Label]:
    labels = [
        Label(
            id=f"current-{current_a:g}",
            text=text,
            x_mm=axes.x_mm(current_a),
            y_mm=axes.bottom_mm + 2.6,
            size_mm=SIZE_MM,
            anchor="middle",
        )
        for current_a, text in CURRENTS
    ]
    unit = Label(
        id="current-unit",
        text="A",
        x_mm=axes.right_mm,
        y_mm=axes.bottom_mm + 2.6,
        size_mm=SIZE_MM,
        anchor="end",
    )
    least_mm = axes.x_mm(CURRENTS[-1][0]) + text_mm(CURRENTS[-1][1], SIZE_MM) / 2.0
    return [*labels, unit] if least_mm < axes.right_mm - text_mm("A", SIZE_MM) else labels


def _time_labels(axes: Axes, words: Words) -> list[Label]:
    return [
        Label(
            id=f"time-{time_s:g}",
            text=words.decimal(text),
            x_mm=axes.left_mm - 0.8,
            y_mm=axes.y_mm(time_s) + 0.7,
            size_mm=SIZE_MM,
            anchor="end",
        )
        for time_s, text in (*TIMES, *LAST_TIMES)
    ]
