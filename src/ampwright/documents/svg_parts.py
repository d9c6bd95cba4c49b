"""What all charts share when their geometry becomes SVG text: the document, rectangles, lines, labels."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape
from typing import Protocol

from ampwright.documents.chart_records import Label

__all__ = ["BLACK", "INK", "RUST", "SvgHead", "label_text", "polyline", "rectangle", "svg_document"]

INK = "#14505c"
RUST = "#a23b14"
BLACK = "#1a1a1a"


class SvgHead(Protocol):
    """A chart with a size, a title and a description."""

    @property
    def width_mm(self) -> float:
        """Width of the drawing."""

    @property
    def height_mm(self) -> float:
        """Height of the drawing."""

    @property
    def title(self) -> str:
        """Title for those who cannot see it."""

    @property
    def description(self) -> str:
        """Description for those who cannot see it."""


class _Box(Protocol):
    @property
    def id(self) -> str: ...
    @property
    def x_mm(self) -> float: ...
    @property
    def y_mm(self) -> float: ...
    @property
    def width_mm(self) -> float: ...
    @property
    def height_mm(self) -> float: ...


class _Points(Protocol):
    @property
    def id(self) -> str: ...
    @property
    def points_mm(self) -> tuple[tuple[float, float], ...]: ...


def svg_document(chart: SvgHead, inside: Iterable[str], *, name: str, patterns: str, family: str) -> str:
    """Return an SVG document, one user unit a millimetre; `name` begins the ids of title and description."""
    size = f'width="{chart.width_mm:.2f}mm" height="{chart.height_mm:.2f}mm"'
    view = f'viewBox="0 0 {chart.width_mm:.2f} {chart.height_mm:.2f}"'
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} {view} role="img" '
        f'aria-labelledby="{name}-title {name}-description" font-family="{escape(family)}">'
    )
    about = [
        f'<title id="{name}-title">{escape(chart.title)}</title>',
        f'<desc id="{name}-description">{escape(chart.description)}</desc>',
        f"<defs>{patterns}</defs>",
    ]
    return "\n".join([head, *about, *inside, "</svg>"]) + "\n"


def rectangle(box: _Box, look: str) -> str:
    """Return a rectangle with its look."""
    return (
        f'<rect id="{escape(box.id)}" x="{box.x_mm:.3f}" y="{box.y_mm:.3f}" width="{box.width_mm:.3f}" '
        f'height="{box.height_mm:.3f}" {look}/>'
    )


def polyline(line: _Points, look: str) -> str:
    """Return a line through points with its look."""
    points = " ".join(f"{x_mm:.3f},{y_mm:.3f}" for x_mm, y_mm in line.points_mm)
    return f'<polyline id="{escape(line.id)}" points="{points}" fill="none" {look}/>'


def label_text(label: Label) -> str:
    """Return a label as text."""
    weight = ' font-weight="bold"' if label.is_bold else ""
    return (
        f'<text id="{escape(label.id)}" x="{label.x_mm:.3f}" y="{label.y_mm:.3f}" font-size="{label.size_mm:.2f}" '
        f'text-anchor="{label.anchor}" fill="{BLACK}"{weight}>{escape(label.text)}</text>'
    )
