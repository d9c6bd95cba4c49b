"""The option that chooses the language of documents, the same for every command that writes one."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

import typer

__all__ = ["LanguageName", "LanguageOption"]


class LanguageName(StrEnum):
    """Languages of the documents, as typed."""

    EN = "en"
    DE = "de"


LanguageOption = Annotated[
    LanguageName | None,
    typer.Option(
        "--language",
        help="Language of the documents' texts; the job's where not given.",
        show_default=False,
    ),
]
