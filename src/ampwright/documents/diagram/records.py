"""The drawing as geometry in millimetres, y downwards: what SVG, PDF and DXF are written from."""

from __future__ import annotations

from typing import Literal

from ampwright.records import record

__all__ = [
    "Anchor",
    "Box",
    "Circle",
    "Drawing",
    "DrawnSheet",
    "Group",
    "Layer",
    "Path",
    "Point",
    "Size",
    "Text",
    "Tone",
]

Point = tuple[float, float]
Box = tuple[float, float, float, float]
"""Left, top, right, bottom in mm."""
Anchor = Literal["start", "middle", "end"]
Tone = Literal["black", "ink", "rust"]
Dash = Literal["", "dashed", "chain"]
Layer = Literal[
    "run", "mains", "bar", "device", "part", "load", "channel", "bond", "reference", "module", "frame"
]


@record
class Size:
    """A sheet's drawing area."""

    width_mm: float
    """Width."""
    height_mm: float
    """Height."""


@record
class Path:
    """A line through points."""

    points_mm: tuple[Point, ...]
    """Points."""
    width_mm: float = 0.25
    """Width of the line."""
    is_closed: bool = False
    """True when the last point is joined to the first."""
    is_filled: bool = False
    """True when its inside is black."""
    dash: Dash = ""
    """Pattern of the line; empty = drawn through."""


@record
class Circle:
    """A circle."""

    x_mm: float
    """Centre from the left."""
    y_mm: float
    """Centre from the top."""
    radius_mm: float
    """Radius."""
    width_mm: float = 0.25
    """Width of the line."""
    is_filled: bool = False
    """True when its inside is black."""


@record
class Text:
    """One line of text."""

    x_mm: float
    """Anchor from the left."""
    y_mm: float
    """Base line from the top."""
    text: str
    """The text."""
    size_mm: float
    """Size of the type; capitals are 0.714 of it high."""
    anchor: Anchor = "start"
    """Where on the line the anchor is."""
    is_bold: bool = False
    """True for bold type."""
    tone: Tone = "black"
    """Colour; it only helps."""


@record
class Group:
    """What belongs together: one circuit, one part, one load, one device."""

    id: str
    """Stable name, e.g. "run-W12"."""
    layer: Layer
    """What it is."""
    label: str
    """The same in words, for those who cannot see it; empty = nothing to point at."""
    paths: tuple[Path, ...] = ()
    """Lines."""
    circles: tuple[Circle, ...] = ()
    """Circles."""
    texts: tuple[Text, ...] = ()
    """Texts."""


@record
class DrawnSheet:
    """One sheet of the drawing."""

    number: int
    """Number, from 1."""
    size: Size
    """Drawing area."""
    title: str
    """Title for those who cannot see it."""
    description: str
    """Every circuit in words, for those who cannot see it."""
    groups: tuple[Group, ...]
    """Everything on it, in the order of drawing."""


@record
class Drawing:
    """The whole single-line diagram."""

    paper: str
    """Sheet as typst names it, laid on its side."""
    sheets: tuple[DrawnSheet, ...]
    """Its sheets."""
    reference_count: int
    """Circuits that are drawn in two pieces with a reference at both ends."""
