"""A text that remembers the sentence it was made from, so that a document can say it in another language.

The rooms below the documents write English and know no other language; what they hand up is an ordinary text.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import lru_cache
from typing import Any, Self

__all__ = ["Said", "all_of", "capital", "said", "said_together", "with_capital"]


class Said(str):
    """A text with its sentence and what was filled in; equal to the plain text in everything else."""

    __slots__ = ("filled", "sentence")

    filled: Mapping[str, object]
    sentence: str

    def __new__(cls, sentence: str, filled: Mapping[str, object]) -> Self:
        """Fill the blanks of a sentence."""
        made = super().__new__(cls, _grouped(sentence).format(**filled))
        made.sentence, made.filled = sentence, filled
        return made

    def __add__(self, other: str) -> Said:
        """Return both texts as one, each still sayable."""
        return said_together((self, other), between="")

    def __radd__(self, other: str) -> Said:
        """Return both texts as one, each still sayable."""
        return said_together((other, self), between="")

    def __format__(self, how: str) -> str:
        """Be printed in a blank, with a capital at the beginning where asked."""
        return with_capital(self) if how == "capital" else super().__format__(how)

    def __reduce__(self) -> tuple[Any, ...]:
        """Be made anew from sentence and filling where it is copied to another process."""
        return Said, (self.sentence, dict(self.filled))

    def __deepcopy__(self, memo: object) -> Said:
        """Return itself: it does not change."""
        return self


@lru_cache(maxsize=4096)
def _grouped(sentence: str) -> str:
    """Return a sentence whose whole figures are printed in groups of three digits, as `{wh:,.0f}` does."""
    return sentence.replace(":.0f}", ":,.0f}")


def said(sentence: str, **filled: object) -> Said:
    """Return a sentence with its blanks filled; numbers are given as numbers, so that each language prints them its way.

    Examples
    --------
    >>> text = said("{load} is off for {hours_h:.1f} h", load="lamp", hours_h=2.5)
    >>> text, text.sentence
    ('lamp is off for 2.5 h', '{load} is off for {hours_h:.1f} h')
    >>> said("{missing_wh:.0f} Wh are missing", missing_wh=9411.0)
    '9,411 Wh are missing'
    """
    return Said(sentence, filled)


def said_together(texts: Iterable[str], *, between: str = " ") -> Said:
    """Return several texts as one, each still sayable in another language.

    Examples
    --------
    >>> said_together(["a", "b"], between="; ")
    'a; b'
    """
    each = [text for text in texts if text]
    blanks = between.join(f"{{part_{number}}}" for number in range(len(each)))
    return Said(blanks, {f"part_{number}": text for number, text in enumerate(each)})


def all_of(texts: Iterable[str]) -> Said:
    """Return texts as people list them.

    Examples
    --------
    >>> all_of(["a", "b", "c"])
    'a, b and c'
    """
    each = tuple(texts)
    if len(each) < 2:
        return said_together(each)
    return said("{first} and {last}", first=said_together(each[:-1], between=", "), last=each[-1])


def with_capital(text: str) -> str:
    """Return a plain text with a capital at its beginning."""
    return f"{text[:1].upper()}{text[1:]}"


def capital(text: str) -> Said:
    """Return a text with a capital at its beginning, in whatever language it is said.

    Examples
    --------
    >>> capital("the lead has no earth")
    'The lead has no earth'
    """
    return Said("{text:capital}", {"text": said("{text}", text=text)})
