"""Texts of the documents in the reader's language, by the catalogue of messages of the gettext format.

A text is written in English where it is used: `words("Cable {name}", name=run.id)`; a constant that is
translated later is marked by `noted("...")`. What lower rooms say comes up as `said("...")` and is printed by
`words.said(text)`. Translations lie beside this module as `<language>.po`, and compiled as `<language>.mo`.
"""

from __future__ import annotations

import gettext
import string
from collections.abc import Callable
from functools import lru_cache
from importlib.resources import files
from typing import Any, Literal, get_args

from ampwright.documents.quantity_text import (
    NARROW_SPACE,
    UnitSystem,
    energy_text,
    percent_text,
    quantity_text,
    three_figures,
)
from ampwright.records import record
from ampwright.said import Said, with_capital
from ampwright.sources import Source

__all__ = ["LANGUAGES", "Language", "Words", "english", "load_words", "noted"]

Language = Literal["en", "de"]
LANGUAGES: tuple[Language, ...] = get_args(Language)
WORDS_FOR_UNITS = ("years", "days")
"""Units that are words."""
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
        found = self.translation(text) if text else text
        return found.format(**fields) if fields else found

    def said(self, text: str) -> str:
        """Return what a lower room said in the language; a text that does not remember its sentence stays as it is."""
        if self.language == "en" or not isinstance(text, Said):
            return str(text)
        return _Blanks(self).vformat(self.translation(text.sentence), (), text.filled)

    def language_of(self, text: str) -> Language:
        """Return the language in which `said` gives a text: English where the text does not remember its sentence."""
        return self.language if isinstance(text, Said) else "en"

    def rule(self, name: str) -> str:
        """Return a rule's name in words."""
        found = self.translation(name)
        return found if found != name else name.replace("-", " ")

    def source(self, source: Source) -> str:
        """Return where a figure comes from, as `Source` says it."""
        text = ", ".join(part for part in (self(source.document), source.edition, source.place) if part)
        return text if source.standing == "read" else f"{text} ({self(source.standing)})"

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
        shown = self(unit) if unit in WORDS_FOR_UNITS else unit
        return self.decimal(quantity_text(value, shown, units=units))

    def percent(self, part_frac: float) -> str:
        """Return a fraction as a percentage."""
        return self.decimal(percent_text(part_frac))

    def energy(self, energy_wh: float) -> str:
        """Return watt-hours of a ledger."""
        return self.decimal(energy_text(energy_wh))

    def days(self, count: int) -> str:
        """Return "1 day" or "5 days"."""
        return self("1 day") if count == 1 else self("{count} days", count=count)

    def decimal(self, figure: str) -> str:
        """Return a figure printed with a point with the decimal sign of the language instead."""
        return figure.replace(".", DECIMAL_SIGN[self.language])


class _Blanks(string.Formatter):
    """Fills the blanks of a sentence: numbers with the signs of the language, texts that were said in it."""

    def __init__(self, words: Words) -> None:
        """Take the language."""
        self._words = words

    def format_field(self, value: Any, format_spec: str) -> str:
        """Return one blank as printed."""
        if isinstance(value, str):
            inner = self._words.said(value)
            return with_capital(inner) if format_spec == "capital" else format(inner, format_spec)
        if not isinstance(value, int | float):
            return format(value, format_spec)
        text = format(value, ",.0f" if format_spec == ".0f" else format_spec)
        return self._words.decimal(text.replace(",", NARROW_SPACE))


def noted(text: str) -> str:
    """Return the text as it is: marks a constant that is translated where it is printed."""
    return text


def _same(text: str) -> str:
    return text


def english() -> Words:
    """Return the language the texts are written in."""
    return Words(language="en", translation=_same)


@lru_cache(maxsize=len(LANGUAGES))
def load_words(language: Language) -> Words:
    """Return the catalogue of a language; a text without translation stays in English. Read once (a memo)."""
    if language == "en":
        return english()
    with files("ampwright.documents.words").joinpath(f"{language}.mo").open("rb") as stream:
        catalogue = gettext.GNUTranslations(stream)
    return Words(language=language, translation=catalogue.gettext)
