"""Cable schedule, terminal plan and cutting list as PDF and as a workbook."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.documents.book.workbook import workbook_bytes
from ampwright.documents.pack.records import Material, PackFile
from ampwright.documents.schedule.model import schedule_model
from ampwright.documents.schedule.tables import schedule_tables
from ampwright.documents.sheet.sheet import sheet_of, sheet_pdf
from ampwright.documents.words.words import noted

__all__ = ["cable_schedule"]

TITLE = noted("Cable schedule, terminal plan and cutting list")


def cable_schedule(material: Material) -> Iterator[PackFile]:
    """Make both files."""
    sheet = sheet_of(material, TITLE)
    model = schedule_model(material)
    yield PackFile(name="cable-schedule.pdf", content=sheet_pdf("schedule/schedule.typ", sheet, model))
    book = workbook_bytes(schedule_tables(material, model, sheet), sheet)
    yield PackFile(name="cable-schedule.xlsx", content=book)
