"""Buttons and interlocks with their panels and channels found; what cannot be meant is a problem."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ampwright.job.buttons import Button
from ampwright.job.complaints import Path, meant
from ampwright.job.design import DesignPart
from ampwright.job.design_buttons import DesignButton, DesignInterlock
from ampwright.job.design_wiring import DesignChannel
from ampwright.job.lookup import Lookup
from ampwright.parts.switchgear import ButtonPanel, Remote

__all__ = ["resolved_buttons", "resolved_interlocks"]

Found = dict[str, int]
WANTS = {
    "toggle": "channels",
    "momentary": "channels",
    "dim": "channels",
    "two-colours": "channels",
    "scene": "level",
}
SAYS = ("channels", "level", "keeps")


def resolved_buttons(
    lookup: Lookup, parts: tuple[DesignPart, ...], channels: tuple[DesignChannel, ...]
) -> tuple[DesignButton, ...]:
    """Return the buttons whose panel exists, and note everything that is wrong with any of them."""
    panels = {part.id: part for part in parts if isinstance(part.part, ButtonPanel | Remote)}
    known = _names(parts, channels)
    buttons: list[DesignButton] = []
    seen: set[tuple[str, int]] = set()
    for index, button in enumerate(lookup.job.button):
        path: Path = ("button", index)
        _check_saying(lookup, button, path)
        switched = _channels(lookup, button.channels, (*path, "channels"), known)
        scene = _channels(lookup, [each.channel for each in button.level], (*path, "level"), known)
        keeps = _channels(lookup, button.keeps, (*path, "keeps"), known)
        _check_always_on(lookup, (*switched, *scene), channels, path)
        placed = panels.get(button.panel)
        if placed is None:
            lookup.complaints.add(
                (*path, "panel"),
                f"no button panel or remote '{button.panel}'; {meant(button.panel, panels)}",
            )
            continue
        _check_number(lookup, button, path, placed)
        if (button.panel, button.number) in seen:
            lookup.complaints.add(
                (*path, "number"),
                f"button {button.number} of '{button.panel}' is described twice; one button does one thing",
            )
        seen.add((button.panel, button.number))
        is_scene = button.does == "scene"
        buttons.append(
            DesignButton(
                index=len(buttons),
                part=placed.index,
                number=button.number,
                legend=button.legend,
                does=button.does,
                channels=scene if is_scene else switched,
                levels_frac=tuple(each.level_frac for each in button.level if each.channel in known)
                if is_scene
                else (),
                keeps=keeps,
            )
        )
    _check_pairs(lookup, buttons)
    return tuple(buttons)


def resolved_interlocks(
    lookup: Lookup, parts: tuple[DesignPart, ...], channels: tuple[DesignChannel, ...]
) -> tuple[DesignInterlock, ...]:
    """Return the interlocks; unknown channels, or none at all, are problems."""
    known = _names(parts, channels)
    found: list[DesignInterlock] = []
    for index, lock in enumerate(lookup.job.interlock):
        path: Path = ("interlock", index)
        locked = _channels(lookup, lock.channels, (*path, "channels"), known)
        if not lock.channels:
            lookup.complaints.add((*path, "channels"), "an interlock keeps something off; name its channels")
        if not lock.off_while:
            lookup.complaints.add((*path, "off_while"), "name the states in which its channels stay off")
        _check_always_on(lookup, locked, channels, path)
        found.append(
            DesignInterlock(
                channels=locked,
                off_while=lock.off_while,
                when_lost=lock.when_lost,
                told_by=lock.told_by,
                reason=lock.reason,
            )
        )
    return tuple(found)


def _names(parts: tuple[DesignPart, ...], channels: tuple[DesignChannel, ...]) -> Found:
    return {f"{parts[each.part].id}.{each.number}": position for position, each in enumerate(channels)}


def _channels(lookup: Lookup, names: Iterable[str], path: Path, known: Found) -> tuple[int, ...]:
    """Return the positions of channels; one that is not described, or named twice, is a problem."""
    found: list[int] = []
    for position, name in enumerate(names):
        where = (*path, position, "channel") if path[-1] == "level" else (*path, position)
        if name not in known:
            lookup.complaints.add(
                where, f"no [[channel]] describes '{name}'; write \"module.number\"; {meant(name, known)}"
            )
        elif known[name] in found:
            lookup.complaints.add(where, f"'{name}' is named twice; once is enough")
        else:
            found.append(known[name])
    return tuple(found)


def _check_saying(lookup: Lookup, button: Button, path: Path) -> None:
    """Note what a button says that its use does not know, and what its use wants and is not said."""
    wanted = WANTS.get(button.does, "keeps")
    for name in SAYS:
        if getattr(button, name) and name != wanted:
            lookup.complaints.add(
                (*path, name),
                f"a button that does '{button.does}' knows no {name}; take it out"
                + (f" and use {wanted}" if wanted != "keeps" else ""),
            )
    if wanted != "keeps" and not getattr(button, wanted):
        lookup.complaints.add((*path, wanted), f"a button that does '{button.does}' needs {wanted}")
    if button.does == "two-colours" and button.channels and len(button.channels) != 2:
        lookup.complaints.add(
            (*path, "channels"), f"two colours are two channels; {len(button.channels)} are named"
        )
    if not button.legend.strip():
        lookup.complaints.add((*path, "legend"), "a button needs a legend; write what it switches in a word")


def _check_number(lookup: Lookup, button: Button, path: Path, placed: DesignPart) -> None:
    part = placed.part
    if isinstance(part, ButtonPanel | Remote) and button.number > part.button_count:
        lookup.complaints.add((*path, "number"), f"'{button.panel}' has buttons 1 to {part.button_count}")


def _check_always_on(
    lookup: Lookup, named: Iterable[int], channels: tuple[DesignChannel, ...], path: Path
) -> None:
    for position in named:
        channel = channels[position]
        if channel.is_always_on:
            lookup.complaints.add(
                path,
                f"channel {channel.number} '{channel.name}' is always on; "
                "take is_always_on out of its [[channel]], or the channel out here",
            )


def _check_pairs(lookup: Lookup, buttons: list[DesignButton]) -> None:
    """Complain of a button that would bring both colours of one lamp on at once."""
    pairs = [button.channels for button in buttons if button.does == "two-colours"]
    for button in buttons:
        if button.does == "two-colours":
            continue
        on = set(_switched_on(button))
        if any(len(pair) == 2 and on.issuperset(pair) for pair in pairs):
            index = next(
                position
                for position, each in enumerate(lookup.job.button)
                if (each.number, each.legend, each.does) == (button.number, button.legend, button.does)
            )
            lookup.complaints.add(
                ("button", index), "brings both colours of one lamp on at once; leave one of the two out"
            )


def _switched_on(button: DesignButton) -> Iterator[int]:
    if button.does != "scene":
        yield from button.channels
        return
    for channel, level_frac in zip(button.channels, button.levels_frac, strict=False):
        if level_frac > 0.0:
            yield channel
