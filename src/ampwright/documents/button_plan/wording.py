"""What a button does, in the reader's words: the same on the button plan, in the handover guide and on the sheets."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ampwright.documents.words.words import Words, noted
from ampwright.job.design import Design
from ampwright.job.design_buttons import DesignButton, DesignInterlock

__all__ = ["channel_names", "does_text", "interlock_texts", "ordered_buttons"]

STATES = {
    "parked": noted("while parked"),
    "road": noted("while driving on the road"),
    "reversing": noted("while reversing"),
}
SIMPLE = {
    "toggle": noted("press: {names} on or off"),
    "momentary": noted("hold: {names} on until you let go"),
    "dim": noted("press: {names} on or off; hold: dimmer in steps, then full again"),
}


def ordered_buttons(design: Design) -> tuple[DesignButton, ...]:
    """Return the buttons by panel and number."""
    return tuple(sorted(design.buttons, key=lambda each: (each.part, each.number)))


def channel_names(design: Design, positions: Iterable[int]) -> str:
    """Return the names of channels as a list."""
    return ", ".join(design.channels[each].name for each in positions)


def does_text(design: Design, button: DesignButton, words: Words) -> str:
    """Return what a press, a hold or a second press of a button does."""
    names = channel_names(design, button.channels)
    if button.does == "scene":
        return words("press: {levels}; all else stays as it is", levels=_levels(design, button, words))
    if button.does == "all-off":
        kept = channel_names(design, button.keeps)
        if kept:
            return words("press: everything with a button goes off, but {kept} stays as it is", kept=kept)
        return words("press: everything with a button goes off")
    if button.does == "two-colours":
        first, second = (design.channels[each].name for each in button.channels)
        return words("press: {first}; second press: {second}; third press: off", first=first, second=second)
    return words(SIMPLE[button.does], names=names)


def _levels(design: Design, button: DesignButton, words: Words) -> str:
    return ", ".join(
        _level(design.channels[channel].name, level_frac, words)
        for channel, level_frac in zip(button.channels, button.levels_frac, strict=True)
    )


def _level(name: str, level_frac: float, words: Words) -> str:
    if level_frac == 0.0:
        return words("{name} off", name=name)
    if level_frac == 1.0:
        return words("{name} on", name=name)
    return words("{name} at {level}", name=name, level=words.percent(level_frac))


def interlock_texts(design: Design, words: Words) -> Iterator[str]:
    """Yield what each interlock keeps off, when, why, and what holds without a signal."""
    for lock in design.interlocks:
        names = channel_names(design, lock.channels)
        states = ", ".join(words(STATES[state]) for state in lock.off_while)
        yield " ".join(
            (words("{names}: stays off {states}.", names=names, states=states), _lost(lock, words))
        )


def _lost(lock: DesignInterlock, words: Words) -> str:
    lost = (
        words(
            "It stays off too when the signal of the vehicle is lost, and comes back only when pressed again."
        )
        if lock.when_lost == "off"
        else words("When the signal of the vehicle is lost it is switched as if parked.")
    )
    return f"{lost} ({lock.reason})" if lock.reason else lost
