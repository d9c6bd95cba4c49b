"""Report model -> PDF bytes. The template gets the model as data, so no text of a job is ever run as markup."""

from __future__ import annotations

import dataclasses

from ampwright.documents.chart_svg import chart_svg
from ampwright.documents.report_model import report_model
from ampwright.documents.report_records import ReportModel
from ampwright.documents.typst_pdf import as_data, typst_pdf
from ampwright.sizing.result import Answer

__all__ = ["pdf_bytes", "report_pdf"]


def report_pdf(answer: Answer) -> bytes:
    """Return the report of an answer as a tagged PDF; the same answer gives the same bytes."""
    return pdf_bytes(report_model(answer))


def pdf_bytes(model: ReportModel) -> bytes:
    """Return a report model as a tagged PDF (PDF/UA-1)."""
    page = dataclasses.asdict(dataclasses.replace(model, chart=None))
    page["chart_text"] = model.chart.description if model.chart else ""
    picture = chart_svg(model.chart) if model.chart else ""
    return typst_pdf("report.typ", {"report": as_data(page), "chart": picture}, date=model.date)
