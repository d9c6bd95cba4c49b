"""The documents' catalogue in the language of whoever reads a page."""

from __future__ import annotations

from django.utils.translation import get_language

from ampwright.documents.words.words import LANGUAGES, Words, english, load_words

__all__ = ["reader_words"]


def reader_words() -> Words:
    """Return the documents' catalogue in the reader's language."""
    spoken = get_language() or "en"
    return next((load_words(each) for each in LANGUAGES if each == spoken), english())
