"""Template and data -> PDF bytes: what every document made by typst shares."""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Mapping
from importlib.resources import as_file, files
from typing import Any

from ampwright.documents.printable import printable

__all__ = ["as_data", "typst_pdf"]

HYPHENATED = ("de",)
"""Languages whose long words the page breaks by syllables."""


def typst_pdf(template: str, inputs: Mapping[str, str], *, date: str) -> bytes:
    """Return a tagged PDF (PDF/UA-1) of a template beside this module, its timestamp the ISO date given."""
    import typst  # noqa: PLC0415 - heavy, and only the PDF needs it

    day = dt.date.fromisoformat(date)
    with as_file(files("ampwright.documents")) as folder:
        fonts = typst.Fonts(
            include_system_fonts=False, include_embedded_fonts=False, font_paths=[folder / "fonts"]
        )
        compiled = typst.compile(
            folder / template,
            root=folder,
            font_paths=fonts,
            ignore_system_fonts=True,
            sys_inputs=dict(inputs),
            format="pdf",
            pdf_standards=["ua-1"],
            timestamp=dt.datetime(day.year, day.month, day.day, tzinfo=dt.UTC),
        )
    return bytes(compiled)


def as_data(value: Any, *, language: str = "en") -> str:
    """Return a page model's plain values as JSON with every text made printable."""
    has_compounds = language in HYPHENATED

    def shown(value: Any) -> Any:
        if isinstance(value, str):
            return printable(value, has_compounds=has_compounds)
        if isinstance(value, dict):
            return {key: shown(item) for key, item in value.items()}
        if isinstance(value, list | tuple):
            return [shown(item) for item in value]
        return value

    return json.dumps(shown(value), ensure_ascii=False)
