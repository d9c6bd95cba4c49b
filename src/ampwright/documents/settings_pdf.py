"""Settings sheet -> PDF bytes. The template gets the model as data, so no text of a job is ever run as markup."""

from __future__ import annotations

import dataclasses

from ampwright.assessment.result import Assessment
from ampwright.documents.settings_model import SettingsModel, settings_model
from ampwright.documents.typst_pdf import as_data, typst_pdf
from ampwright.documents.words.words import Words, english

__all__ = ["settings_pdf", "settings_pdf_bytes"]


def settings_pdf(found: Assessment, words: Words | None = None) -> bytes:
    """Return the settings sheet of an assessment as a tagged PDF; the same assessment gives the same bytes."""
    return settings_pdf_bytes(settings_model(found, words or english()))


def settings_pdf_bytes(model: SettingsModel) -> bytes:
    """Return a settings sheet as a tagged PDF (PDF/UA-1)."""
    return typst_pdf(
        "settings.typ", {"page": as_data(dataclasses.asdict(model), language=model.language)}, date=model.date
    )
