"""Templates for drilling and cutting at full size, as PDF to print and as DXF for a machine."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.documents.dxf_file import dxf_bytes, new_dxf
from ampwright.documents.pack.records import Material, PackFile
from ampwright.documents.sheet.sheet import sheet_of, sheet_pdf
from ampwright.documents.template.drawing import PlateDrawing, front_drawings, layouts, plate_drawing
from ampwright.documents.template.tiles import OVERLAP_MM, Tile, seams_mm, tiles_of, whole_tile
from ampwright.documents.words.words import Words, noted
from ampwright.job.design import Design
from ampwright.records import record

__all__ = ["TemplateSheets", "drawings_of", "no_templates", "template_sheets", "templates"]

TITLE = noted("Templates at full size")
NOTHING = noted("the job has no plate ([[plate]]) and no part with an opening")
LAYERS = {"PLATE": 7, "PART": 8, "CUT": 1, "DRILL": 5, "TEXT": 3}
CROSS_MM = 3.0
"""Arm of the mark at a middle."""
BAR_MM = 100.0
BAR_INCH_MM = 101.6


@record
class HoleRow:
    """One line of the table of holes."""

    number: str
    """Number on the drawing, or that it is an opening."""
    part: str
    """Part it is for."""
    x: str
    """From the left edge."""
    y: str
    """From the lower edge."""
    size: str
    """Diameter, or width and height."""


@record
class DrawingSheets:
    """One plate: its table and its sheets."""

    heading: str
    """Name and size."""
    notes: tuple[str, ...]
    """What is proposed, not drilled, not drawn."""
    rows: tuple[HoleRow, ...]
    """Holes and openings."""
    overview: Tile
    """The whole drawing on one sheet, to be printed smaller."""
    seams_x_mm: tuple[float, ...]
    """Where sheets end, from the left."""
    seams_y_mm: tuple[float, ...]
    """Where sheets end, from above."""
    tiles: tuple[Tile, ...]
    """Sheets at full size."""
    tile_words: tuple[str, ...]
    """Which part of the drawing each sheet shows."""


@record
class CheckBar:
    """A bar to measure."""

    length_mm: float
    """Length."""
    text: str
    """What it must measure."""


@record
class TemplateSheets:
    """Everything the templates print."""

    how: str
    """How to print and use them."""
    bars: tuple[CheckBar, ...]
    """On every sheet."""
    heads: tuple[str, ...]
    """Heads of the table of holes."""
    drawings: tuple[DrawingSheets, ...]
    """Plates, then single openings."""


def drawings_of(design: Design) -> tuple[PlateDrawing, ...]:
    """Return the drawing of every plate, and of every opening that is on none."""
    return (*(plate_drawing(layout) for layout in layouts(design)), *front_drawings(design))


def no_templates(material: Material) -> str:
    """Say why there are none; empty = there are some."""
    return "" if drawings_of(material.design) else NOTHING


def template_sheets(material: Material) -> TemplateSheets:
    """Return what the templates print."""
    words, design = material.words, material.design
    bars = [
        CheckBar(
            length_mm=BAR_MM,
            text=words("100 mm: measure this bar before you drill. Print at 100 %, not fitted to the page."),
        )
    ]
    if material.about.units == "us":
        bars.append(CheckBar(length_mm=BAR_INCH_MM, text=words("4 in")))
    return TemplateSheets(
        how=words(
            "Seen from the front. Glue sheets together over the strip of {overlap} mm that neighbours share, tape the template "
            "on, punch every cross, then drill. The part in hand goes before this drawing: hold it against the template first. "
            "Look behind the plate before drilling: no cable, pipe, tank or battery may be there.",
            overlap=f"{OVERLAP_MM:g}",
        ),
        bars=tuple(bars),
        heads=(words("no."), words("part"), words("from the left"), words("from below"), words("size")),
        drawings=tuple(_sheets(drawing, material) for drawing in drawings_of(design)),
    )


def _sheets(drawing: PlateDrawing, material: Material) -> DrawingSheets:
    words = material.words
    sort = words("board") if drawing.is_board else words("front")
    tiles = tiles_of(drawing, material.design.region.paper)
    return DrawingSheets(
        heading=f"{drawing.id}, {sort}: {_size(drawing.width_mm, words)} × {_size(drawing.height_mm, words)}",
        notes=tuple(_notes(drawing, words)),
        rows=tuple(_rows(drawing, words)),
        overview=whole_tile(drawing),
        seams_x_mm=seams_mm(tiles, "column"),
        seams_y_mm=seams_mm(tiles, "row"),
        tiles=tiles,
        tile_words=tuple(
            words("{plate}, whole", plate=drawing.id)
            if len(tiles) == 1
            else words(
                "{plate}, column {column} of {columns}, row {row} of {rows} from above",
                plate=drawing.id,
                column=tile.column,
                columns=tile.column_count,
                row=tile.row,
                rows=tile.row_count,
            )
            for tile in tiles
        ),
    )


def _notes(drawing: PlateDrawing, words: Words) -> Iterator[str]:
    if drawing.proposed:
        yield words("Places proposed by the program: {parts}.", parts=", ".join(drawing.proposed))
    if drawing.undrilled:
        yield words(
            "Holes are not stated for {parts}: mark them from the part itself.",
            parts=", ".join(drawing.undrilled),
        )
    if drawing.missing:
        yield words("Not drawn, for want of a size or a place: {parts}.", parts=", ".join(drawing.missing))


def _rows(drawing: PlateDrawing, words: Words) -> Iterator[HoleRow]:
    """Yield the openings, then the holes by number."""
    cuts = [each for each in drawing.rectangles if each.layer == "cut"]
    for cut in cuts:
        size = f"{_size(cut.width_mm, words)} × {_size(cut.height_mm, words)}"
        middle = (cut.x_mm + 0.5 * cut.width_mm, cut.y_mm + 0.5 * cut.height_mm)
        yield _row(cut.part, middle, size, words)
    for circle in sorted(drawing.circles, key=lambda each: each.number):
        size = f"Ø {_size(circle.diameter_mm, words)}"
        yield _row(circle.part, (circle.x_mm, circle.y_mm), size, words, number=circle.number)


def _row(part: str, middle: tuple[float, float], size: str, words: Words, *, number: int = 0) -> HoleRow:
    return HoleRow(
        number=str(number) if number else words("opening"),
        part=part,
        x=_size(middle[0], words),
        y=_size(middle[1], words),
        size=size,
    )


def _size(value_mm: float, words: Words) -> str:
    return words.decimal(f"{round(value_mm, 1):g}") + "\u00a0mm"


def templates(material: Material) -> Iterator[PackFile]:
    """Make the templates: one PDF, and a DXF for each drawing."""
    pdf = sheet_pdf("template/templates.typ", sheet_of(material, TITLE), template_sheets(material))
    yield PackFile(name="templates.pdf", content=pdf)
    for drawing in drawings_of(material.design):
        yield PackFile(name=f"templates-{drawing.id}.dxf", content=template_dxf(drawing))


def template_dxf(drawing: PlateDrawing) -> bytes:
    """Return a drawing as DXF in millimetres, layers PLATE, PART, CUT, DRILL and TEXT."""
    from ezdxf.enums import TextEntityAlignment  # noqa: PLC0415 - heavy, and only drawings need it

    dxf = new_dxf(LAYERS)
    space = dxf.modelspace()
    for each in drawing.rectangles:
        x0, y0, x1, y1 = each.x_mm, each.y_mm, each.x_mm + each.width_mm, each.y_mm + each.height_mm
        r = each.corner_mm
        points = (
            _rounded((x0, y0, x1, y1), r)
            if r
            else [(x0, y0, 0.0), (x1, y0, 0.0), (x1, y1, 0.0), (x0, y1, 0.0)]
        )
        space.add_lwpolyline(points, format="xyb", close=True, dxfattribs={"layer": each.layer.upper()})
    for circle in drawing.circles:
        middle = (circle.x_mm, circle.y_mm)
        space.add_circle(middle, 0.5 * circle.diameter_mm, dxfattribs={"layer": circle.layer.upper()})
        for dx, dy in ((CROSS_MM, 0.0), (0.0, CROSS_MM)):
            start, end = (middle[0] - dx, middle[1] - dy), (middle[0] + dx, middle[1] + dy)
            space.add_line(start, end, dxfattribs={"layer": "TEXT"})
    for note in drawing.notes:
        text = space.add_text(note.text, height=note.height_mm, dxfattribs={"layer": "TEXT"})
        text.set_placement((note.x_mm, note.y_mm), align=TextEntityAlignment.CENTER)
    return dxf_bytes(dxf)


def _rounded(box: tuple[float, float, float, float], r: float) -> list[tuple[float, float, float]]:
    """Return the outline with its corners as arcs; the third figure is the bulge, tan of a quarter of 90 degrees."""
    x0, y0, x1, y1 = box
    bulge = 0.41421356237309503
    return [
        (x0 + r, y0, 0.0), (x1 - r, y0, bulge), (x1, y0 + r, 0.0), (x1, y1 - r, bulge),
        (x1 - r, y1, 0.0), (x0 + r, y1, bulge), (x0, y1 - r, 0.0), (x0, y0 + r, bulge),
    ]  # fmt: skip
