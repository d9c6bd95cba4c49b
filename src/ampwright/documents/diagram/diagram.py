"""The single-line diagram as files of the pack: SVG, PDF and DXF of one geometry."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.documents.diagram.compose import TITLE, drawing_of
from ampwright.documents.diagram.dxf import drawing_dxf
from ampwright.documents.diagram.records import Drawing
from ampwright.documents.diagram.svg import sheet_svg
from ampwright.documents.pack.records import Material, PackFile
from ampwright.documents.sheet.sheet import sheet_of, sheet_pdf
from ampwright.records import record

__all__ = ["diagram", "diagram_pdf"]


@record
class SheetPicture:
    """One sheet as the PDF's template reads it."""

    picture: str
    """Name of its picture."""
    width_mm: float
    """Width."""
    height_mm: float
    """Height."""
    alt: str
    """Every circuit in words."""


@record
class DiagramPages:
    """Page model of the PDF."""

    paper: str
    """Sheet on its side."""
    sheets: tuple[SheetPicture, ...]
    """Sheets."""


def diagram(material: Material) -> Iterator[PackFile]:
    """Make the diagram."""
    drawing = drawing_of(material)
    pictures = [sheet_svg(sheet) for sheet in drawing.sheets]
    for number, picture in enumerate(pictures, 1):
        name = "diagram.svg" if len(pictures) == 1 else f"diagram-{number}.svg"
        yield PackFile(name=name, content=picture.encode())
    yield PackFile(name="diagram.pdf", content=diagram_pdf(material, drawing, pictures))
    yield PackFile(name="diagram.dxf", content=drawing_dxf(drawing))


def diagram_pdf(material: Material, drawing: Drawing, pictures: list[str]) -> bytes:
    """Return the sheets as one PDF, each with every circuit in words behind it."""
    sheets = tuple(
        SheetPicture(
            picture=f"picture-{sheet.number}",
            width_mm=sheet.size.width_mm,
            height_mm=sheet.size.height_mm,
            alt=f"{sheet.title}. {sheet.description}",
        )
        for sheet in drawing.sheets
    )
    named = {sheet.picture: picture for sheet, picture in zip(sheets, pictures, strict=True)}
    pages = DiagramPages(paper=drawing.paper, sheets=sheets)
    return sheet_pdf("diagram/diagram.typ", sheet_of(material, TITLE), pages, **named)
