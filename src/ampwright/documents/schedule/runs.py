"""Cable schedule: every run with its conductors, ends, devices and lengths; the module's inside in short."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.documents.cabling.fittings import colour_text, fitting_text, terminal_text, torque_text
from ampwright.documents.cabling.records import Piece, Terminal
from ampwright.documents.cabling.wording import (
    cable_size_text,
    device_text,
    length_text,
    run_details,
    run_purpose,
    written_ends,
)
from ampwright.documents.quantity_text import UnitSystem
from ampwright.documents.schedule.records import RunBlock
from ampwright.documents.words.words import Words
from ampwright.job.design import Design

__all__ = ["bond_rows", "conductor_row", "end_text", "module_note", "module_rows", "run_blocks"]


def run_blocks(design: Design, found: tuple[Piece, ...], words: Words) -> Iterator[RunBlock]:
    """Yield every run outside the module."""
    units = design.job.job.units
    of_run: dict[str, list[Piece]] = {}
    for piece in found:
        of_run.setdefault(piece.run, []).append(piece)
    for run in design.runs:
        if not run.is_inside_module:
            yield RunBlock(
                id=run.id,
                summary=words(
                    "{start} to {end}: {purpose}",
                    start=written_ends(design, run)[0],
                    end=written_ends(design, run)[1],
                    purpose=run_purpose(design, run),
                ),
                details=tuple(run_details(design, run, words, units=units)),
                rows=tuple(conductor_row(piece, words, units) for piece in of_run.get(run.id, ())),
            )


def conductor_row(piece: Piece, words: Words, units: UnitSystem) -> tuple[str, ...]:
    """Return label, both ends with what is put on them, cable, colour and lengths."""
    return (
        piece.id,
        terminal_text(piece.start, words),
        end_text(piece.start, piece, words, units),
        terminal_text(piece.end, words),
        end_text(piece.end, piece, words, units),
        f"{piece.cable.id}, {cable_size_text(piece.cable, words, units=units)}",
        colour_text(piece.colour, words),
        length_text(piece.length_m, words, units=units),
        length_text(piece.cut_m, words, units=units),
    )


def end_text(terminal: Terminal, piece: Piece, words: Words, units: UnitSystem) -> str:
    """Return fitting and torque of one end."""
    fitting = fitting_text(terminal, piece.cable, words, units=units)
    torque = torque_text(terminal, words, units=units) if terminal.form else ""
    return f"{fitting}; {torque}" if torque else fitting


def bond_rows(found: tuple[Piece, ...], words: Words, units: UnitSystem) -> Iterator[tuple[str, ...]]:
    """Yield the ties between battery negative and metal."""
    for piece in found:
        if piece.pole == "metal":
            yield conductor_row(piece, words, units)


def module_note(design: Design, words: Words) -> str:
    """Return what holds for the inside of the module; empty without one."""
    use, definition = design.job.module, design.module
    if use is None or definition is None:
        return ""
    about = words(
        "{id}: {name}, revision {revision}.", id=use.id, name=definition.name, revision=definition.revision
    )
    if definition.certificate:
        closed = words(
            "Inside the certified module: do not open. Certificate: {certificate}",
            certificate=definition.certificate,
        )
    else:
        closed = words("Inside the module: do not open. Its definition names no certificate.")
    return f"{about} {closed}"


def module_rows(design: Design, words: Words) -> Iterator[tuple[str, ...]]:
    """Yield the runs inside the module: label, from, to, cable, devices."""
    units = design.job.job.units
    for run in design.runs:
        if run.is_inside_module:
            yield (
                run.id,
                design.nodes[run.start],
                design.nodes[run.end],
                cable_size_text(run.cable, words, units=units),
                "; ".join(device_text(device, words) for device in run.devices) or "\u2013",
            )
