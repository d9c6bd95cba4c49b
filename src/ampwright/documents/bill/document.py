"""Bill of materials and quote as PDF and as a workbook."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.documents.bill.lines import bill_of
from ampwright.documents.bill.model import bill_page
from ampwright.documents.bill.offers import offers
from ampwright.documents.bill.tables import bill_tables
from ampwright.documents.book.workbook import workbook_bytes
from ampwright.documents.pack.records import Material, PackFile
from ampwright.documents.sheet.sheet import sheet_of, sheet_pdf
from ampwright.documents.words.words import noted

__all__ = ["bill"]

TITLE = noted("Bill of materials and quote")


def bill(material: Material) -> Iterator[PackFile]:
    """Make both files."""
    sheet = sheet_of(material, TITLE)
    found = bill_of(material.design, material.words)
    offered = tuple(offers(material, found))
    page = bill_page(material, found, offered)
    yield PackFile(name="bill.pdf", content=sheet_pdf("bill/bill.typ", sheet, page))
    tables = bill_tables(material, found, offered, notes=page.notes, sheet=sheet)
    yield PackFile(name="bill.xlsx", content=workbook_bytes(tables, sheet))
