"""Symbols of the diagram as shapes in mm, drawn by this project.

Shape and meaning follow IEC 60617 (the database "Graphical symbols for diagrams", before 2002 parts 2 to 11 of the standard; BS EN
60617-6:1996 is part 6, production and conversion). The database was not read: each is drawn after IEC 60617 by common practice, number
not read. A symbol hangs on its terminal at (0, 0) and grows towards positive y, away from the bus bar; letters and the
marks for direct and alternating current stay upright when it is turned over.
"""

from __future__ import annotations

import math
from typing import Literal

from ampwright.documents.diagram.records import Circle, Path, Point
from ampwright.records import record

__all__ = ["SYMBOLS", "Mark", "Symbol", "SymbolName"]

SymbolName = Literal[
    "battery", "vehicle", "generator", "supply", "inlet", "panel", "dc-dc", "ac-dc", "fuse", "breaker",
    "isolator", "plug", "relay", "shunt", "sensor", "buttons", "remote", "lamp", "motor", "heater", "fridge",
    "load", "outlet", "chassis", "reference", "reference-in", "box",
]  # fmt: skip
THICK = 0.5


@record
class Mark:
    """A letter or sign that stays upright."""

    sign: str
    """ "dc", "ac", or the letter itself."""
    x_mm: float
    """Middle from the axis."""
    y_mm: float
    """Middle from the terminal."""
    size_mm: float = 2.8
    """Size of a letter."""


@record
class Symbol:
    """One symbol."""

    height_mm: float
    """From its terminal to its far end."""
    left_mm: float
    """Reach to the left of its axis."""
    right_mm: float
    """Reach to the right of its axis."""
    paths: tuple[Path, ...] = ()
    """Lines."""
    circles: tuple[Circle, ...] = ()
    """Circles."""
    marks: tuple[Mark, ...] = ()
    """Letters and signs."""
    body_mm: tuple[float, float] = (0.0, 0.0)
    """Where the line of a circuit stops and goes on again, of a device that stands in it."""


def _line(*points: Point, width_mm: float = 0.25, dash: Literal["", "dashed"] = "") -> Path:
    return Path(points_mm=points, width_mm=width_mm, dash=dash)


def _shape(*points: Point, is_filled: bool = False) -> Path:
    return Path(points_mm=points, is_closed=True, is_filled=is_filled)


def _rectangle(half_mm: float, top_mm: float, bottom_mm: float, *, is_filled: bool = False) -> Path:
    corners = ((-half_mm, top_mm), (half_mm, top_mm), (half_mm, bottom_mm), (-half_mm, bottom_mm))
    return _shape(*corners, is_filled=is_filled)


def _arc(y_mm: float, radius_mm: float, *, opens: Literal["up", "down"]) -> Path:
    """Return a half circle about (0, y)."""
    sign = 1.0 if opens == "up" else -1.0
    steps = [math.pi * i / 12 for i in range(13)]
    return Path(
        points_mm=tuple((radius_mm * math.cos(a), y_mm + sign * radius_mm * math.sin(a)) for a in steps)
    )


def _contact(top_mm: float, pivot_mm: float, height_mm: float) -> tuple[Path, ...]:
    """Return a make contact: fixed side above, blade hinged below."""
    return (
        _line((0, 0), (0, top_mm)),
        _line((-2.1, top_mm + 0.5), (0, pivot_mm), (0, height_mm)),
    )


def _cross(y_mm: float, half_mm: float) -> tuple[Path, ...]:
    return (
        _line((-half_mm, y_mm - half_mm), (half_mm, y_mm + half_mm)),
        _line((-half_mm, y_mm + half_mm), (half_mm, y_mm - half_mm)),
    )


def _converter(near: str, far: str) -> Symbol:
    return Symbol(
        height_mm=11,
        left_mm=5,
        right_mm=5,
        paths=(_rectangle(5, 0.5, 10.5), _line((-5, 10.5), (5, 0.5)), _line((0, 0), (0, 0.5)), _line((0, 10.5), (0, 11))),
        marks=(Mark(sign=near, x_mm=-2.3, y_mm=3.3), Mark(sign=far, x_mm=2.3, y_mm=7.7)),
    )  # fmt: skip


def _cells(x_mm: float, top_mm: float) -> tuple[Path, ...]:
    """Return a battery of cells, its positive plate nearest to the terminal."""
    long, short = 2.6, 1.3
    rows = (
        (top_mm, long, 0.25),
        (top_mm + 1.1, short, 0.6),
        (top_mm + 3.5, long, 0.25),
        (top_mm + 4.6, short, 0.6),
    )
    plates = (_line((x_mm - half, y), (x_mm + half, y), width_mm=width) for y, half, width in rows)
    return (*plates, _line((x_mm, top_mm + 1.4), (x_mm, top_mm + 3.4), dash="dashed"))  # fmt: skip


def _round(letter: str) -> Symbol:
    return Symbol(
        height_mm=8,
        left_mm=3.4,
        right_mm=3.4,
        paths=(_line((0, 0), (0, 1.4)),),
        circles=(Circle(x_mm=0, y_mm=4.7, radius_mm=3.3),),
        marks=(Mark(sign=letter, x_mm=0, y_mm=4.7, size_mm=3.2),) if letter else (),
    )


def _boxed(*paths: Path, sign: str = "") -> Symbol:
    return Symbol(
        height_mm=8,
        left_mm=3.4,
        right_mm=3.4,
        paths=(_line((0, 0), (0, 1.6)), _rectangle(3.3, 1.6, 8), *paths),
        marks=(Mark(sign=sign, x_mm=0, y_mm=4.8),) if sign else (),
    )


def _star(y_mm: float) -> tuple[Path, ...]:
    rays = (math.pi / 6 + math.pi / 3 * i for i in range(3))
    return tuple(
        _line((2 * math.cos(a), y_mm - 2 * math.sin(a)), (-2 * math.cos(a), y_mm + 2 * math.sin(a)))
        for a in rays
    )


def _ray(x_mm: float, y_mm: float) -> tuple[Path, ...]:
    """Return an arrow of light that falls from the upper left."""
    tip = (x_mm + 1.5, y_mm + 1.5)
    head = _shape(tip, (tip[0] - 0.9, tip[1] - 0.35), (tip[0] - 0.35, tip[1] - 0.9), is_filled=True)
    return (_line((x_mm, y_mm), tip), head)


SYMBOLS: dict[SymbolName, Symbol] = {
    "battery": Symbol(
        height_mm=7.2, left_mm=2.7, right_mm=4.6, paths=(_line((0, 0), (0, 1.8)), *_cells(0, 1.8)),
        marks=(Mark(sign="+", x_mm=3.6, y_mm=1.0, size_mm=2.6),),
    ),
    "vehicle": Symbol(
        height_mm=9.2, left_mm=7.2, right_mm=7.8,
        paths=(_line((0, 0), (0, 1.2)), _line((-4.4, 2.6), (-4.4, 1.2), (4.4, 1.2), (4.4, 2.6)), *_cells(-4.4, 2.6)),
        circles=(Circle(x_mm=4.4, y_mm=5.9, radius_mm=3.3),),
        marks=(Mark(sign="G", x_mm=4.4, y_mm=5.0), Mark(sign="ac", x_mm=4.4, y_mm=7.4)),
    ),
    "generator": Symbol(
        height_mm=8, left_mm=3.4, right_mm=3.4, paths=(_line((0, 0), (0, 1.4)),), circles=(Circle(x_mm=0, y_mm=4.7, radius_mm=3.3),),
        marks=(Mark(sign="G", x_mm=0, y_mm=3.8), Mark(sign="ac", x_mm=0, y_mm=6.3)),
    ),
    "supply": _round("ac"),
    "inlet": Symbol(
        height_mm=6.4, left_mm=2.2, right_mm=2.2,
        paths=(_line((0, 0), (0, 1.6)), _rectangle(0.6, 1.6, 4.4, is_filled=True), _arc(4.0, 2.0, opens="up")),
    ),
    "panel": Symbol(
        height_mm=9, left_mm=5.5, right_mm=5.5,
        paths=(
            _rectangle(5.4, 1.2, 9), _line((0, 0), (0, 3.8)), _line((-1.8, 3.8), (1.8, 3.8)), _line((-0.9, 5.0), (0.9, 5.0), width_mm=0.6),
            _line((0, 5.0), (0, 7.6)), *_ray(-4.8, 2.6), *_ray(-4.8, 5.0),
        ),
    ),
    "dc-dc": _converter("dc", "dc"),
    "ac-dc": _converter("dc", "ac"),
    "fuse": Symbol(
        height_mm=7, left_mm=1.4, right_mm=1.4, paths=(_rectangle(1.2, 1.0, 6.0), _line((0, 0), (0, 7))), body_mm=(1.0, 6.0),
    ),
    "breaker": Symbol(
        height_mm=7.4, left_mm=2.4, right_mm=1.2, paths=(*_contact(1.8, 6.0, 7.4), *_cross(1.8, 0.8)), body_mm=(1.8, 6.0),
    ),
    "isolator": Symbol(
        height_mm=7.4, left_mm=2.4, right_mm=1.2, paths=(*_contact(1.8, 6.0, 7.4), _line((-0.9, 1.8), (0.9, 1.8))),
        circles=(Circle(x_mm=0, y_mm=2.25, radius_mm=0.45),), body_mm=(1.8, 6.0),
    ),
    "plug": Symbol(
        height_mm=6, left_mm=1.6, right_mm=1.6,
        paths=(_line((0, 0), (0, 1.0)), _rectangle(0.5, 1.0, 3.4, is_filled=True), _arc(3.2, 1.4, opens="up"), _line((0, 4.6), (0, 6))), body_mm=(1.0, 4.6),
    ),
    "relay": Symbol(
        height_mm=10, left_mm=7, right_mm=1.4,
        paths=(
            *_contact(2.4, 7.0, 10), _shape((-6.9, 3.2), (-4.1, 3.2), (-4.1, 7.0), (-6.9, 7.0)),
            _line((-4.1, 5.0), (-1.0, 5.0), dash="dashed"),
        ),
    ),
    "shunt": Symbol(
        height_mm=9, left_mm=3.4, right_mm=1.5,
        paths=(
            _line((0, 0), (0, 1.6)), _rectangle(1.3, 1.6, 7.4), _line((0, 7.4), (0, 9)), _line((-1.3, 2.8), (-3.0, 2.8)), _line((-1.3, 6.2), (-3.0, 6.2)),
        ),
        circles=(Circle(x_mm=-3.2, y_mm=2.8, radius_mm=0.25), Circle(x_mm=-3.2, y_mm=6.2, radius_mm=0.25)),
    ),
    "sensor": _boxed(sign="θ"),
    "buttons": _boxed(_line((-1.3, 3.6), (1.3, 3.6)), _line((0, 3.6), (0, 5.4)), _line((-1.7, 5.4), (-0.6, 5.4)), _line((0.6, 5.4), (1.7, 5.4))),
    "remote": _boxed(_line((0, 7.2), (0, 3.0)), _line((-1.4, 3.0), (0, 4.6), (1.4, 3.0))),
    "lamp": Symbol(
        height_mm=8, left_mm=3.4, right_mm=3.4, paths=(_line((0, 0), (0, 1.4)), *_cross(4.7, 2.33)),
        circles=(Circle(x_mm=0, y_mm=4.7, radius_mm=3.3),),
    ),
    "motor": _round("M"),
    "heater": _boxed(*(_line((-3.3, y), (3.3, y)) for y in (3.2, 4.8, 6.4))),
    "fridge": _boxed(*_star(4.8)),
    "load": _boxed(_shape((0, 5.6), (-1.1, 3.4), (1.1, 3.4), is_filled=True), _line((0, 1.6), (0, 3.4))),
    "outlet": Symbol(
        height_mm=5.4, left_mm=3.1, right_mm=3.1,
        paths=(_line((0, 0), (0, 2.0)), _arc(5.0, 3.0, opens="down"), _line((-3.0, 2.0), (3.0, 2.0))),
    ),
    "chassis": Symbol(
        height_mm=4.2, left_mm=2.6, right_mm=2.1,
        paths=(
            _line((0, 0), (0, 2.4)), _line((-2.0, 2.4), (2.0, 2.4), width_mm=THICK), _line((-2.0, 2.4), (-2.6, 4.0)), _line((0, 2.4), (-0.6, 4.0)),
            _line((2.0, 2.4), (1.4, 4.0)),
        ),
    ),
    "reference": Symbol(
        height_mm=4.2, left_mm=1.2, right_mm=1.2, paths=(_line((0, 0), (0, 1.8)), _shape((0, 4.2), (-1.1, 1.8), (1.1, 1.8), is_filled=True)),
    ),
    "reference-in": Symbol(
        height_mm=4.2, left_mm=1.2, right_mm=1.2, paths=(_line((0, 0), (0, 1.8)), _shape((0, 1.2), (-1.1, 3.6), (1.1, 3.6), is_filled=True)),
    ),
    "box": _boxed(),
}  # fmt: skip
