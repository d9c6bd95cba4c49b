"""Legends of button panels at the panel's size: of its buttons, or of each channel where the job says no buttons."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ampwright.documents.button_plan.wording import ordered_buttons
from ampwright.documents.labels.records import Legends
from ampwright.documents.quantity_text import UNIT_SPACE
from ampwright.documents.words.words import Words, noted
from ampwright.job.design import Design
from ampwright.parts.switchgear import ButtonPanel

__all__ = ["legends_of"]

HEIGHT_MM = 8.0
GAP_MM = 6.0
UNKNOWN_WIDTH_MM = 24.0
"""Height of a legend, and what a button's pitch leaves beside it (own choice, docs/choices.md#label-sizes)."""
NAME_TOO_LONG = noted(
    "Not printed: '{name}' has {count} letters, {limit} fit. Shorten the channel's name in the job."
)
TOO_LONG = noted(
    "Not printed: '{name}' has {count} letters, {limit} fit. Shorten the button's legend in the job."
)


def legends_of(design: Design, words: Words) -> Iterator[Legends]:
    """Yield the legends of each button panel: one for each of its buttons, else one for each channel in use."""
    channels = [
        channel.name for channel in sorted(design.channels, key=lambda each: (each.part, each.number))
    ]
    for placed in design.parts:
        part = placed.part
        own = [button.legend for button in ordered_buttons(design) if button.part == placed.index]
        names = own if design.buttons else channels
        if isinstance(part, ButtonPanel) and names:
            yield Legends(
                heading=_heading(placed.id, part, words),
                width_mm=legend_width_mm(part),
                height_mm=HEIGHT_MM,
                outside_mm=(part.length_mm, part.width_mm) if part.width_mm > 0.0 else (0.0, 0.0),
                outline=words(
                    "outline of {name}, {size}",
                    name=placed.id,
                    size=f"{part.length_mm:g} × {part.width_mm:g}{UNIT_SPACE}mm",
                ),
                names=tuple(name for name in names if len(name) <= part.legend_max_count),
                notes=tuple(_notes(names, part, words, is_of_buttons=bool(own))),
            )


def legend_width_mm(part: ButtonPanel) -> float:
    """Return the width of a legend: the pitch of buttons laid out near square, less a gap."""
    if part.length_mm == 0.0 or part.width_mm == 0.0:
        return UNKNOWN_WIDTH_MM
    across = max(1, round(math.sqrt(part.button_count * part.length_mm / part.width_mm)))
    return max(part.length_mm / across - GAP_MM, HEIGHT_MM)


def _heading(name: str, part: ButtonPanel, words: Words) -> str:
    return words(
        "{name}: {count} buttons, {letters} letters fit on a legend",
        name=name,
        count=part.button_count,
        letters=part.legend_max_count,
    )


def _notes(names: list[str], part: ButtonPanel, words: Words, *, is_of_buttons: bool) -> Iterator[str]:
    text = TOO_LONG if is_of_buttons else NAME_TOO_LONG
    for name in names:
        if len(name) > part.legend_max_count:
            yield words(
                text,
                name=name,
                count=len(name),
                limit=part.legend_max_count,
            )
    if len(names) > part.button_count:
        yield words(
            "{channels} channels, {buttons} buttons: choose which get one.",
            channels=len(names),
            buttons=part.button_count,
        )
