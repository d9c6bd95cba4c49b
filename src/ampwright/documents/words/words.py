"""Texts of the documents in the reader's language, by the catalogue of messages of the gettext format.

A text is written in English where it is used: `words("Cable {name}", name=run.id)`; a constant that is
translated later is marked by `noted("...")`. Translations lie beside this module as `<language>.po`, and compiled as
`<language>.mo`. Findings come from the rules and stay in English.
"""

from __future__ import annotations

import gettext
from collections.abc import Callable
from importlib.resources import files
from typing import Literal, get_args

from ampwright.documents.quantity_text import UnitSystem, quantity_text, three_figures
from ampwright.records import record

__all__ = ["LANGUAGES", "Language", "Words", "english", "load_words", "noted"]

Language = Literal["en", "de"]
LANGUAGES: tuple[Language, ...] = get_args(Language)
DECIMAL_SIGN: dict[Language, str] = {"en": ".", "de": ","}


@record
class Words:
    """The catalogue of one language."""

    language: Language
    """Code of the language (ISO 639-1)."""
    translation: Callable[[str], str]
    """English text -> text of the language."""

    def __call__(self, text: str, **fields: object) -> str:
        """Return a text in the language, its fields filled in."""
        found = self.translation(text)
        return found.format(**fields) if fields else found

    def number(self, value: float) -> str:
        """Return a number with three significant figures and the decimal sign of the language.

        Examples
        --------
        >>> load_words("de").number(2.5)
        '2,50'
        """
        return self.decimal(three_figures(value))

    def quantity(self, value: float, unit: str, *, units: UnitSystem = "metric") -> str:
        """Return a figure with its unit, US customary beside it where asked."""
        return self.decimal(quantity_text(value, unit, units=units))

    def decimal(self, figure: str) -> str:
        """Return a figure printed with a point with the decimal sign of the language instead."""
        return figure.replace(".", DECIMAL_SIGN[self.language])


def noted(text: str) -> str:
    """Return the text as it is: marks a constant that is translated where it is printed."""
    return text


def _same(text: str) -> str:
    return text


def english() -> Words:
    """Return the language the texts are written in."""
    return Words(language="en", translation=_same)


def load_words(language: Language) -> Words:
    """Return the catalogue of a language; a text without translation stays in English."""
    if language == "en":
        return english()
    with files("ampwright.documents.words").joinpath(f"{language}.mo").open("rb") as stream:
        catalogue = gettext.GNUTranslations(stream)
    return Words(language=language, translation=catalogue.gettext)
