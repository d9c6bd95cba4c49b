"""Layout of the time-current chart of one device: bands, cable limit, load and fault currents.

Answers where everything stands. The bands are drawn as held, in steps: nothing between the points of a
table is made up. Letters and patterns carry the meaning; the legend below explains them.
"""

from __future__ import annotations

import itertools
import math

import numpy as np

from ampwright.documents.chart_records import Label, text_mm
from ampwright.documents.curve_records import (
    CurveBox,
    CurveBoxKind,
    CurveCable,
    CurveChart,
    CurveCircuit,
    CurveDevice,
    CurveLine,
    CurveLineKind,
)
from ampwright.documents.curve_scale import LEAST_A, LEAST_S, MOST_A, MOST_S, SIZE_MM, Axes, axes_drawing
from ampwright.documents.curve_words import amperes, description, device_text
from ampwright.documents.words.words import Words, english, noted
from ampwright.records import record
from ampwright.standards.device_bands.band import band_steps_a, device_band
from ampwright.standards.iec_60949.heating import cable_time_s

__all__ = ["PLOT_MM", "curve_chart", "weakest_s"]

PLOT_MM = 55.0
"""Height of the plot."""
LEFT_MM = 9.5
RIGHT_MM = 2.0
LETTER_MM = 3.2
"""Side of the frame of a letter."""
LEAST_HEAD_MM = 1.4
"""Room above the plot that the uppermost time label takes."""
ROW_MM = 3.5
SAMPLE_MM = 5.0
CABLE_POINTS = 160


@record
class _Upright:
    """A current marked by an upright line and a letter."""

    letter: str
    """Letter above the plot."""
    kind: CurveLineKind
    """How it is drawn."""
    current_a: float
    """The current."""
    text: str
    """What it is, for the legend."""


@record
class _Entry:
    """One row of the legend."""

    text: str
    """Explanation."""
    box: CurveBoxKind | None = None
    """Pattern of its sample."""
    line: CurveLineKind | None = None
    """Line of its sample."""
    letter: str = ""
    """Letter of its sample."""


def curve_chart(circuit: CurveCircuit, words: Words | None = None, *, width_mm: float = 88.0) -> CurveChart:
    """Return the chart of one circuit; in English where no words are given."""
    words = words or english()
    uprights = _uprights(circuit, words)
    axes = Axes(left_mm=LEFT_MM, right_mm=width_mm - RIGHT_MM, top_mm=0.0, bottom_mm=PLOT_MM)
    tags, letters, head_mm = _letters(axes, uprights)
    axes = Axes(left_mm=LEFT_MM, right_mm=width_mm - RIGHT_MM, top_mm=head_mm, bottom_mm=head_mm + PLOT_MM)
    frame, grid, scale_labels = axes_drawing(axes, words)
    boxes: list[CurveBox] = []
    lines: list[CurveLine] = []
    devices: list[tuple[CurveBoxKind, CurveLineKind, CurveDevice]] = [("own", "own", circuit.own)]
    if circuit.upstream is not None:
        devices.insert(0, ("upstream", "upstream", circuit.upstream))
    for box_kind, line_kind, device in devices:
        band = _band(axes, device, box_kind)
        boxes += band
        lines += _edges(axes, band, line_kind)
    lines += _cable_line(axes, circuit.cables)
    lines += [_upright_line(axes, upright) for upright in uprights]
    legend_boxes, legend_lines, legend_tags, legend_labels, bottom_mm = _legend(
        axes, _entries(circuit, uprights, words)
    )
    return CurveChart(
        width_mm=width_mm,
        height_mm=bottom_mm,
        title=words("Time-current chart of {device}", device=circuit.own.id),
        description=description(circuit, words),
        boxes=(*frame, *boxes, *legend_boxes),
        lines=(*grid, *lines, *legend_lines),
        tags=(*tags, *legend_tags),
        labels=(*scale_labels, *letters, *legend_labels),
    )


def weakest_s(cables: tuple[CurveCable, ...], current_a: float) -> float:
    """Return how long the weakest of some conductors endures a current; infinite where all do for ever."""
    times = [
        cable_time_s(cable.laid, current_a=current_a, start_degc=cable.start_degc, end_degc=cable.end_degc)
        for cable in cables
    ]
    return min(times, default=math.inf)


def _uprights(circuit: CurveCircuit, words: Words) -> tuple[_Upright, ...]:
    found: tuple[tuple[str, CurveLineKind, float | None, str], ...] = (
        ("A", "load", circuit.load_a, noted("load {current}")),
        ("B", "fault", circuit.far_fault_a, noted("smallest fault, far end {current}")),
        ("C", "fault", circuit.fault_a, noted("largest fault, at the device {current}")),
    )
    return tuple(
        _Upright(
            letter=letter,
            kind=kind,
            current_a=current_a,
            text=words(text, current=amperes(current_a, words)),
        )
        for letter, kind, current_a, text in found
        if current_a is not None and current_a > 0.0
    )


def _letters(
    axes: Axes, uprights: tuple[_Upright, ...]
) -> tuple[tuple[CurveBox, ...], tuple[Label, ...], float]:
    """Return the letters above the plot, in as many rows as keep them apart, and the height they take."""
    rows: list[float] = []
    placed: list[tuple[_Upright, float, int]] = []
    for upright in sorted(uprights, key=_current):
        x_mm = min(max(axes.x_mm(upright.current_a), axes.left_mm + 1.6), axes.right_mm - 1.6)
        row = next((i for i, end_mm in enumerate(rows) if x_mm - LETTER_MM / 2 >= end_mm), len(rows))
        rows[row : row + 1] = [x_mm + LETTER_MM / 2 + 0.4]
        placed.append((upright, x_mm, row))
    height_mm = max(0.6 + (LETTER_MM + 0.4) * len(rows), LEAST_HEAD_MM)
    tags = tuple(
        _tag(f"tag-{each.letter}", x_mm=x_mm - LETTER_MM / 2, y_mm=0.3 + (LETTER_MM + 0.4) * row)
        for each, x_mm, row in placed
    )
    labels = tuple(
        _letter(f"letter-{each.letter}", each.letter, tag)
        for (each, _, _), tag in zip(placed, tags, strict=True)
    )
    return tags, labels, height_mm


def _current(upright: _Upright) -> float:
    return upright.current_a


def _tag(tag_id: str, *, x_mm: float, y_mm: float) -> CurveBox:
    return CurveBox(id=tag_id, kind="letter", x_mm=x_mm, y_mm=y_mm, width_mm=LETTER_MM, height_mm=LETTER_MM)


def _letter(label_id: str, text: str, tag: CurveBox) -> Label:
    return Label(
        id=label_id,
        text=text,
        x_mm=tag.x_mm + LETTER_MM / 2,
        y_mm=tag.y_mm + LETTER_MM - 0.85,
        size_mm=SIZE_MM + 0.2,
        anchor="middle",
        is_bold=True,
    )


def _upright_line(axes: Axes, upright: _Upright) -> CurveLine:
    x_mm = axes.x_mm(upright.current_a)
    points = ((x_mm, axes.top_mm), (x_mm, axes.bottom_mm))
    return CurveLine(id=f"upright-{upright.letter}", kind=upright.kind, points_mm=points)


def _band(axes: Axes, device: CurveDevice, kind: CurveBoxKind) -> list[CurveBox]:
    """Return the times in which a device may open, from its rating up (in hot air below), one rectangle between two steps.

    Where it need not open the rectangle reaches the upper edge, where no time is promised the lower one.
    """
    steps = band_steps_a(device.rated)
    if not steps:
        return []
    edges = sorted({min(device.rated.rating_a, steps[0]), *steps, MOST_A})
    edges = [edge for edge in edges if LEAST_A <= edge <= MOST_A]
    boxes: list[CurveBox] = []
    for number, (low_a, high_a) in enumerate(itertools.pairwise(edges)):
        band = device_band(device.rated, current_a=math.sqrt(low_a * high_a))
        if band is None or band.opening_min_s >= MOST_S or high_a <= low_a:
            continue
        longest_s = MOST_S if band.opening_max_s is None else band.opening_max_s
        left_mm, top_mm = axes.x_mm(low_a), axes.y_mm(longest_s)
        height_mm = axes.y_mm(max(band.opening_min_s, LEAST_S)) - top_mm
        boxes.append(
            CurveBox(
                id=f"{kind}-{number}",
                kind=kind,
                x_mm=left_mm,
                y_mm=top_mm,
                width_mm=axes.x_mm(high_a) - left_mm,
                height_mm=max(height_mm, 0.0),
            )
        )
    return boxes


def _edges(axes: Axes, band: list[CurveBox], kind: CurveLineKind) -> list[CurveLine]:
    """Return the upper and lower outline of a band, without the edges of the plot."""
    if not band:
        return []
    upper: list[tuple[float, float]] = []
    lower: list[tuple[float, float]] = []
    for box in band:
        right_mm = box.x_mm + box.width_mm
        upper += [(box.x_mm, box.y_mm), (right_mm, box.y_mm)]
        lower += [(box.x_mm, box.y_mm + box.height_mm), (right_mm, box.y_mm + box.height_mm)]
    kept_upper = _inside(upper, axes.top_mm)
    kept_lower = _inside(lower, axes.bottom_mm)
    return [
        CurveLine(id=f"{kind}-{side}", kind=kind, points_mm=tuple(points))
        for side, points in (("longest", kept_upper), ("shortest", kept_lower))
        if len(points) > 1
    ]


def _inside(points: list[tuple[float, float]], edge_mm: float) -> list[tuple[float, float]]:
    """Leave out the stretches along an edge of the plot; the corner next to the curve stays."""
    return [
        point
        for i, point in enumerate(points)
        if point[1] != edge_mm or any(points[j][1] != edge_mm for j in (i - 1, i + 1) if 0 <= j < len(points))
    ]


def _cable_line(axes: Axes, cables: tuple[CurveCable, ...]) -> list[CurveLine]:
    if not cables:
        return []
    points: list[tuple[float, float]] = []
    for current_a in np.geomspace(LEAST_A, MOST_A, CABLE_POINTS).tolist():
        time_s = weakest_s(cables, current_a)
        if time_s >= MOST_S:
            points = [(axes.x_mm(current_a), axes.top_mm)]
        elif time_s > LEAST_S:
            points.append((axes.x_mm(current_a), axes.y_mm(time_s)))
    return [CurveLine(id="cable", kind="cable", points_mm=tuple(points))] if len(points) > 1 else []


def _entries(circuit: CurveCircuit, uprights: tuple[_Upright, ...], words: Words) -> tuple[_Entry, ...]:
    entries = [_Entry(box="own", line="own", text=device_text(circuit.own, words))]
    if circuit.upstream is not None:
        before = words("before it {device}", device=device_text(circuit.upstream, words))
        entries.append(_Entry(box="upstream", line="upstream", text=before))
    if circuit.cables:
        runs = list(dict.fromkeys(cable.run for cable in circuit.cables))
        names = list(dict.fromkeys(cable.name for cable in circuit.cables))
        text = words(
            "cable limit, weakest of {runs} ({cables})",
            runs=", ".join(runs),
            cables=", ".join(words.decimal(name) for name in names),
        )
        entries.append(_Entry(line="cable", text=text))
    entries += [_Entry(letter=upright.letter, text=upright.text) for upright in uprights]
    return tuple(entries)


def _legend(
    axes: Axes, entries: tuple[_Entry, ...]
) -> tuple[list[CurveBox], list[CurveLine], list[CurveBox], list[Label], float]:
    boxes: list[CurveBox] = []
    lines: list[CurveLine] = []
    tags: list[CurveBox] = []
    labels: list[Label] = []
    y_mm, left_mm, from_mm = axes.bottom_mm + 4.2, axes.left_mm, axes.left_mm + SAMPLE_MM + 1.2
    for number, entry in enumerate(entries):
        sample_id = f"legend-{number}"
        top_mm = y_mm + 0.4
        if entry.box is not None:
            boxes.append(
                CurveBox(
                    id=f"{sample_id}-box",
                    kind=entry.box,
                    x_mm=left_mm,
                    y_mm=top_mm,
                    width_mm=SAMPLE_MM,
                    height_mm=2.4,
                )
            )
        if entry.line is not None:
            level_mm = top_mm + (0.0 if entry.box is not None else 1.2)
            ends = ((left_mm, level_mm), (left_mm + SAMPLE_MM, level_mm))
            lines.append(CurveLine(id=f"{sample_id}-line", kind=entry.line, points_mm=ends))
        if entry.letter:
            tags.append(_tag(f"{sample_id}-tag", x_mm=left_mm + (SAMPLE_MM - LETTER_MM) / 2, y_mm=y_mm))
            labels.append(_letter(f"{sample_id}-letter", entry.letter, tags[-1]))
        for row, text in enumerate(_rows(entry.text, axes.right_mm + RIGHT_MM - from_mm)):
            y_mm += ROW_MM if row else 0.0
            labels.append(
                Label(id=f"{sample_id}-{row}", text=text, x_mm=from_mm, y_mm=y_mm + 2.4, size_mm=SIZE_MM)
            )
        y_mm += ROW_MM
    return boxes, lines, tags, labels, y_mm + 0.8


def _rows(text: str, width_mm: float) -> list[str]:
    """Break a text into rows that fit; a single word that does not is cut."""
    rows = [""]
    for word in text.split(" "):
        longer = f"{rows[-1]} {word}".strip()
        if text_mm(longer, SIZE_MM) <= width_mm:
            rows[-1] = longer
        elif rows[-1]:
            rows.append(word)
        else:
            rows[-1] = word
    most = int(width_mm / text_mm("m", SIZE_MM))
    return [row if len(row) <= most else f"{row[: most - 1]}…" for row in rows]
