"""The spares list as PDF."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.documents.pack.records import Material, PackFile
from ampwright.documents.sheet.sheet import sheet_of, sheet_pdf
from ampwright.documents.spares.spares import spares_list
from ampwright.documents.words.words import noted

__all__ = ["spares"]

TITLE = noted("Spares to carry")


def spares(material: Material) -> Iterator[PackFile]:
    """Make the list."""
    pdf = sheet_pdf("spares/spares.typ", sheet_of(material, TITLE), spares_list(material))
    yield PackFile(name="spares.pdf", content=pdf)
