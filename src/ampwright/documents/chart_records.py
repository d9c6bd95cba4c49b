"""Geometry of a chart in millimetres, from the top left corner: bands, lines, marks and labels.

The same geometry feeds page, PDF and drawing; how each kind looks is the back end's matter.
"""

from __future__ import annotations

from typing import Literal

from ampwright.records import record

__all__ = [
    "Anchor",
    "Band",
    "BandKind",
    "Chart",
    "Label",
    "Line",
    "LineKind",
    "Mark",
    "MarkKind",
    "label_box_mm",
    "text_mm",
]

BandKind = Literal[
    "night", "runs", "frame", "reserve", "allowed", "cut-off", "road", "idle", "hooked-up", "stored"
]
LineKind = Literal["course", "temperature", "axis", "grid", "day", "reserve", "limit"]
MarkKind = Literal["cut-off"]
Anchor = Literal["start", "middle", "end"]

WIDEST_FRAC = 0.62
"""Mean advance of a letter over the type size; the chart's own words reach 0.61 in the bundled bold face."""


@record
class Band:
    """A filled rectangle."""

    id: str
    """Stable id."""
    kind: BandKind
    """What it shows."""
    x_mm: float
    """Left edge."""
    y_mm: float
    """Upper edge."""
    width_mm: float
    """Width."""
    height_mm: float
    """Height."""


@record
class Line:
    """An open line through points."""

    id: str
    """Stable id."""
    kind: LineKind
    """What it shows."""
    points_mm: tuple[tuple[float, float], ...]
    """Points from left to right or top to bottom."""


@record
class Mark:
    """A symbol at one point."""

    id: str
    """Stable id."""
    kind: MarkKind
    """What it shows."""
    x_mm: float
    """Tip, from the left."""
    y_mm: float
    """Tip, from the top."""


@record
class Label:
    """A short text on one line."""

    id: str
    """Stable id."""
    text: str
    """The text."""
    x_mm: float
    """Anchor point, from the left."""
    y_mm: float
    """Base line, from the top."""
    size_mm: float
    """Type size."""
    anchor: Anchor = "start"
    """Which end of the text the point is."""
    is_bold: bool = False
    """True for a heading."""


@record
class Chart:
    """Everything a back end draws, back to front within each kind."""

    width_mm: float
    """Width of the whole picture."""
    height_mm: float
    """Height of the whole picture."""
    title: str
    """Title for a reader who cannot see it."""
    description: str
    """What the picture shows, in sentences."""
    bands: tuple[Band, ...]
    """Bands."""
    lines: tuple[Line, ...]
    """Lines."""
    marks: tuple[Mark, ...]
    """Marks."""
    labels: tuple[Label, ...]
    """Labels."""


def text_mm(text: str, size_mm: float) -> float:
    """Return the width a text takes at most."""
    return WIDEST_FRAC * size_mm * len(text)


def label_box_mm(label: Label) -> tuple[float, float, float, float]:
    """Return left, upper, right and lower edge of a label."""
    width_mm = text_mm(label.text, label.size_mm)
    shift = {"start": 0.0, "middle": 0.5, "end": 1.0}[label.anchor]
    left_mm = label.x_mm - shift * width_mm
    return left_mm, label.y_mm - 0.8 * label.size_mm, left_mm + width_mm, label.y_mm + 0.25 * label.size_mm
