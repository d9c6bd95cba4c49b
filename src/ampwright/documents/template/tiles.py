"""Drawing at full size -> the sheets it is printed on, with an overlap for gluing."""

from __future__ import annotations

import math
from typing import Literal

from ampwright.documents.report_records import Paper
from ampwright.documents.template.drawing import LETTER_MM, Circle, Note, PlateDrawing, Rectangle
from ampwright.records import record

__all__ = ["OVERLAP_MM", "Tile", "seams_mm", "tiles_of", "whole_tile"]

OVERLAP_MM = 10.0
"""Strip that two neighbouring sheets share; own choice."""
WINDOW_MM: dict[Paper, tuple[float, float]] = {"a4": (180.0, 205.0), "us-letter": (185.0, 187.0)}
"""Room for the drawing on an upright sheet; own choice, below head, check bar and foot."""
FLIPPED_MM: dict[Paper, tuple[float, float]] = {"a4": (267.0, 118.0), "us-letter": (249.0, 124.0)}
"""The same on a sheet lying on its side."""


@record
class Tile:
    """What one sheet shows: everything in page millimetres from the window's upper left corner, downwards."""

    column: int
    """Column, from 1."""
    row: int
    """Row from the top, from 1."""
    column_count: int
    """Columns in all."""
    row_count: int
    """Rows in all."""
    width_mm: float
    """Width of the window."""
    height_mm: float
    """Height of the window."""
    rectangles: tuple[Rectangle, ...]
    """x and y are those of the upper left corner."""
    circles: tuple[Circle, ...]
    """Circles whose middle the sheet shows, or that reach into it."""
    notes: tuple[Note, ...]
    """Names that the sheet shows whole."""
    is_flipped: bool
    """True when the sheet lies on its side."""


def tiles_of(drawing: PlateDrawing, paper: Paper) -> tuple[Tile, ...]:
    """Return the sheets of a drawing, fewest first tried upright."""
    upright = _count(drawing, WINDOW_MM[paper])
    flipped = _count(drawing, FLIPPED_MM[paper])
    is_flipped = math.prod(flipped) < math.prod(upright)
    window = FLIPPED_MM[paper] if is_flipped else WINDOW_MM[paper]
    columns, rows = flipped if is_flipped else upright
    return tuple(
        _tile(drawing, window, (column, row), (columns, rows), is_flipped=is_flipped)
        for row in range(1, rows + 1)
        for column in range(1, columns + 1)
    )


def whole_tile(drawing: PlateDrawing) -> Tile:
    """Return the whole drawing as one sheet, however large."""
    return _tile(drawing, (drawing.width_mm, drawing.height_mm), (1, 1), (1, 1), is_flipped=False)


def seams_mm(tiles: tuple[Tile, ...], along: Literal["column", "row"]) -> tuple[float, ...]:
    """Return where the sheets of the first row or column end, from the left or from above; the last is left out."""
    row = [tile for tile in tiles if (tile.row if along == "column" else tile.column) == 1]
    sizes = [tile.width_mm if along == "column" else tile.height_mm for tile in row]
    return tuple(position * (sizes[0] - OVERLAP_MM) + 0.5 * OVERLAP_MM for position in range(1, len(sizes)))


def _count(drawing: PlateDrawing, window: tuple[float, float]) -> tuple[int, int]:
    def needed(size_mm: float, room_mm: float) -> int:
        return 1 if size_mm <= room_mm else 1 + math.ceil((size_mm - room_mm) / (room_mm - OVERLAP_MM))

    return needed(drawing.width_mm, window[0]), needed(drawing.height_mm, window[1])


def _tile(
    drawing: PlateDrawing,
    window: tuple[float, float],
    at: tuple[int, int],
    count: tuple[int, int],
    *,
    is_flipped: bool,
) -> Tile:
    left = (at[0] - 1) * (window[0] - OVERLAP_MM)
    top = drawing.height_mm - (at[1] - 1) * (window[1] - OVERLAP_MM)
    width = min(window[0], drawing.width_mm - left)
    height = min(window[1], top)
    return Tile(
        column=at[0],
        row=at[1],
        column_count=count[0],
        row_count=count[1],
        width_mm=width,
        height_mm=height,
        rectangles=tuple(
            Rectangle(
                layer=each.layer,
                x_mm=each.x_mm - left,
                y_mm=top - each.y_mm - each.height_mm,
                width_mm=each.width_mm,
                height_mm=each.height_mm,
                corner_mm=each.corner_mm,
                part=each.part,
            )
            for each in drawing.rectangles
            if each.x_mm < left + width
            and each.x_mm + each.width_mm > left
            and each.y_mm < top
            and each.y_mm + each.height_mm > top - height
        ),
        circles=tuple(
            Circle(
                layer=each.layer,
                x_mm=each.x_mm - left,
                y_mm=top - each.y_mm,
                diameter_mm=each.diameter_mm,
                number=each.number if _is_inside(each.x_mm - left, top - each.y_mm, (width, height)) else 0,
                part=each.part,
            )
            for each in drawing.circles
            if _reaches(each, left=left, top=top, size=(width, height))
        ),
        notes=tuple(
            Note(x_mm=each.x_mm - left, y_mm=top - each.y_mm, height_mm=each.height_mm, text=each.text)
            for each in drawing.notes
            if _is_whole(each, left=left, top=top, size=(width, height))
        ),
        is_flipped=is_flipped,
    )


def _is_inside(x_mm: float, y_mm: float, size: tuple[float, float]) -> bool:
    return 0.0 <= x_mm <= size[0] - 4.0 and 3.0 <= y_mm <= size[1]


def _reaches(circle: Circle, *, left: float, top: float, size: tuple[float, float]) -> bool:
    radius = 0.5 * circle.diameter_mm
    x_mm, y_mm = circle.x_mm - left, top - circle.y_mm
    return -radius < x_mm < size[0] + radius and -radius < y_mm < size[1] + radius


def _is_whole(note: Note, *, left: float, top: float, size: tuple[float, float]) -> bool:
    half = 0.5 * len(note.text) * LETTER_MM * note.height_mm
    x_mm, y_mm = note.x_mm - left, top - note.y_mm
    return half <= x_mm <= size[0] - half and note.height_mm <= y_mm <= size[1]
