"""Plate -> drawing at full size: outlines, openings, holes and names in millimetres, lower left corner the origin."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from typing import Literal

from ampwright.assessment.plate_layout import PlateItem, PlateLayout, plate_layout
from ampwright.job.design import Design, DesignPart
from ampwright.parts.face import face_size_mm
from ampwright.parts.hardware import Inlet, Outlet
from ampwright.parts.switchgear import ButtonPanel
from ampwright.records import record

__all__ = [
    "LETTER_MM",
    "Circle",
    "Layer",
    "Note",
    "PlateDrawing",
    "Rectangle",
    "front_drawings",
    "plate_drawing",
]

Layer = Literal["plate", "part", "cut", "drill"]
LETTER_MM = 0.62
"""Width of a letter of height 1, at most; own choice for the bundled face."""
NAME_MM = 3.4
"""Height of names."""


@record
class Rectangle:
    """A rectangle on a layer."""

    layer: Layer
    """Layer."""
    x_mm: float
    """Left edge."""
    y_mm: float
    """Lower edge."""
    width_mm: float
    """Width."""
    height_mm: float
    """Height."""
    corner_mm: float = 0.0
    """Radius of its corners."""
    part: str = ""
    """Part it is for."""


@record
class Circle:
    """A circle on a layer, its middle marked."""

    layer: Layer
    """Layer."""
    x_mm: float
    """Middle."""
    y_mm: float
    """Middle."""
    diameter_mm: float
    """Diameter."""
    number: int = 0
    """Number in the table of holes; 0 = none."""
    part: str = ""
    """Part it is for."""


@record
class Note:
    """Words, centred."""

    x_mm: float
    """Middle."""
    y_mm: float
    """Base line."""
    height_mm: float
    """Height of the letters."""
    text: str
    """The words."""


@record
class PlateDrawing:
    """One plate or front at full size."""

    id: str
    """Its name."""
    is_board: bool
    """True for a board that parts are set onto; False for a front, or an opening by itself."""
    width_mm: float
    """Width."""
    height_mm: float
    """Height."""
    rectangles: tuple[Rectangle, ...]
    """Plate, faces, openings."""
    circles: tuple[Circle, ...]
    """Openings and holes; the holes numbered."""
    notes: tuple[Note, ...]
    """Names of the parts."""
    proposed: tuple[str, ...]
    """Parts whose place is a proposal."""
    undrilled: tuple[str, ...]
    """Parts without stated holes: drilled from the part itself."""
    missing: tuple[str, ...]
    """Parts that are not drawn: no size, or no place."""


def plate_drawing(layout: PlateLayout) -> PlateDrawing:
    """Return the drawing of a plate."""
    plate = layout.plate
    outline = Rectangle(layer="plate", x_mm=0.0, y_mm=0.0, width_mm=plate.width_mm, height_mm=plate.height_mm)
    drawn = _drawing(plate.id, outline, layout.items, (*layout.unsized, *layout.unplaced))
    return dataclasses.replace(drawn, is_board=plate.kind == "gear")


def front_drawings(design: Design) -> Iterator[PlateDrawing]:
    """Yield a drawing for each outlet, inlet and button panel with an opening that is on no plate."""
    on_plates = {on.part for plate in design.job.plate for on in plate.place}
    for placed in design.parts:
        is_front = isinstance(placed.part, ButtonPanel | Inlet | Outlet) and placed.part.cutout is not None
        face = face_size_mm(placed.part)
        if is_front and face is not None and placed.id not in on_plates and not placed.is_inside_module:
            outline = Rectangle(layer="part", x_mm=0.0, y_mm=0.0, width_mm=face[0], height_mm=face[1])
            yield _drawing(placed.id, outline, (_alone(placed, face),), ())


def _alone(placed: DesignPart, face: tuple[float, float]) -> PlateItem:
    return PlateItem(
        placed=placed,
        x_mm=0.0,
        y_mm=0.0,
        width_mm=face[0],
        height_mm=face[1],
        is_turned=False,
        is_proposed=False,
    )


def _drawing(
    name: str, outline: Rectangle, items: tuple[PlateItem, ...], missing: tuple[str, ...]
) -> PlateDrawing:
    rectangles = [outline]
    circles: list[Circle] = []
    for item in items:
        faces, openings = _shapes(item, first_number=1 + sum(each.number > 0 for each in circles))
        rectangles += faces
        circles += openings
    return PlateDrawing(
        id=name,
        is_board=False,
        width_mm=outline.width_mm,
        height_mm=outline.height_mm,
        rectangles=tuple(rectangles),
        circles=tuple(circles),
        notes=tuple(_name(item) for item in items),
        proposed=tuple(item.placed.id for item in items if item.is_proposed),
        undrilled=tuple(item.placed.id for item in items if not item.placed.part.holes),
        missing=missing,
    )


def _shapes(item: PlateItem, *, first_number: int) -> tuple[list[Rectangle], list[Circle]]:
    """Return face and openings of a part on its plate."""
    rectangles = [
        Rectangle(
            layer="part", x_mm=item.x_mm, y_mm=item.y_mm, width_mm=item.width_mm, height_mm=item.height_mm
        )
    ]
    circles: list[Circle] = []
    cut = item.placed.part.cutout
    if cut is not None:
        x_mm, y_mm = _on_plate(item, cut.x_mm, cut.y_mm)
        width, height = (cut.height_mm, cut.width_mm) if item.is_turned else (cut.width_mm, cut.height_mm)
        if cut.shape == "round":
            circles.append(
                Circle(layer="cut", x_mm=x_mm, y_mm=y_mm, diameter_mm=cut.width_mm, part=item.placed.id)
            )
        else:
            rectangles.append(
                Rectangle(
                    layer="cut",
                    x_mm=x_mm - 0.5 * width,
                    y_mm=y_mm - 0.5 * height,
                    width_mm=width,
                    height_mm=height,
                    corner_mm=cut.corner_mm,
                    part=item.placed.id,
                )
            )
    for position, hole in enumerate(item.placed.part.holes):
        x_mm, y_mm = _on_plate(item, hole.x_mm, hole.y_mm)
        circles.append(
            Circle(
                layer="drill",
                x_mm=x_mm,
                y_mm=y_mm,
                diameter_mm=hole.diameter_mm,
                number=first_number + position,
                part=item.placed.id,
            )
        )
    return rectangles, circles


def _on_plate(item: PlateItem, x_mm: float, y_mm: float) -> tuple[float, float]:
    """Return where a point of a part's face lies on the plate; turned by a quarter to the left, right becomes up."""
    if item.is_turned:
        return item.x_mm + item.width_mm - y_mm, item.y_mm + x_mm
    return item.x_mm + x_mm, item.y_mm + y_mm


def _name(item: PlateItem) -> Note:
    """Return the part's name, as large as its face allows, beside the opening's middle so that neither hides the other."""
    fits_mm = item.width_mm / (LETTER_MM * len(item.placed.id) + 1.0)
    height_mm = min(NAME_MM, fits_mm)
    lift_mm = 0.25 * item.height_mm if item.placed.part.cutout is not None else 0.5 * item.height_mm
    return Note(
        x_mm=item.x_mm + 0.5 * item.width_mm,
        y_mm=item.y_mm + lift_mm - 0.35 * height_mm,
        height_mm=height_mm,
        text=item.placed.id,
    )


def layouts(design: Design) -> tuple[PlateLayout, ...]:
    """Return where everything sits on every plate."""
    return tuple(plate_layout(design, plate) for plate in design.job.plate)
