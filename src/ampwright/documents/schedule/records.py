"""What schedule, terminal plan and cutting list print: texts only."""

from __future__ import annotations

from ampwright.records import record

__all__ = ["CutGroup", "RunBlock", "ScheduleModel", "TerminalBlock"]


@record
class RunBlock:
    """One run with its conductors."""

    id: str
    """Label of the run."""
    summary: str
    """From, to and what hangs on it."""
    details: tuple[str, ...]
    """Devices, way, sheath, plugs, who supplies it."""
    rows: tuple[tuple[str, ...], ...]
    """Conductors: label, from, its fitting, to, its fitting, cable, colour, length, cut."""


@record
class TerminalBlock:
    """One terminal and what ends there."""

    place: str
    """Part and terminal."""
    what: str
    """Name of the part, stud, torque, count of lugs on each stud."""
    rows: tuple[tuple[str, ...], ...]
    """Stud, position from below, conductor, its other end, fitting."""


@record
class CutGroup:
    """One cable in one colour."""

    cable: str
    """Name, id and colour."""
    total: str
    """Sum of its cuts and rolls to order."""
    rows: tuple[tuple[str, ...], ...]
    """Conductors of one length: labels, count, length, sum."""


@record
class ScheduleModel:
    """Everything the PDF prints."""

    notes: tuple[str, ...]
    """What holds for every row."""
    titles: tuple[str, ...]
    """Headings of the sections: schedule, inside the module, terminals, cutting, fittings, sleeves."""
    run_heads: tuple[str, ...]
    """Heads of the conductors' columns."""
    runs: tuple[RunBlock, ...]
    """Runs outside the module."""
    bonds: tuple[tuple[str, ...], ...]
    """Rows of bonds to metal."""
    module_note: str
    """What holds for the inside of the module; empty = there is none."""
    module_heads: tuple[str, ...]
    """Heads of that table."""
    module_rows: tuple[tuple[str, ...], ...]
    """Runs inside the module: label, from, to, cable, devices."""
    terminal_note: str
    """How terminals are stacked."""
    terminal_heads: tuple[str, ...]
    """Heads of the terminals' columns."""
    terminals: tuple[TerminalBlock, ...]
    """Terminals with what ends there."""
    cut_note: str
    """How it is cut."""
    cut_heads: tuple[str, ...]
    """Heads of the cutting list's columns."""
    cuts: tuple[CutGroup, ...]
    """Cables in groups."""
    not_cut: tuple[str, ...]
    """What is not in the list, and why."""
    count_heads: tuple[str, ...]
    """Heads of the counts' columns."""
    fittings: tuple[tuple[str, ...], ...]
    """Fittings and their counts."""
    sleeves: tuple[tuple[str, ...], ...]
    """Heat-shrink and counts."""
