"""How wide a text is in the bundled type, read from the font files' own tables, and where a text is broken.

Tables `head`, `hhea`, `hmtx` and `cmap` (format 4) as the OpenType specification 1.9 lays them out (ISO/IEC 14496-22).
"""

from __future__ import annotations

import struct
from functools import cache, lru_cache
from importlib.resources import files

from ampwright.documents.printable import BREAK, printable
from ampwright.records import record

__all__ = ["clean", "text_width_mm", "wrapped"]

OTHER_SCRIPT_EM = 1.0
"""Width taken for a letter of the other bundled fonts; own choice, wider than all but a few."""
ELLIPSIS = "…"


@record
class Advances:
    """Advance widths of one font."""

    em: int
    """Units of one em."""
    by_letter: dict[int, int]
    """Advance by code of the letter."""


def clean(text: str) -> str:
    """Return the text as the bundled fonts can print it, without places to break it."""
    return printable(text).replace(BREAK, "")


@lru_cache(maxsize=4096)
def text_width_mm(text: str, size_mm: float, *, is_bold: bool = False) -> float:
    """Return the width of one line; kerning is left out, it only makes lines shorter."""
    font = _advances("NotoSans-Bold.ttf" if is_bold else "NotoSans-Regular.ttf")
    other = OTHER_SCRIPT_EM * font.em
    return size_mm * sum(font.by_letter.get(ord(letter), other) for letter in text) / font.em


def wrapped(text: str, width_mm: float, size_mm: float, *, most: int) -> tuple[str, ...]:
    """Return a text in at most so many lines of a width; what does not fit ends in an ellipsis."""
    lines: list[str] = []
    for word in text.split(" "):
        pieces = _pieces(word, width_mm, size_mm)
        joined = f"{lines[-1]} {pieces[0]}" if lines else pieces[0]
        if lines and text_width_mm(joined, size_mm) <= width_mm:
            lines[-1] = joined
        else:
            lines.append(pieces[0])
        lines.extend(pieces[1:])
    if len(lines) <= most:
        return tuple(lines)
    last = lines[most - 1]
    while last and text_width_mm(last + ELLIPSIS, size_mm) > width_mm:
        last = last[:-1]
    return (*lines[: most - 1], last.rstrip(" ,;:-") + ELLIPSIS)


def _pieces(word: str, width_mm: float, size_mm: float) -> list[str]:
    """Return a word, broken after a hyphen or wherever it must be, so that each piece fits."""
    pieces, rest = [], word
    while text_width_mm(rest, size_mm) > width_mm and len(rest) > 1:
        fits = next(
            n for n in range(len(rest) - 1, 0, -1) if n == 1 or text_width_mm(rest[:n], size_mm) <= width_mm
        )
        joint = max((n + 1 for n in range(2, fits) if rest[n] in "-_./"), default=fits)
        pieces.append(rest[:joint])
        rest = rest[joint:]
    return [*pieces, rest]


@cache
def _advances(name: str) -> Advances:
    raw = files("ampwright.documents").joinpath(f"fonts/{name}").read_bytes()
    tables = _tables(raw)
    em = struct.unpack_from(">H", raw, tables["head"] + 18)[0]
    metric_count = struct.unpack_from(">H", raw, tables["hhea"] + 34)[0]
    widths = struct.unpack_from(">" + "Hh" * metric_count, raw, tables["hmtx"])[::2]
    by_letter = {
        code: widths[min(glyph, metric_count - 1)] for code, glyph in _glyphs(raw, tables["cmap"]).items()
    }
    return Advances(em=em, by_letter=by_letter)


def _tables(raw: bytes) -> dict[str, int]:
    count = struct.unpack_from(">H", raw, 4)[0]
    rows = (struct.unpack_from(">4sLLL", raw, 12 + 16 * i) for i in range(count))
    return {tag.decode("ascii"): offset for tag, _, offset, _ in rows}


def _glyphs(raw: bytes, cmap: int) -> dict[int, int]:
    """Return glyph by letter from the first subtable of format 4 (basic plane)."""
    count = struct.unpack_from(">H", raw, cmap + 2)[0]
    offsets = (struct.unpack_from(">HHL", raw, cmap + 4 + 8 * i)[2] for i in range(count))
    start = next(cmap + o for o in offsets if struct.unpack_from(">H", raw, cmap + o)[0] == 4)
    pairs = struct.unpack_from(">H", raw, start + 6)[0] // 2
    words = [start + 14, start + 16 + 2 * pairs, start + 16 + 4 * pairs, start + 16 + 6 * pairs]
    ends, starts, deltas, ranges = (struct.unpack_from(f">{pairs}H", raw, at) for at in words)
    found: dict[int, int] = {}
    for i in range(pairs):
        for code in range(starts[i], ends[i] + 1):
            glyph = code
            if ranges[i]:
                at = words[3] + 2 * i + ranges[i] + 2 * (code - starts[i])
                if at + 2 > len(raw):
                    continue
                glyph = struct.unpack_from(">H", raw, at)[0]
                if glyph == 0:
                    continue
            found[code] = (glyph + deltas[i]) & 0xFFFF
    return found
