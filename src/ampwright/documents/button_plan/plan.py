"""The button plan: each panel drawn with its buttons at their relative places, and what each of them does."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ampwright.documents.button_plan.wording import does_text, interlock_texts, ordered_buttons
from ampwright.documents.pack.records import Material, PackFile
from ampwright.documents.sheet.sheet import LICENSED, sheet_of, sheet_pdf
from ampwright.documents.words.words import Words, noted
from ampwright.job.design import Design, DesignPart
from ampwright.parts.switchgear import ButtonPanel, Remote
from ampwright.records import record

__all__ = [
    "TITLE",
    "ButtonPlanSheet",
    "DrawnButton",
    "DrawnPanel",
    "button_plan_sheet",
    "buttons",
    "no_buttons",
]

TITLE = noted("Button plan")
NOTHING = noted("The job does not say what its buttons do.")
MOST_WIDTH_MM, MOST_SCALE_FACTOR, PITCH_MM = 150.0, 1.3, 30.0
"""How large a panel is drawn, and the pitch where its size is not stated (own choice, docs/choices.md#button-plan)."""


@record
class DrawnButton:
    """One button of the drawing."""

    number: str
    """Its number."""
    legend: str
    """What stands on it; empty = no use is said."""
    x_mm: float
    """Left edge from that of the panel."""
    y_mm: float
    """Upper edge from that of the panel."""


@record
class DrawnPanel:
    """One panel with its buttons."""

    heading: str
    """Which panel."""
    size_mm: tuple[float, float]
    """Width and height of the drawing."""
    button_mm: tuple[float, float]
    """Width and height of a button."""
    buttons: tuple[DrawnButton, ...]
    """Its buttons."""
    rows: tuple[tuple[str, str, str], ...]
    """Number, legend, what it does."""


@record
class ButtonPlanSheet:
    """Everything the plan prints."""

    intro: str
    """How to read it."""
    panels: tuple[DrawnPanel, ...]
    """Panels and remotes with buttons in the job."""
    heads: tuple[str, str, str]
    """Headings of the columns."""
    interlocks_title: str
    """Heading of what stays off."""
    interlocks: tuple[str, ...]
    """What stays off and when."""
    always_on: str
    """What is always on; empty = nothing."""
    end: str
    """What the plan does not decide."""


def no_buttons(material: Material) -> str:
    """Say why there is no plan; empty = there is one."""
    return "" if material.design.buttons else NOTHING


def button_plan_sheet(material: Material) -> ButtonPlanSheet:
    """Return what the plan prints."""
    words, design = material.words, material.design
    always = ", ".join(channel.name for channel in design.channels if channel.is_always_on)
    return ButtonPlanSheet(
        intro=words(
            "Numbered in rows from the top left; the panel fitted goes first. All panels show the same state."
        ),
        panels=tuple(
            _panel(design, placed, words)
            for placed in design.parts
            if any(button.part == placed.index for button in design.buttons)
        ),
        heads=(words("button"), words("legend"), words("what it does")),
        interlocks_title=words("What stays off, whatever is pressed"),
        interlocks=tuple(interlock_texts(design, words)),
        always_on=words("Always on, without a button: {names}.", names=always) if always else "",
        end=words(LICENSED),
    )


def _panel(design: Design, placed: DesignPart, words: Words) -> DrawnPanel:
    said = {button.number: button for button in ordered_buttons(design) if button.part == placed.index}
    part = placed.part
    count = part.button_count if isinstance(part, ButtonPanel | Remote) else len(said)
    across = _across(part.length_mm, part.width_mm, count)
    down = math.ceil(count / across)
    width_mm = part.length_mm or across * PITCH_MM
    scale = min(MOST_SCALE_FACTOR, MOST_WIDTH_MM / width_mm)
    size_mm = (width_mm * scale, (part.width_mm or down * PITCH_MM) * scale)
    pitch_mm = (size_mm[0] / across, size_mm[1] / down)
    return DrawnPanel(
        heading=words("{name}: {part}", name=placed.id, part=part.name),
        size_mm=size_mm,
        button_mm=(0.84 * pitch_mm[0], 0.7 * pitch_mm[1]),
        buttons=tuple(
            DrawnButton(
                number=str(number),
                legend=said[number].legend if number in said else "",
                x_mm=((number - 1) % across + 0.08) * pitch_mm[0],
                y_mm=((number - 1) // across + 0.15) * pitch_mm[1],
            )
            for number in range(1, count + 1)
        ),
        rows=tuple(
            (str(number), button.legend, does_text(design, button, words)) for number, button in said.items()
        ),
    )


def _across(length_mm: float, width_mm: float, count: int) -> int:
    """Return how many buttons stand side by side where their pitch is near square."""
    shape = length_mm / width_mm if length_mm > 0.0 and width_mm > 0.0 else 1.5
    return min(count, max(1, round(math.sqrt(count * shape))))


def buttons(material: Material) -> Iterator[PackFile]:
    """Make the plan."""
    pdf = sheet_pdf("button_plan/plan.typ", sheet_of(material, TITLE), button_plan_sheet(material))
    yield PackFile(name="buttons.pdf", content=pdf)
