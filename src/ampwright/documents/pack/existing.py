"""Documents that also have a command of their own, as files of the pack."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.documents.curve_sheets import curves_pdf
from ampwright.documents.pack.records import Material, PackFile
from ampwright.documents.report_pdf import report_pdf
from ampwright.documents.settings_pdf import settings_pdf

__all__ = ["curves", "report", "settings"]


def report(material: Material) -> Iterator[PackFile]:
    """Make the report."""
    yield PackFile(name="report.pdf", content=report_pdf(material.answer, material.words))


def curves(material: Material) -> Iterator[PackFile]:
    """Make the time-current charts."""
    yield PackFile(name="curves.pdf", content=curves_pdf(material.found, material.words))


def settings(material: Material) -> Iterator[PackFile]:
    """Make the settings sheet."""
    yield PackFile(name="settings.pdf", content=settings_pdf(material.found, material.words))
