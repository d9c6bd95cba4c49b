"""Buttons of the commissioning sheet: press each, and look at what comes on, what it takes, and what must stay off."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ampwright.documents.button_plan.wording import does_text, interlock_texts, ordered_buttons
from ampwright.documents.pack.records import Material
from ampwright.documents.sheet.sections import TICK, Section, Table
from ampwright.fieldwork.predicted import PredictedTest
from ampwright.job.design_buttons import DesignButton

__all__ = ["button_sections"]


def button_sections(material: Material, tests: Iterable[PredictedTest]) -> Iterator[Section]:
    """Yield what each button must do, with its outputs and their current; nothing without buttons."""
    design, words = material.design, material.words
    if not design.buttons:
        return
    takes_a = {test.subject: test.load_a for test in tests if test.kind == "channel-limit"}
    yield Section(
        title=words("Buttons"),
        text=(
            words(
                "Begin with everything off. Press each button as said: only its outputs may change. The current is what their loads "
                "take at most, all together."
            ),
        ),
        table=Table(
            heads=(
                words("button"),
                words("legend"),
                words("what it does"),
                words("outputs"),
                words("current at most"),
                words("ok"),
            ),
            width_factor=(1.2, 1.2, 3.6, 1.8, 1.2, -10.0),
            rows=tuple(_row(material, button, takes_a) for button in ordered_buttons(design)),
        ),
    )
    if design.interlocks:
        yield Section(
            title=words("What stays off, whatever is pressed"),
            text=(
                words(
                    "On private ground, wheels chocked, someone at the pedals: make the vehicle tell each state, press every button of the "
                    "output, and look from outside. Then pull the signal's wire off and look again."
                ),
            ),
            table=Table(
                heads=(words("what it does"), words("ok")),
                width_factor=(1.0, -10.0),
                rows=tuple((text, TICK) for text in interlock_texts(design, words)),
            ),
        )


def _row(material: Material, button: DesignButton, takes_a: dict[str, float | None]) -> tuple[str, ...]:
    design, words = material.design, material.words
    part = design.parts[button.part]
    names = [
        f"{design.parts[design.channels[each].part].id}.{design.channels[each].number}"
        for each in _on(button)
    ]
    known_a = [takes_a.get(name) for name in names]
    whole_a = sum(each or 0.0 for each in known_a)
    if button.does == "two-colours":
        whole_a = max((each or 0.0 for each in known_a), default=0.0)
    is_known = all(each is not None for each in known_a)
    current = words.quantity(whole_a, "A") if is_known else words("no load in the job")
    return (
        f"{part.id}.{button.number}",
        button.legend,
        does_text(design, button, words),
        ", ".join(names) or "–",
        current if names else "–",
        TICK,
    )


def _on(button: DesignButton) -> tuple[int, ...]:
    """Return the channels a button can turn on."""
    if button.does != "scene":
        return button.channels
    pairs = zip(button.channels, button.levels_frac, strict=True)
    return tuple(channel for channel, level_frac in pairs if level_frac > 0.0)
