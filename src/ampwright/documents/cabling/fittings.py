"""What is put on the end of a conductor: lug, ferrule, receptacle or joint, and its sleeve."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from ampwright.documents.cabling.records import Piece, Terminal
from ampwright.documents.quantity_text import UNIT_SPACE, UnitSystem, customary, gauge_text
from ampwright.documents.words.words import Words, noted
from ampwright.parts.cable import Cable
from ampwright.standards.din_46235.lugs import lug_for

__all__ = [
    "colour_text",
    "fitting_counts",
    "fitting_text",
    "lug_mm2",
    "sleeve_counts",
    "terminal_text",
    "torque_text",
]

COLOURS = (
    noted("red"),
    noted("black"),
    noted("green and yellow"),
    noted("green"),
    noted("yellow"),
    noted("blue"),
)
METALS = {
    "vehicle": noted("metal of the vehicle"),
    "body": noted("metal of the body"),
    "trailer": noted("metal of the trailer"),
}
POLES = {"plus": "+", "minus": "\u2212", "both": "±", "metal": ""}


def colour_text(colour: str, words: Words) -> str:
    """Return a colour in words; cores of both colours where a cable has two."""
    return words(colour) if colour else words("both colours")


def terminal_text(terminal: Terminal, words: Words) -> str:
    """Return a terminal as it is written on a label."""
    if terminal.pole == "metal":
        return words(METALS[terminal.place])
    return f"{terminal.place}{UNIT_SPACE}{POLES[terminal.pole]}"


def torque_text(terminal: Terminal, words: Words, *, units: UnitSystem = "metric") -> str:
    """Return the torque, or where to look for it; empty where nothing is tightened."""
    if terminal.form in {"lead", "blade", "through"} or terminal.pole == "metal":
        return ""
    if terminal.torque_nm > 0.0:
        text = f"{terminal.torque_nm:g}{UNIT_SPACE}N·m"
        beside = customary(terminal.torque_nm, "N·m") if units == "us" else ""
        return words.decimal(f"{text} ({beside})" if beside else text)
    return words("see its manual")


def fitting_text(terminal: Terminal, cable: Cable, words: Words, *, units: UnitSystem = "metric") -> str:
    """Return what the end of a conductor gets."""
    size = _size_text(cable, units, words)
    if terminal.form == "stud":
        if terminal.stud_mm == 0.0:
            return words("lug {size}, hole by the bolt", size=size)
        lug = lug_for(cable.area_mm2)
        if lug is None or not lug.fits(terminal.stud_mm):
            return words("no usual lug {size} for M{stud:g}", size=size, stud=terminal.stud_mm)
        return words(
            "lug {size}, hole M{stud:g}",
            size=_barrel_text(lug.barrel_mm2, cable, units, words),
            stud=terminal.stud_mm,
        )
    texts = {
        "clamp": words("ferrule {size}", size=size),
        "blade": words("receptacle {size}", size=size),
        "lead": words("crimped joint {size}", size=size),
        "through": words("no terminal: laid through or joined"),
        "": words("end not said, {size}", size=size),
    }
    return texts[terminal.form]


def _size_text(cable: Cable, units: UnitSystem, words: Words) -> str:
    area = words.decimal(f"{cable.area_mm2:g}\u00a0mm²")
    return gauge_text(cable.area_mm2) if units == "us" and cable.system == "awg" else area


def _barrel_text(barrel_mm2: float, cable: Cable, units: UnitSystem, words: Words) -> str:
    if units == "us" and cable.system == "awg":
        return gauge_text(cable.area_mm2)
    return words.decimal(f"{barrel_mm2:g}\u00a0mm²")


def lug_mm2(cable: Cable) -> float:
    """Return the barrel of the lug for a cable; its own area where the table ends."""
    lug = lug_for(cable.area_mm2)
    return cable.area_mm2 if lug is None else lug.barrel_mm2


def fitting_counts(
    found: Iterable[Piece], words: Words, *, units: UnitSystem = "metric"
) -> list[tuple[str, int]]:
    """Return how many of each fitting the pieces want; nothing for ends that pass a part."""
    counts: Counter[str] = Counter()
    for piece in found:
        cores = piece.cable.core_count if piece.pole == "both" else 1
        for terminal in (piece.start, piece.end):
            if terminal.form != "through":
                counts[fitting_text(terminal, piece.cable, words, units=units)] += cores
        if piece.plugs:
            counts[words("contact of plug {plug}", plug=", ".join(piece.plugs))] += (
                2 * cores * len(piece.plugs)
            )
    return sorted(counts.items())


def sleeve_counts(found: Iterable[Piece]) -> list[tuple[float, str, int]]:
    """Return outside diameter of the cable, colour and count of heat-shrink pieces: one on each lug, receptacle and joint."""
    counts: Counter[tuple[float, str]] = Counter()
    for piece in found:
        for terminal in (piece.start, piece.end):
            if terminal.form in {"stud", "blade", "lead"}:
                counts[piece.cable.outside_mm, piece.colour] += 1
    return [(outside_mm, colour, count) for (outside_mm, colour), count in sorted(counts.items())]
