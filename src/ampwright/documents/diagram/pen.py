"""Symbols and lines of text put in their place on a sheet."""

from __future__ import annotations

import math
from collections.abc import Iterable

from ampwright.documents.diagram.graph import Joint
from ampwright.documents.diagram.labels import LINE_MM, Line
from ampwright.documents.diagram.records import Anchor, Circle, Path, Point, Text
from ampwright.documents.diagram.symbols import Mark, Symbol
from ampwright.records import record

__all__ = ["CAPITAL_FRAC", "Stamp", "column", "line", "line_mm", "stamp"]

CAPITAL_FRAC = 0.714
"""Height of capitals over the type size: the bundled font's own figure (OS/2 table, sCapHeight 714 of 1000)."""

HEAVY_MM2 = 35.0
MIDDLE_MM2 = 10.0
"""Areas from which a line is drawn wider; own choice, told on every sheet."""


@record
class Stamp:
    """Shapes and texts in their place."""

    paths: tuple[Path, ...] = ()
    """Lines."""
    circles: tuple[Circle, ...] = ()
    """Circles."""
    texts: tuple[Text, ...] = ()
    """Texts."""


def line(*points: Point, width_mm: float = 0.3, is_dashed: bool = False) -> Path:
    """Return a line."""
    return Path(points_mm=points, width_mm=width_mm, dash="dashed" if is_dashed else "")


def line_mm(joint: Joint) -> float:
    """Return how wide a line is drawn: the thicker the conductor, the wider."""
    if joint.run is None:
        return 0.25
    area = joint.run.cable.area_mm2
    return 0.75 if area >= HEAVY_MM2 else 0.5 if area >= MIDDLE_MM2 else 0.3


def stamp(symbol: Symbol, x_mm: float, y_mm: float, *, is_up: bool = False) -> Stamp:
    """Return a symbol with its terminal at a place, growing downwards or upwards."""
    sign = -1.0 if is_up else 1.0

    def put(path: Path) -> Path:
        points = tuple((x_mm + x, y_mm + sign * y) for x, y in path.points_mm)
        return Path(
            points_mm=points,
            width_mm=path.width_mm,
            is_closed=path.is_closed,
            is_filled=path.is_filled,
            dash=path.dash,
        )

    circles = tuple(
        Circle(x_mm=x_mm + c.x_mm, y_mm=y_mm + sign * c.y_mm, radius_mm=c.radius_mm, is_filled=c.is_filled)
        for c in symbol.circles
    )
    marks = [(mark, x_mm + mark.x_mm, y_mm + sign * mark.y_mm) for mark in symbol.marks]
    signs = tuple(path for mark, x, y in marks for path in _sign(mark, x, y))
    letters = tuple(_letter(mark, x, y) for mark, x, y in marks if mark.sign not in {"ac", "dc"})
    return Stamp(paths=(*(put(path) for path in symbol.paths), *signs), circles=circles, texts=letters)


def _sign(mark: Mark, x_mm: float, y_mm: float) -> tuple[Path, ...]:
    """Return the mark for direct or alternating current."""
    if mark.sign == "dc":
        dashes = ((-1.4, -0.7), (-0.35, 0.35), (0.7, 1.4))
        below = (line((x_mm + a, y_mm + 0.5), (x_mm + b, y_mm + 0.5), width_mm=0.25) for a, b in dashes)
        return (line((x_mm - 1.4, y_mm - 0.4), (x_mm + 1.4, y_mm - 0.4), width_mm=0.25), *below)
    if mark.sign == "ac":
        wave = ((1.5 * i / 8, -0.6 * math.sin(math.pi * i / 8)) for i in range(-8, 9))
        return (line(*((x_mm + x, y_mm + y) for x, y in wave), width_mm=0.25),)
    return ()


def _letter(mark: Mark, x_mm: float, y_mm: float) -> Text:
    base_mm = y_mm + mark.size_mm * CAPITAL_FRAC / 2.0
    return Text(x_mm=x_mm, y_mm=base_mm, text=mark.sign, size_mm=mark.size_mm, anchor="middle")


def column(
    lines: Iterable[Line], x_mm: float, top_mm: float, *, anchor: Anchor = "start"
) -> tuple[Text, ...]:
    """Return lines of text under one another, the first one's capitals just below the top."""
    return tuple(
        Text(
            x_mm=x_mm,
            y_mm=top_mm + LINE_MM * number + (LINE_MM + each.size_mm * CAPITAL_FRAC) / 2.0,
            text=each.text,
            size_mm=each.size_mm,
            anchor=anchor,
            is_bold=each.is_bold,
        )
        for number, each in enumerate(lines)
    )
