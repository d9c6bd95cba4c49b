"""Layout of the chart of a use: state of charge, states of the vehicle, refrigerators.

Answers where everything stands, in millimetres. No dip is hidden: the course keeps the lowest and
highest value of every column of the paper.
"""

from __future__ import annotations

from ampwright.documents.chart_frame import (
    SMALL_MM,
    Frame,
    Layer,
    across,
    course_line,
    day_lines,
    label_step,
    level,
    merged,
    nights,
    side_label,
)
from ampwright.documents.chart_records import Band, Chart, Label, Mark
from ampwright.documents.chart_scale import Scale, round_ticks
from ampwright.documents.chart_words import description, legend, short_name
from ampwright.documents.quantity_text import UNIT_SPACE, UnitSystem, customary, percent_text, three_figures
from ampwright.documents.use_course import FridgeCourse, StretchKind, UseCourse
from ampwright.documents.words.words import Words, english, noted

__all__ = ["soc_chart"]

LEFT_MM = 12.0
RIGHT_MM = 12.0
SOC_MM = 38.0
FRIDGE_MM = 15.0
STRIP_MM = 2.9
ROW_MM = 4.0
MARK_GAP_MM = 4.0
HOUR_DAY_MM = 34.0

STATE_WORD: dict[StretchKind, str] = {
    "road": noted("driving"),
    "idle": noted("idling"),
    "hooked-up": noted("mains"),
    "stored": noted("stored"),
}


def soc_chart(
    course: UseCourse,
    *,
    width_mm: float = 182.0,
    units: UnitSystem = "metric",
    words: Words | None = None,
) -> Chart:
    """Return the chart of a use of 1 to 400 days; in English where no words are given."""
    plot_mm = width_mm - LEFT_MM - RIGHT_MM
    frame = Frame(
        course=course,
        hours=Scale(low=0.0, high=24.0 * course.day_count, low_mm=LEFT_MM, high_mm=LEFT_MM + plot_mm),
        day_mm=plot_mm / course.day_count,
        units=units,
        words=words or english(),
    )
    layers: list[Layer] = []
    y_mm = 0.0
    for part in (_heading, _soc_plot, _state_strip, _day_axis):
        layers.append(part(frame, y_mm))
        y_mm += layers[-1].height_mm
    for number, fridge in enumerate(course.fridges):
        layers.append(_fridge_plot(frame, fridge, y_mm=y_mm, number=number))
        y_mm += layers[-1].height_mm
    layers.append(legend(frame, y_mm))
    y_mm += layers[-1].height_mm
    return Chart(
        width_mm=width_mm,
        height_mm=y_mm,
        title=frame.words("State of charge over the use"),
        description=description(course, frame.words),
        bands=tuple(band for layer in layers for band in layer.bands),
        lines=tuple(line for layer in layers for line in layer.lines),
        marks=tuple(mark for layer in layers for mark in layer.marks),
        labels=tuple(label for layer in layers for label in layer.labels),
    )


def _heading(frame: Frame, y_mm: float) -> Layer:
    heading = Label(
        id="heading-soc",
        text=frame.words("State of charge of the auxiliary battery"),
        x_mm=frame.hours.low_mm,
        y_mm=y_mm + 2.8,
        size_mm=SMALL_MM,
        is_bold=True,
    )
    return Layer(labels=(heading,), height_mm=ROW_MM)


def _soc_plot(frame: Frame, y_mm: float) -> Layer:
    course = frame.course
    soc = Scale(low=0.0, high=1.0, low_mm=y_mm + SOC_MM, high_mm=y_mm + 1.0)
    bands = nights(frame, "soc", y_mm=y_mm, height_mm=SOC_MM)
    reserve_mm = soc.mm(course.reserve_frac)
    if course.reserve_frac > 0.0:
        bands.append(
            across(frame, "reserve", kind="reserve", y_mm=reserve_mm, height_mm=soc.low_mm - reserve_mm)
        )
    bands += _run_bands(frame, soc)
    bands += _cut_off_bands(frame, y_mm=soc.low_mm - 1.0)
    lines = [level(frame, f"soc-grid-{i}", y_mm=soc.mm(i / 4)) for i in range(1, 5)]
    lines += day_lines(frame, "soc", y_mm=y_mm, height_mm=SOC_MM)
    lines.append(course_line(frame, "course", values=course.soc_frac, scale=soc))
    if course.reserve_frac > 0.0:
        lines.append(level(frame, "reserve-line", y_mm=reserve_mm, kind="reserve"))
    lines.append(level(frame, "soc-axis", y_mm=soc.low_mm, kind="axis"))
    labels = [
        side_label(frame, f"soc-tick-{i}", text=percent_text(i / 4), y_mm=soc.mm(i / 4)) for i in range(5)
    ]
    if course.reserve_frac > 0.0:
        labels.append(
            side_label(frame, "reserve-label", text=frame.words("reserve"), y_mm=reserve_mm, is_left=False)
        )
    marks = tuple(
        Mark(id=f"cut-off-{i}", kind="cut-off", x_mm=x_mm, y_mm=soc.low_mm - 1.4)
        for i, x_mm in enumerate(
            _spaced(frame, tuple(each.start_h for each in course.cut_offs), gap_mm=MARK_GAP_MM)
        )
    )
    return Layer(
        bands=tuple(bands), lines=tuple(lines), labels=tuple(labels), marks=marks, height_mm=SOC_MM + 1.4
    )


def _run_bands(frame: Frame, soc: Scale) -> list[Band]:
    """Return for each day the span of its lowest charge over the runs."""
    return [
        Band(
            id=f"runs-{day}",
            kind="runs",
            x_mm=frame.hours.mm(24.0 * day),
            y_mm=soc.mm(high),
            width_mm=frame.day_mm,
            height_mm=max(soc.mm(low) - soc.mm(high), 0.3),
        )
        for day, (low, high) in enumerate(frame.course.runs_frac)
    ]


def _spaced(frame: Frame, moments_h: tuple[float, ...], *, gap_mm: float) -> tuple[float, ...]:
    places: list[float] = []
    for moment_h in moments_h:
        x_mm = min(max(frame.hours.mm(moment_h), frame.hours.low_mm + 1.0), frame.hours.high_mm - 1.0)
        if not places or x_mm - places[-1] >= gap_mm:
            places.append(x_mm)
    return tuple(places)


def _cut_off_bands(frame: Frame, *, y_mm: float) -> list[Band]:
    spans = [(each.start_h, each.end_h) for each in frame.course.cut_offs]
    return [
        Band(id=f"cut-off-time-{i}", kind="cut-off", x_mm=x_mm, y_mm=y_mm, width_mm=width_mm, height_mm=1.0)
        for i, (x_mm, width_mm) in enumerate(merged(frame, spans, least_mm=0.4))
    ]


def _state_strip(frame: Frame, y_mm: float) -> Layer:
    """One row for each state that occurs, so that place and word tell it, not colour."""
    bands: list[Band] = []
    labels: list[Label] = []
    for kind, word in STATE_WORD.items():
        spans = [(each.start_h, each.end_h) for each in frame.course.stretches if each.kind == kind]
        if not spans:
            continue
        row_mm = y_mm + STRIP_MM * len(labels)
        bands.append(across(frame, f"row-{kind}", kind="frame", y_mm=row_mm, height_mm=STRIP_MM))
        bands += [
            Band(
                id=f"state-{kind}-{i}",
                kind=kind,
                x_mm=x_mm,
                y_mm=row_mm,
                width_mm=width_mm,
                height_mm=STRIP_MM,
            )
            for i, (x_mm, width_mm) in enumerate(merged(frame, spans, least_mm=0.3))
        ]
        labels.append(
            side_label(frame, f"row-word-{kind}", text=frame.words(word), y_mm=row_mm + STRIP_MM / 2)
        )
    return Layer(bands=tuple(bands), labels=tuple(labels), height_mm=STRIP_MM * len(labels))


def _day_axis(frame: Frame, y_mm: float) -> Layer:
    labels: list[Label] = [side_label(frame, "day-word", text=frame.words("day"), y_mm=y_mm + 2.4)]
    step = label_step(frame)
    for day in range(1, frame.course.day_count + 1):
        if day != 1 and day % step:
            continue
        if day == 1 and step > 1 and (step - 1) * frame.day_mm < 6.0:
            continue
        labels.append(
            Label(
                id=f"day-{day}",
                text=str(day),
                x_mm=frame.hours.mm(24.0 * day - 12.0),
                y_mm=y_mm + 3.2,
                size_mm=SMALL_MM,
                anchor="middle",
                is_bold=frame.day_mm >= HOUR_DAY_MM,
            )
        )
        if frame.day_mm >= HOUR_DAY_MM:
            labels += [
                Label(
                    id=f"hour-{day}-{clock}",
                    text=f"{clock:02d}:00",
                    x_mm=frame.hours.mm(24.0 * (day - 1) + clock),
                    y_mm=y_mm + 3.2,
                    size_mm=SMALL_MM - 0.3,
                    anchor="middle",
                )
                for clock in (6, 18)
            ]
    return Layer(labels=tuple(labels), height_mm=ROW_MM + 0.8)


def _fridge_plot(frame: Frame, fridge: FridgeCourse, *, y_mm: float, number: int) -> Layer:
    top_mm = y_mm + ROW_MM
    limits = [limit for limit in (fridge.low_degc, fridge.high_degc) if limit is not None]
    lowest = min(float(fridge.contents_degc.min()), *limits, 999.0)
    highest = max(float(fridge.contents_degc.max()), *limits, -999.0)
    ticks = round_ticks(lowest, highest, most=4)
    scale = Scale(low=ticks[0], high=ticks[-1], low_mm=top_mm + FRIDGE_MM, high_mm=top_mm)
    plot = f"fridge-{number}"
    bands = nights(frame, plot, y_mm=top_mm, height_mm=FRIDGE_MM)
    upper_mm = scale.mm(fridge.high_degc) if fridge.high_degc is not None else scale.high_mm
    lower_mm = scale.mm(fridge.low_degc) if fridge.low_degc is not None else scale.low_mm
    bands.append(
        across(frame, f"{plot}-allowed", kind="allowed", y_mm=upper_mm, height_mm=lower_mm - upper_mm)
    )
    lines = [
        level(frame, f"{plot}-limit-{i}", y_mm=scale.mm(limit), kind="limit")
        for i, limit in enumerate(limits)
    ]
    lines += day_lines(frame, plot, y_mm=top_mm, height_mm=FRIDGE_MM)
    lines.append(level(frame, f"{plot}-axis", y_mm=scale.low_mm, kind="axis"))
    lines.append(course_line(frame, f"{plot}-course", values=fridge.contents_degc, scale=scale))
    labels = [
        Label(
            id=f"{plot}-heading",
            text=frame.words("Contents of {name}, allowed band hatched", name=short_name(fridge.name)),
            x_mm=frame.hours.low_mm,
            y_mm=y_mm + 2.9,
            size_mm=SMALL_MM,
            is_bold=True,
        )
    ]
    for i, tick in enumerate(ticks):
        text = f"{_whole(three_figures(tick))}{UNIT_SPACE}°C"
        labels.append(side_label(frame, f"{plot}-tick-{i}", text=text, y_mm=scale.mm(tick)))
        if frame.units == "us":
            other = _whole(customary(tick, "°C"))
            labels.append(
                side_label(frame, f"{plot}-us-tick-{i}", text=other, y_mm=scale.mm(tick), is_left=False)
            )
    return Layer(
        bands=tuple(bands), lines=tuple(lines), labels=tuple(labels), height_mm=ROW_MM + FRIDGE_MM + 1.6
    )


def _whole(text: str) -> str:
    number, _, unit = text.partition(UNIT_SPACE)
    number = number.removesuffix(".00").removesuffix(".0")
    return f"{number}{UNIT_SPACE}{unit}" if unit else number
