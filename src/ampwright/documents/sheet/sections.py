"""A document of sections: headings, paragraphs, cautions, numbered steps and tables to fill in, as one page model.

Most papers of the bench are made of nothing else; what is special to one of them is what it says.
"""

from __future__ import annotations

from ampwright.documents.sheet.sheet import Sheet, sheet_pdf
from ampwright.records import record

__all__ = ["BLANK", "TICK", "Section", "Sections", "Table", "sections_pdf"]

BLANK = "____"
"""Cell that is a line to write on."""
TICK = "[ ]"
"""Cell that is a box to tick."""


@record
class Table:
    """A table; a cell that is BLANK or TICK is to be filled in by hand."""

    heads: tuple[str, ...]
    """Heading of each column."""
    width_factor: tuple[float, ...]
    """Share of the sheet's width each column gets; negative = that many millimetres."""
    rows: tuple[tuple[str, ...], ...]
    """Cells of each row."""


@record
class Section:
    """One heading with what stands below it, in the order of the fields."""

    title: str
    """Heading; empty = goes on without one."""
    text: tuple[str, ...] = ()
    """Paragraphs."""
    cautions: tuple[str, ...] = ()
    """Hazards, each marked."""
    steps: tuple[str, ...] = ()
    """Numbered steps."""
    table: Table | None = None
    """A table."""
    notes: tuple[str, ...] = ()
    """Bullets."""
    fields: tuple[str, ...] = ()
    """Words each followed by a line to write on."""
    starts_page: bool = False
    """True when it starts on a new page."""


@record
class Sections:
    """Everything such a document prints."""

    lead: str
    """Line below the title: vehicle, customer."""
    is_flipped: bool = False
    """True when the sheet lies on its side."""
    sections: tuple[Section, ...]
    """In order."""
    end: str
    """What the document does not decide; empty where a section says it."""


def sections_pdf(sheet: Sheet, body: Sections) -> bytes:
    """Return a tagged PDF of a document of sections."""
    return sheet_pdf("sheet/sections.typ", sheet, body)
