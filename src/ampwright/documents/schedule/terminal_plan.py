"""Terminal plan: which conductors end at which terminal, how they are shared out over studs, largest lug lowest."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.assessment.terminals import LUGS_MAX_COUNT
from ampwright.documents.cabling.fittings import fitting_text, lug_mm2, terminal_text, torque_text
from ampwright.documents.cabling.records import Piece, Terminal
from ampwright.documents.quantity_text import UnitSystem
from ampwright.documents.schedule.records import TerminalBlock
from ampwright.documents.words.words import Words
from ampwright.job.design import Design

__all__ = ["Stack", "stacks", "terminal_blocks"]

Stack = list[tuple[Piece, Terminal]]
"""Conductors on one stud, lowest first, each with its other end."""


def terminal_blocks(design: Design, found: tuple[Piece, ...], words: Words) -> Iterator[TerminalBlock]:
    """Yield every terminal at which a conductor from outside the module ends, in the order of the runs."""
    units = design.job.job.units
    ending: dict[Terminal, list[tuple[Piece, Terminal]]] = {}
    outside = {
        terminal for piece in found if not piece.is_inside_module for terminal in (piece.start, piece.end)
    }
    for piece in found:
        for terminal, other in ((piece.start, piece.end), (piece.end, piece.start)):
            if terminal in outside:
                ending.setdefault(terminal, []).append((piece, other))
    places = list(dict.fromkeys(terminal.place for terminal in ending))
    for terminal, ends in sorted(ending.items(), key=lambda item: places.index(item[0].place)):
        yield _block(terminal, stacks(terminal, ends), words, units)


def stacks(terminal: Terminal, ends: list[tuple[Piece, Terminal]]) -> list[Stack]:
    """Return what is put on each stud: shared out evenly, largest lug lowest."""
    ordered = sorted(ends, key=lambda end: (-lug_mm2(end[0].cable), -end[0].cable.area_mm2))
    found: list[Stack] = [[] for _ in range(min(terminal.stud_count, len(ordered)))]
    for number, end in enumerate(ordered):
        found[number % len(found)].append(end)
    return found


def _block(terminal: Terminal, found: list[Stack], words: Words, units: UnitSystem) -> TerminalBlock:
    most = max(len(stack) for stack in found)
    facts = []
    if terminal.form == "stud" and terminal.stud_mm > 0.0:
        facts.append(words("{count} × M{stud:g}", count=terminal.stud_count, stud=terminal.stud_mm))
    if terminal.form:
        facts.append(torque_text(terminal, words, units=units))
    if terminal.form == "stud" and most > LUGS_MAX_COUNT:
        facts.append(words("MORE than {count} lugs on a stud", count=LUGS_MAX_COUNT))
    return TerminalBlock(
        place=terminal_text(terminal, words),
        what=", ".join(fact for fact in facts if fact),
        rows=tuple(
            (
                str(number) if len(found) > 1 else "",
                _level(level, len(stack), words) if terminal.form == "stud" else "",
                piece.id,
                terminal_text(other, words),
                words("fitted in the module")
                if piece.is_inside_module
                else fitting_text(terminal, piece.cable, words, units=units),
            )
            for number, stack in enumerate(found, start=1)
            for level, (piece, other) in enumerate(stack)
        ),
    )


def _level(level: int, count: int, words: Words) -> str:
    if count == 1:
        return ""
    return words("lowest") if level == 0 else str(level + 1)
