"""Figures of a test as printed: prediction with its tolerance to the same place, and limits."""

from __future__ import annotations

import math

from ampwright.documents.quantity_text import UNIT_SPACE
from ampwright.documents.words.words import Words

__all__ = ["between", "limits", "plus_minus", "scaled"]

MINUS = "\u2212"
SMALL = {"Ω": "mΩ", "A": "mA"}
SMALL_BELOW = {"Ω": 1.0, "A": 0.5}
"""Figures below are printed in thousandths."""


def scaled(value: float, unit: str) -> tuple[float, str]:
    """Return the factor and unit in which a figure of this size is printed.

    Examples
    --------
    >>> scaled(0.043, "Ω"), scaled(12.6, "V")
    ((1000.0, 'mΩ'), (1.0, 'V'))
    """
    if unit in SMALL and abs(value) < SMALL_BELOW[unit]:
        return 1000.0, SMALL[unit]
    return 1.0, unit


def plus_minus(words: Words, value: float, spread: float, unit: str) -> str:
    """Return a prediction and its tolerance, both to the tolerance's second figure.

    Examples
    --------
    >>> from ampwright.documents.words.words import english
    >>> plus_minus(english(), 13.0642, 0.2202, "V").replace(UNIT_SPACE, " ")
    '13.06 ± 0.22 V'
    """
    factor, printed = scaled(value, unit)
    places = _places(factor * spread)
    text = f"{_fixed(factor * value, places)} ± {_fixed(factor * spread, places)}{UNIT_SPACE}{printed}"
    return words.decimal(text)


def limits(
    words: Words, low: float | None, high: float | None, *, unit: str, spread: float, like: float = 0.0
) -> str:
    """Return between which figures a reading passes, to the place of its tolerance.

    Parameters
    ----------
    like : figure by whose size the unit is chosen; the upper limit where it is 0
    """
    factor, printed = scaled(like or high or low or 0.0, unit)
    places = _places(factor * spread)
    unit_text = f"{UNIT_SPACE}{printed}"
    if low is None:
        return words(
            "at most {figure}", figure=words.decimal(_fixed(factor * (high or 0.0), places) + unit_text)
        )
    if high is None:
        return words("at least {figure}", figure=words.decimal(_fixed(factor * low, places) + unit_text))
    return between(words, _fixed(factor * low, places), _fixed(factor * high, places) + unit_text)


def between(words: Words, low: str, high: str) -> str:
    """Return "low to high"."""
    return words("{low} to {high}", low=words.decimal(low), high=words.decimal(high))


def _places(spread: float) -> int:
    if spread <= 0.0 or not math.isfinite(spread):
        return 2
    return min(max(1 - math.floor(math.log10(spread)), 0), 3)


def _fixed(value: float, places: int) -> str:
    text = f"{abs(value):.{places}f}"
    is_negative = value < 0.0 and any(letter in "123456789" for letter in text)
    return f"{MINUS}{text}" if is_negative else text
