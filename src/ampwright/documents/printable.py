"""Text as the bundled fonts can print it: no missing letters, no hidden direction marks, no endless words."""

from __future__ import annotations

import unicodedata
from functools import cache, lru_cache
from importlib.resources import files

__all__ = ["BREAK", "drawn_characters", "printable"]

LONGEST_WORD = 18
"""Letters after which a word may be broken; own choice, fits the narrowest column."""
LONGEST_COMPOUND = 34
"""The same for words of letters alone in a language of compounds, which the page breaks by syllables."""
BREAK = "\u200b"
"""Zero-width space: where a word may be broken."""
JOINERS = "\u200c\u200d"


@cache
def drawn_characters() -> frozenset[str]:
    """Return every character the bundled fonts can draw."""
    text = files("ampwright.documents").joinpath("fonts/coverage.txt").read_text(encoding="utf-8")
    ranges = (line.split() for line in text.splitlines() if line and not line.startswith("#"))
    return frozenset(chr(code) for first, last in ranges for code in range(int(first, 16), int(last, 16) + 1))


@lru_cache(maxsize=8192)
def printable(text: str, *, has_compounds: bool = False) -> str:
    """Return the text with undrawable characters named in brackets and long words breakable.

    Examples
    --------
    >>> printable("fridge \N{SNOWMAN} ok")
    'fridge [snowman] ok'
    """
    shown = "".join(_shown(letter) for letter in unicodedata.normalize("NFC", text))
    return " ".join(_breakable(word, has_compounds=has_compounds) for word in shown.split(" "))


def _shown(letter: str) -> str:
    if letter.isspace():
        return letter if letter in "\u00a0\u202f\u2009" else " "
    category = unicodedata.category(letter)
    if category in {"Cc", "Cf", "Cs"} and letter not in JOINERS:
        return ""
    if 0xFE00 <= ord(letter) <= 0xFE0F:
        return ""
    if letter in drawn_characters():
        return letter
    name = unicodedata.name(letter, f"U+{ord(letter):04X}")
    return f"[{name.lower() if not name.startswith('U+') else name}]"


def _breakable(word: str, *, has_compounds: bool) -> str:
    if len(word) <= LONGEST_WORD or (has_compounds and _is_compound(word)):
        return word
    pieces: list[str] = []
    since = 0
    for letter in word:
        pieces.append(letter)
        since += 1
        is_joint = letter in "-_./,:;" and since >= 4
        is_plain = unicodedata.bidirectional(letter) not in {"R", "AL"}
        if is_joint or (since >= LONGEST_WORD and is_plain):
            pieces.append(BREAK)
            since = 0
    return "".join(pieces)


def _is_compound(word: str) -> bool:
    """Tell whether a page can break a word by its syllables: letters with signs around them."""
    return len(word) <= LONGEST_COMPOUND and word.strip(".,;:()„“\"'?!").replace("-", "").isalpha()
