"""Report model -> PDF bytes. The template gets the model as data, so no text of a job is ever run as markup."""

from __future__ import annotations

import dataclasses
import datetime as dt
import json
from importlib.resources import as_file, files
from typing import Any

from ampwright.documents.chart_svg import chart_svg
from ampwright.documents.printable import printable
from ampwright.documents.report_model import report_model
from ampwright.documents.report_records import ReportModel
from ampwright.sizing.result import Answer

__all__ = ["pdf_bytes", "report_pdf"]


def report_pdf(answer: Answer) -> bytes:
    """Return the report of an answer as a tagged PDF; the same answer gives the same bytes."""
    return pdf_bytes(report_model(answer))


def pdf_bytes(model: ReportModel) -> bytes:
    """Return a report model as a tagged PDF (PDF/UA-1)."""
    import typst  # noqa: PLC0415 - heavy, and only the PDF needs it

    page = dataclasses.asdict(dataclasses.replace(model, chart=None))
    page["chart_text"] = model.chart.description if model.chart else ""
    picture = chart_svg(model.chart) if model.chart else ""
    inputs = {"report": json.dumps(_printable(page), ensure_ascii=False), "chart": picture}
    day = dt.date.fromisoformat(model.date)
    with as_file(files("ampwright.documents")) as folder:
        fonts = typst.Fonts(
            include_system_fonts=False, include_embedded_fonts=False, font_paths=[folder / "fonts"]
        )
        compiled = typst.compile(
            folder / "report.typ",
            root=folder,
            font_paths=fonts,
            ignore_system_fonts=True,
            sys_inputs=inputs,
            format="pdf",
            pdf_standards=["ua-1"],
            timestamp=dt.datetime(day.year, day.month, day.day, tzinfo=dt.UTC),
        )
    return bytes(compiled)


def _printable(value: Any) -> Any:
    if isinstance(value, str):
        return printable(value)
    if isinstance(value, dict):
        return {key: _printable(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_printable(item) for item in value]
    return value
