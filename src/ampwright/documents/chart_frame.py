"""The frame all plots of a chart share, and the pieces they are made of: levels, spans, day lines, courses."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from ampwright.documents.chart_records import Anchor, Band, BandKind, Label, Line, LineKind, Mark
from ampwright.documents.chart_scale import Scale, column_path, day_step
from ampwright.documents.quantity_text import UnitSystem
from ampwright.documents.use_course import UseCourse
from ampwright.documents.words.words import Words
from ampwright.records import record

__all__ = [
    "Frame",
    "Layer",
    "across",
    "course_line",
    "day_lines",
    "label_step",
    "level",
    "merged",
    "nights",
    "side_label",
]

SMALL_MM = 2.3
"""Type size of labels."""
COLUMN_MM = 0.2
"""Width of a strip of paper whose lowest and highest value are kept; thinner than the line."""
NIGHT_DAY_MM = 4.0
"""Narrowest day in which nights are shaded."""
DAY_LINE_MM = 4.0
"""Narrowest day with a line at each midnight."""


@record
class Frame:
    """Where the plots of a chart lie."""

    course: UseCourse
    """What is drawn."""
    hours: Scale
    """From hours since the first midnight to millimetres."""
    day_mm: float
    """Width of a day."""
    units: UnitSystem
    """Units of the labels."""
    words: Words
    """Language of the labels."""


@record
class Layer:
    """What one part of the chart adds."""

    bands: tuple[Band, ...] = ()
    """Bands."""
    lines: tuple[Line, ...] = ()
    """Lines."""
    marks: tuple[Mark, ...] = ()
    """Marks."""
    labels: tuple[Label, ...] = ()
    """Labels."""
    height_mm: float = 0.0
    """Height it takes."""


def side_label(frame: Frame, label_id: str, *, text: str, y_mm: float, is_left: bool = True) -> Label:
    """Return a label left or right of the plots, level with `y_mm`."""
    x_mm = frame.hours.low_mm - 1.0 if is_left else frame.hours.high_mm + 1.0
    anchor: Anchor = "end" if is_left else "start"
    return Label(id=label_id, text=text, x_mm=x_mm, y_mm=y_mm + 0.8, size_mm=SMALL_MM, anchor=anchor)


def level(frame: Frame, line_id: str, *, y_mm: float, kind: LineKind = "grid") -> Line:
    """Return a level line across a plot."""
    ends = ((frame.hours.low_mm, y_mm), (frame.hours.high_mm, y_mm))
    return Line(id=line_id, kind=kind, points_mm=ends)


def across(frame: Frame, band_id: str, *, kind: BandKind, y_mm: float, height_mm: float) -> Band:
    """Return a band across a plot."""
    width_mm = frame.hours.high_mm - frame.hours.low_mm
    return Band(
        id=band_id, kind=kind, x_mm=frame.hours.low_mm, y_mm=y_mm, width_mm=width_mm, height_mm=height_mm
    )


def nights(frame: Frame, plot: str, *, y_mm: float, height_mm: float) -> list[Band]:
    """Return the times without sun, where a day is wide enough to show them."""
    if frame.day_mm < NIGHT_DAY_MM:
        return []
    bands: list[Band] = []
    for number, (start_h, end_h) in enumerate(frame.course.nights):
        left_mm = frame.hours.mm(start_h)
        bands.append(
            Band(
                id=f"night-{plot}-{number}",
                kind="night",
                x_mm=left_mm,
                y_mm=y_mm,
                width_mm=frame.hours.mm(end_h) - left_mm,
                height_mm=height_mm,
            )
        )
    return bands


def day_lines(frame: Frame, plot: str, *, y_mm: float, height_mm: float) -> list[Line]:
    """Return the lines between days, all of them only where a day is wide enough."""
    step = 1 if frame.day_mm >= DAY_LINE_MM else label_step(frame)
    return [
        Line(
            id=f"day-{plot}-{day}",
            kind="day",
            points_mm=((x_mm, y_mm), (x_mm, y_mm + height_mm)),
        )
        for day in range(0, frame.course.day_count + 1, step)
        for x_mm in (frame.hours.mm(24.0 * day),)
    ]


def label_step(frame: Frame) -> int:
    """Return every how many days a label fits."""
    return day_step(frame.course.day_count, day_mm=frame.day_mm, label_mm=9.0)


def merged(frame: Frame, spans_h: list[tuple[float, float]], *, least_mm: float) -> list[tuple[float, float]]:
    """Return left edges and widths on paper, none thinner than `least_mm`, touching ones joined."""
    joined: list[tuple[float, float]] = []
    for start_h, end_h in sorted(spans_h):
        left_mm = min(frame.hours.mm(start_h), frame.hours.high_mm - least_mm)
        right_mm = max(frame.hours.mm(end_h), left_mm + least_mm)
        if joined and left_mm <= joined[-1][1] + 0.05:
            joined[-1] = (joined[-1][0], max(joined[-1][1], right_mm))
        else:
            joined.append((left_mm, right_mm))
    return [(left_mm, right_mm - left_mm) for left_mm, right_mm in joined]


def course_line(frame: Frame, line_id: str, *, values: npt.NDArray[np.float64], scale: Scale) -> Line:
    """Return a series as a line; a series with one value more than steps begins at the first midnight."""
    steps = round(24.0 * frame.course.day_count / frame.course.step_h)
    first = steps - len(values) + 1
    hours = np.arange(first, steps + 1, dtype=np.float64) * frame.course.step_h
    column_h = COLUMN_MM / frame.day_mm * 24.0
    path = column_path(hours, values, column_h=column_h)
    points = tuple((frame.hours.mm(hour), scale.mm(value)) for hour, value in path)
    return Line(id=line_id, kind="course" if line_id == "course" else "temperature", points_mm=points)
