"""Cutting list: conductors by cable and colour with their lengths, sums and the rolls they are cut from."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from ampwright.documents.cabling.fittings import colour_text
from ampwright.documents.cabling.records import CablingFigures, Piece
from ampwright.documents.cabling.wording import OWNERS, cable_size_text, length_text
from ampwright.documents.quantity_text import UnitSystem
from ampwright.documents.schedule.records import CutGroup
from ampwright.documents.words.words import Words
from ampwright.job.design import Design
from ampwright.parts.battery import Battery

__all__ = ["cut_groups", "cut_pieces", "grouped", "not_cut", "roll_count", "sum_m"]

METRES_FROM_MM2 = 16.0
"""From here on cable is bought by the metre, not by the roll (own choice, docs/choices.md#cable-roll)."""


def cut_pieces(found: tuple[Piece, ...]) -> tuple[Piece, ...]:
    """Return the pieces the workshop cuts: not the module's, nor what others supply."""
    return tuple(p for p in found if not p.is_inside_module and p.supplied_by == "workshop")


def grouped(found: Sequence[Piece]) -> dict[tuple[str, str], list[Piece]]:
    """Return pieces by cable id and colour, thickest cable first, longest piece first."""
    groups: dict[tuple[str, str], list[Piece]] = {}
    for piece in sorted(
        found, key=lambda p: (-p.cable.area_mm2, p.cable.id, p.colour, -(p.cut_m or 0.0), p.id)
    ):
        groups.setdefault((piece.cable.id, piece.colour), []).append(piece)
    return groups


def sum_m(found: Sequence[Piece]) -> float:
    """Return the sum of cut lengths, as far as they are known."""
    return round(math.fsum(piece.cut_m or 0.0 for piece in found), 2)


def roll_count(found: Sequence[Piece], roll_m: float) -> int:
    """Return how many rolls the pieces are cut from, each in one length: first fit, longest first.

    A piece longer than a roll is bought in its own length and counts as none.
    """
    left: list[float] = []
    for length_m in sorted((piece.cut_m or 0.0 for piece in found), reverse=True):
        if length_m == 0.0 or length_m > roll_m:
            continue
        place = next((i for i, rest_m in enumerate(left) if rest_m >= length_m - 1e-9), None)
        if place is None:
            left.append(roll_m - length_m)
        else:
            left[place] -= length_m
    return len(left)


def cut_groups(
    design: Design, found: tuple[Piece, ...], figures: CablingFigures, words: Words
) -> Iterator[CutGroup]:
    """Yield one group for each cable and colour."""
    units = design.job.job.units
    for (cable_id, colour), group in grouped(cut_pieces(found)).items():
        total = length_text(sum_m(group), words, units=units)
        size = cable_size_text(group[0].cable, words, units=units)
        order = f"{total}; {_order_text(group, figures, words, units)}"
        too_long = [p.id for p in group if (p.cut_m or 0.0) > figures.roll_m]
        unknown = [p.id for p in group if p.cut_m is None]
        notes = [words("longer than a roll: {names}", names=", ".join(too_long))] if too_long else []
        notes += [words("to be measured: {names}", names=", ".join(unknown))] if unknown else []
        by_length: dict[float, list[str]] = {}
        for piece in group:
            if piece.cut_m is not None:
                by_length.setdefault(piece.cut_m, []).append(piece.id)
        yield CutGroup(
            cable=f"{cable_id}, {size}, {colour_text(colour, words)}",
            total="; ".join([order, *notes]) if by_length else "; ".join(notes),
            rows=tuple(
                (
                    str(len(names)),
                    length_text(length_m, words, units=units),
                    ", ".join(names),
                    length_text(round(len(names) * length_m, 2), words, units=units),
                )
                for length_m, names in by_length.items()
            ),
        )


def _order_text(group: list[Piece], figures: CablingFigures, words: Words, units: UnitSystem) -> str:
    """Return what to buy: thick cable by whole metres, thin cable by rolls."""
    if group[0].cable.area_mm2 >= METRES_FROM_MM2:
        return words("buy {length}", length=length_text(math.ceil(sum_m(group)), words, units=units))
    roll, count = length_text(figures.roll_m, words, units=units), roll_count(group, figures.roll_m)
    return (
        words("buy 1 roll of {roll}", roll=roll)
        if count == 1
        else words("buy {count} rolls of {roll}", count=count, roll=roll)
    )


def not_cut(design: Design, found: tuple[Piece, ...], words: Words) -> Iterator[str]:
    """Yield what the list leaves out, with the reason."""
    for owner in ("customer", "vehicle", "electrician"):
        runs = dict.fromkeys(p.run for p in found if p.supplied_by == owner and not p.is_inside_module)
        if runs:
            yield words(
                "Not cut here, supplied by {owner}: {runs}.", owner=words(OWNERS[owner]), runs=", ".join(runs)
            )
    for placed in design.parts:
        if isinstance(placed.part, Battery) and placed.case_count > 1 and not placed.is_inside_module:
            yield words(
                "Links between the {count} cases of {id} are not in the job: make them alike in length and area.",
                count=placed.case_count,
                id=placed.id,
            )
    metal = [run.id for run in design.runs if run.back_cable is None and not run.is_inside_module]
    if metal:
        yield words(
            "Leads to the metal, two for each of these runs, are not in the job: measure them: {runs}.",
            runs=", ".join(metal),
        )
    plugs = dict.fromkeys(piece.id for piece in found if piece.plugs and not piece.is_inside_module)
    if plugs:
        yield words(
            "Cut once more where the plug sits, which the job does not say: {names}.", names=", ".join(plugs)
        )
    if design.job.mains is not None or any(placed.part.kind == "inlet" for placed in design.parts):
        yield words("Mains wiring is not in this list: it belongs to a licensed electrician.")
