"""Design -> everything the cable schedule prints."""

from __future__ import annotations

from ampwright.assessment.terminals import LUGS_MAX_COUNT
from ampwright.documents.cabling.fittings import colour_text, fitting_counts, sleeve_counts
from ampwright.documents.cabling.pieces import cabling_figures, pieces
from ampwright.documents.cabling.records import CablingFigures, Piece, pole_sign
from ampwright.documents.cabling.wording import length_text
from ampwright.documents.pack.records import Material
from ampwright.documents.quantity_text import UNIT_SPACE
from ampwright.documents.schedule.cutting import cut_groups, cut_pieces, not_cut
from ampwright.documents.schedule.records import ScheduleModel
from ampwright.documents.schedule.runs import bond_rows, module_note, module_rows, run_blocks
from ampwright.documents.schedule.terminal_plan import terminal_blocks
from ampwright.documents.sheet.sheet import LICENSED
from ampwright.documents.words.words import Words
from ampwright.parts.switchgear import Sensor

__all__ = ["SLEEVE_MM", "schedule_model"]

SLEEVE_MM = 40.0
"""Length of heat-shrink on a lug or joint (own choice, docs/choices.md#heat-shrink)."""
SLEEVE_FACTOR = 1.3
"""Its inside before it shrinks, over the cable's outside (own choice, docs/choices.md#heat-shrink)."""


def schedule_model(material: Material) -> ScheduleModel:
    """Return what the document prints."""
    design, words = material.design, material.words
    found, figures = pieces(design), cabling_figures(design)
    units = design.job.job.units
    note = module_note(design, words)
    return ScheduleModel(
        notes=_notes(material, figures),
        titles=_titles(words),
        run_heads=conductor_heads(words),
        runs=tuple(run_blocks(design, found, words)),
        bonds=tuple(bond_rows(found, words, units)),
        module_note=note,
        module_heads=(words("run"), words("from"), words("to"), words("conductor"), words("devices")),
        module_rows=tuple(module_rows(design, words)) if note else (),
        terminal_note=_terminal_note(words),
        terminal_heads=_terminal_heads(words),
        terminals=tuple(terminal_blocks(design, found, words)),
        cut_note=_cut_note(material, figures),
        cut_heads=(words("cable"), words("count"), words("cut"), words("conductors"), words("sum")),
        cuts=tuple(cut_groups(design, found, figures, words)),
        not_cut=tuple(not_cut(design, found, words)),
        count_heads=(words("fitting"), words("count")),
        fittings=tuple(
            (text, str(count)) for text, count in fitting_counts(cut_pieces(found), words, units=units)
        ),
        sleeves=tuple(_sleeves(cut_pieces(found), words)),
    )


def conductor_heads(words: Words) -> tuple[str, ...]:
    """Return the heads of the conductors' columns."""
    return (
        words("label"),
        words("from"),
        words("its end"),
        words("to"),
        words("its end"),
        words("cable"),
        words("colour"),
        words("length"),
        words("cut to"),
    )


def _notes(material: Material, figures: CablingFigures) -> tuple[str, ...]:
    design, words = material.design, material.words
    notes = [
        words(
            "Positive {positive}, negative {negative}, ties to metal {chassis}. The label of a conductor is the same at both its ends.",
            positive=colour_text(figures.positive_colour, words),
            negative=colour_text(figures.negative_colour, words),
            chassis=colour_text(figures.chassis_colour, words),
        ),
        words(
            "What is tightened gets the torque given; where it says 'see its manual' the part's data holds none. Crimp with the tool "
            "made for the lug, pull at every crimp."
        ),
    ]
    if any(isinstance(p.part, Sensor) and p.part.senses == "current" for p in design.parts):
        notes.append(
            words(
                "A current sensor is drawn in the positive. Where its manual wants it in the negative, swap the two conductors of its runs."
            )
        )
    modules = dict.fromkeys(design.parts[channel.part].id for channel in design.channels)
    if modules:
        notes.append(
            words(
                "The job names no terminal for the negatives of an output module's loads: {names} stands for the negative bar beside it.",
                names=", ".join(f"{name} {pole_sign('minus')}" for name in modules),
            )
        )
    return (*notes, words(LICENSED))


def _cut_note(material: Material, figures: CablingFigures) -> str:
    words, units = material.words, material.design.job.job.units
    return words(
        "Slack in the cut: {end} at each end and {along} of the way, rounded up to 5 cm. A piece up to a device is trimmed to the "
        "distance given: that distance is a limit. Measure on the vehicle before cutting.",
        end=length_text(figures.slack_end_m, words, units=units),
        along=words.decimal(f"{100.0 * figures.slack_frac:g}{UNIT_SPACE}%"),
    )


def _sleeves(found: tuple[Piece, ...], words: Words) -> list[tuple[str, str]]:
    return [
        (
            words(
                "{colour}, inside at least {inside} before shrinking, {length} long",
                colour=colour_text(colour, words),
                inside=words.decimal(f"{SLEEVE_FACTOR * outside_mm:.1f}{UNIT_SPACE}mm"),
                length=f"{SLEEVE_MM:g}{UNIT_SPACE}mm",
            ),
            str(count),
        )
        for outside_mm, colour, count in sleeve_counts(found)
    ]


def _titles(words: Words) -> tuple[str, ...]:
    return (
        words("Cable schedule"),
        words("Inside the module"),
        words("Terminal plan"),
        words("Cutting list"),
        words("Lugs, ferrules and joints"),
        words("Heat-shrink"),
        words("Ties to metal"),
    )


def _terminal_note(words: Words) -> str:
    return words(
        "On a stud the largest lug lies lowest, against the bar or the part; at most {count} lugs on a stud; nothing between "
        "lug and contact face. One conductor in each clamp. Mark each nut after it was tightened.",
        count=LUGS_MAX_COUNT,
    )


def _terminal_heads(words: Words) -> tuple[str, ...]:
    return (
        words("terminal"),
        words("stud"),
        words("level"),
        words("conductor"),
        words("other end"),
        words("fitting"),
    )
