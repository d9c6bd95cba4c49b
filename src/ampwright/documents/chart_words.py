"""Words of a chart: the legend, and the description for those who cannot see it."""

from __future__ import annotations

import numpy as np

from ampwright.documents.chart_frame import NIGHT_DAY_MM, SMALL_MM, Frame, Layer
from ampwright.documents.chart_records import Band, BandKind, Label, Mark, text_mm
from ampwright.documents.printable import BREAK, printable
from ampwright.documents.quantity_text import percent_text
from ampwright.documents.use_course import UseCourse
from ampwright.documents.words.words import Words

__all__ = ["description", "legend", "short_name"]

SAMPLE_MM = 4.5


def legend(frame: Frame, y_mm: float) -> Layer:
    """Flow samples and their explanations from left to right, row below row."""
    bands: list[Band] = []
    marks: list[Mark] = []
    labels: list[Label] = []
    x_mm, row_mm = frame.hours.low_mm, y_mm + 2.6
    for number, (kind, text) in enumerate(_explanations(frame)):
        width_mm = SAMPLE_MM + 1.0 + text_mm(text, SMALL_MM)
        if labels and x_mm + width_mm > frame.hours.high_mm:
            x_mm, row_mm = frame.hours.low_mm, row_mm + 3.6
        sample_id = f"legend-sample-{number}"
        if kind == "cut-off":
            marks.append(Mark(id=sample_id, kind="cut-off", x_mm=x_mm + SAMPLE_MM / 2, y_mm=row_mm))
        else:
            bands.append(
                Band(id=sample_id, kind=kind, x_mm=x_mm, y_mm=row_mm - 2.0, width_mm=SAMPLE_MM, height_mm=2.4)
            )
        at_mm = x_mm + SAMPLE_MM + 1.0
        labels.append(Label(id=f"legend-{number}", text=text, x_mm=at_mm, y_mm=row_mm, size_mm=SMALL_MM))
        x_mm += width_mm + 2.0
    height_mm = row_mm - y_mm + 1.2 if labels else 0.0
    return Layer(bands=tuple(bands), marks=tuple(marks), labels=tuple(labels), height_mm=height_mm)


def _explanations(frame: Frame) -> list[tuple[BandKind, str]]:
    course = frame.course
    entries: list[tuple[BandKind, str]] = []
    if course.nights and frame.day_mm >= NIGHT_DAY_MM:
        entries.append(("night", frame.words("no sun on the panels")))
    if course.runs_frac:
        entries.append(("runs", frame.words("lowest charge of the day, 9 of 10 runs")))
    if course.cut_offs:
        day, hour = divmod(course.cut_offs[0].start_h, 24.0)
        clock = f"{int(hour):02d}:{int(hour % 1.0 * 60.0):02d}"
        entries.append(
            (
                "cut-off",
                frame.words("loads cut off, first on day {day} at {clock}", day=int(day) + 1, clock=clock),
            )
        )
    return entries


def description(course: UseCourse, words: Words) -> str:
    """Return what the chart shows, in sentences."""
    lowest = int(np.argmin(course.soc_frac))
    day, hour = divmod(lowest * course.step_h, 24.0)
    sentences = [
        words("Line chart of the state of charge over {days} days.", days=course.day_count),
        words(
            "It begins near {first}, is lowest with {low} on day {day} about {hour:02d}:00, and ends at {last}.",
            first=percent_text(float(course.soc_frac[0])),
            low=percent_text(float(course.soc_frac[lowest])),
            day=min(int(day) + 1, course.day_count),
            hour=int(hour),
            last=percent_text(float(course.soc_frac[-1])),
        ),
        words("The reserve line stands at {reserve}.", reserve=percent_text(course.reserve_frac)),
        words("Loads are cut off {count} times.", count=len(course.cut_offs))
        if course.cut_offs
        else words("No load is cut off."),
    ]
    if course.runs_frac:
        low, high = min(course.runs_frac)
        sentences.append(
            words(
                "In nine of ten runs the lowest charge of the worst day is {low} to {high}.",
                low=percent_text(low),
                high=percent_text(high),
            )
        )
    sentences += [
        words(
            "Contents of {name}: {low} to {high} °C.",
            name=short_name(fridge.name),
            low=words.number(float(fridge.contents_degc.min())),
            high=words.number(float(fridge.contents_degc.max())),
        )
        for fridge in course.fridges
    ]
    return " ".join(sentences)


def short_name(name: str, *, most: int = 40) -> str:
    """Return a name with printable letters, cut to a length that fits beside nothing else."""
    shown = printable(name).replace(BREAK, "")
    return shown if len(shown) <= most else f"{shown[: most - 1]}…"
