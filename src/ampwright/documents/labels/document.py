"""The label sheet as PDF, printed at its own size."""

from __future__ import annotations

import io
from collections.abc import Iterator

from ampwright.documents.labels.model import code_text, label_sheet
from ampwright.documents.pack.records import Material, PackFile
from ampwright.documents.sheet.sheet import sheet_of, sheet_pdf
from ampwright.documents.words.words import noted

__all__ = ["labels"]

TITLE = noted("Labels, printed at their own size")


def labels(material: Material) -> Iterator[PackFile]:
    """Make the sheet."""
    pdf = sheet_pdf(
        "labels/labels.typ",
        sheet_of(material, TITLE),
        label_sheet(material),
        code=_code_svg(code_text(material)),
    )
    yield PackFile(name="labels.pdf", content=pdf)


def _code_svg(text: str) -> str:
    """Return a QR code (ISO/IEC 18004) with its quiet zone of four modules."""
    import segno  # noqa: PLC0415 - only labels need it

    made = io.BytesIO()
    segno.make_qr(text, error="m").save(made, kind="svg", border=4, xmldecl=False, omitsize=True)
    return made.getvalue().decode()
