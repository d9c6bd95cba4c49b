"""Where a job names a part of the catalogue, and the same job with another part in its place.

Certificates and prices name parts too, but say something of that very part: they stay, and the rules look at them.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from typing import Any

from ampwright.errors import FileError
from ampwright.job.text_edit import with_value
from ampwright.job.text_places import KeyPath

__all__ = ["ANY", "PLACES", "part_places", "parts_named", "place_words", "with_other_part"]

ANY = -1
"""Stands for the position of any row."""
PLACES: tuple[KeyPath, ...] = (
    ("part", ANY, "part"),
    ("part", ANY, "string_device"),
    ("part", ANY, "string_links", "cable"),
    ("run", ANY, "cable"),
    ("run", ANY, "back_cable"),
    ("run", ANY, "plugs", ANY),
    ("run", ANY, "device", ANY, "part"),
    ("bond", ANY, "cable"),
    ("load", ANY, "part"),
    ("module", "change", ANY, "becomes"),
    ("option", ANY, "part", ANY, "part"),
    ("option", ANY, "part", ANY, "string_device"),
    ("option", ANY, "part", ANY, "string_links", "cable"),
    ("option", ANY, "run", ANY, "cable"),
    ("option", ANY, "run", ANY, "back_cable"),
    ("option", ANY, "run", ANY, "plugs", ANY),
    ("option", ANY, "run", ANY, "device", ANY, "part"),
)
"""Keys of a job, and of a module's definition, that hold the id of a part built in."""


def part_places(raw: Mapping[str, Any], part_id: str) -> tuple[KeyPath, ...]:
    """Return the paths at which the tables of a job, or of a module's definition, name a part."""
    return tuple(path for place in PLACES for path, name in _named(raw, place, ()) if name == part_id)


def parts_named(raw: Mapping[str, Any]) -> frozenset[str]:
    """Return the ids of all parts that the tables of a job, or of a module's definition, build in."""
    found = (name for place in PLACES for _, name in _named(raw, place, ()))
    return frozenset(name for name in found if isinstance(name, str) and name)


def _named(value: Any, place: KeyPath, path: KeyPath) -> Iterator[tuple[KeyPath, Any]]:
    if not place:
        yield path, value
    elif place[0] == ANY:
        for index, row in enumerate(value if isinstance(value, list) else ()):
            yield from _named(row, place[1:], (*path, index))
    elif isinstance(value, Mapping) and place[0] in value:
        yield from _named(value[str(place[0])], place[1:], (*path, place[0]))


def place_words(raw: Mapping[str, Any], path: KeyPath) -> str:
    """Return a place in words, rows by their names.

    Examples
    --------
    >>> place_words({"run": [{"id": "W1", "cable": "cable-25"}]}, ("run", 0, "cable"))
    "run 'W1' cable"
    """
    words: list[str] = []
    at: Any = raw
    for step in path:
        at = at[step]
        if isinstance(step, int):
            name = at.get("id") or at.get("at") or at.get("part") if isinstance(at, Mapping) else ""
            words[-1] += f" '{name}'" if name else ""
        else:
            words.append(step.replace("_", " "))
    return " ".join(words)


def with_other_part(text: str, old: str, new: str) -> str:
    """Return the text of a job with another part wherever it names one; every comment stays.

    Raises
    ------
    FileError
        Where the job does not name the part, or its text cannot be changed without touching more.
    """
    places = part_places(tomllib.loads(text), old)
    if not places:
        raise FileError(
            f"the job names no part '{old}'; parts inside a power module are changed with its revision"
        )
    for path in places:
        text = with_value(text, path, new)
    return text
