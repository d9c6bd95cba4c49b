"""What the label sheet prints: texts and sizes in millimetres."""

from __future__ import annotations

from ampwright.records import record

__all__ = ["DeviceLabel", "LabelSheet", "Legends", "WarningLabel", "WireLabel"]


@record
class WireLabel:
    """One end of a conductor."""

    id: str
    """Label of the conductor."""
    ends: str
    """This end and the other one."""
    is_large: bool
    """True for thick cable."""


@record
class DeviceLabel:
    """One fuse, breaker or isolator."""

    id: str
    """Its label."""
    rating: str
    """Rating and sort."""
    protects: str
    """What it protects or switches."""
    advice: str
    """What to put in its place; empty = nothing."""


@record
class WarningLabel:
    """One hazard."""

    heading: str
    """A word or two in capitals."""
    text: str
    """What it is and what to do first."""


@record
class Legends:
    """Legends of one button panel."""

    heading: str
    """The panel and its size."""
    width_mm: float
    """Width of one legend."""
    height_mm: float
    """Its height."""
    outside_mm: tuple[float, float]
    """Outline of the panel; zeros = not stated."""
    outline: str
    """What the outline shows."""
    names: tuple[str, ...]
    """Legends that fit."""
    notes: tuple[str, ...]
    """Legends too long, channels without a button."""


@record
class LabelSheet:
    """Everything the sheet prints."""

    bar_mm: float
    """Length of the check bar."""
    bar_text: str
    """What to do with it."""
    notes: tuple[str, ...]
    """How to print and fix the labels."""
    titles: tuple[str, ...]
    """Headings: job, warnings, devices, wires, legends."""
    job_lines: tuple[str, ...]
    """Beside the code: job, revision, hash, title."""
    code_alt: str
    """What the code holds, for a screen reader."""
    warnings: tuple[WarningLabel, ...]
    """Hazards."""
    devices: tuple[DeviceLabel, ...]
    """Devices outside the module."""
    wires: tuple[WireLabel, ...]
    """Two for each conductor outside the module."""
    legends: tuple[Legends, ...]
    """One for each button panel."""
