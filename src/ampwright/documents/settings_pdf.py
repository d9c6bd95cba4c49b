"""Settings sheet -> PDF bytes. The template gets the model as data, so no text of a job is ever run as markup."""

from __future__ import annotations

import dataclasses
import datetime as dt
import json
from importlib.resources import as_file, files
from typing import Any

from ampwright.assessment.result import Assessment
from ampwright.documents.printable import printable
from ampwright.documents.settings_model import SettingsModel, settings_model

__all__ = ["settings_pdf", "settings_pdf_bytes"]


def settings_pdf(found: Assessment) -> bytes:
    """Return the settings sheet of an assessment as a tagged PDF; the same assessment gives the same bytes."""
    return settings_pdf_bytes(settings_model(found))


def settings_pdf_bytes(model: SettingsModel) -> bytes:
    """Return a settings sheet as a tagged PDF (PDF/UA-1)."""
    import typst  # noqa: PLC0415 - heavy, and only the PDF needs it

    inputs = {"page": json.dumps(_printable(dataclasses.asdict(model)), ensure_ascii=False)}
    day = dt.date.fromisoformat(model.date)
    with as_file(files("ampwright.documents")) as folder:
        fonts = typst.Fonts(
            include_system_fonts=False, include_embedded_fonts=False, font_paths=[folder / "fonts"]
        )
        compiled = typst.compile(
            folder / "settings.typ",
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
