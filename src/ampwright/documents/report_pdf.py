"""Report model -> PDF bytes. The template gets the model as data, so no text of a job is ever run as markup."""

from __future__ import annotations

import dataclasses

from ampwright.documents.chart_svg import chart_svg
from ampwright.documents.curve_sheets import curve_pages, page_data, pictures
from ampwright.documents.report_model import report_model
from ampwright.documents.report_records import ReportModel
from ampwright.documents.typst_pdf import as_data, typst_pdf
from ampwright.documents.words.words import Words, english
from ampwright.sizing.result import Answer

__all__ = ["pdf_bytes", "report_pdf"]


def report_pdf(answer: Answer, words: Words | None = None, *, with_curves: bool = False) -> bytes:
    """Return the report of an answer as a tagged PDF, on request with charts and matrix of its fuses and breakers at the end."""
    words = words or english()
    model = report_model(answer, words)
    if with_curves:
        model = dataclasses.replace(model, appendix=curve_pages(answer.assessment, words))
    return pdf_bytes(model)


def pdf_bytes(model: ReportModel) -> bytes:
    """Return a report model as a tagged PDF (PDF/UA-1)."""
    page = dataclasses.asdict(dataclasses.replace(model, chart=None, appendix=None))
    page["appendix"] = page_data(model.appendix) if model.appendix else None
    page["chart_text"] = model.chart.description if model.chart else ""
    picture = chart_svg(model.chart) if model.chart else ""
    charts = pictures(model.appendix) if model.appendix else {}
    return typst_pdf(
        "report.typ",
        {"report": as_data(page, language=model.language), "chart": picture, **charts},
        date=model.date,
    )
