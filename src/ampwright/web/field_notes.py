"""What is said at single fields of a job: names that lead nowhere, and until when an override holds.

Answers at which field a problem or finding belongs; where none is found it stands with the verdict alone.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ampwright.assessment.overrides import OVERRIDE, subject_text
from ampwright.assessment.result import Assessment
from ampwright.findings import Severity
from ampwright.job.text_places import KeyPath
from ampwright.records import record
from ampwright.validation import path_text
from ampwright.web.answers import Live
from ampwright.web.sheet import dotted

__all__ = ["FieldNote", "field_notes", "place_in_words"]

BELOW = " > "
"""Stands between the steps of a path in words."""


@record
class FieldNote:
    """One thing said at a field."""

    path: str
    """Path of the field with dots; empty = it belongs to none."""
    row: str
    """Path of the page with the field; empty where it has none of its own."""
    place: str
    """The place in words; empty where there is none."""
    message: str
    """What is said."""
    is_wrong: bool
    """True where something has to be mended."""


def field_notes(live: Live, raw: Any) -> tuple[FieldNote, ...]:
    """Return what is said at fields of a revision; every problem of a job that cannot be reckoned is among it.

    Parameters
    ----------
    raw : tables of the revision as written
    """
    if live.assessment is not None:
        return tuple(_override_notes(live.assessment))
    return tuple(_note(place_in_words(each.path, raw), each.path, each.message) for each in live.problems)


def place_in_words(words: str, raw: Any) -> KeyPath:
    """Return the path of a place in words; empty where it cannot be told.

    Examples
    --------
    >>> raw = {"load": [{"id": "fan", "when": [{}]}], "use": {"days": ["a", "b"]}}
    >>> place_in_words("load 'fan' > zone", raw), place_in_words("use > days number 2", raw)
    (('load', 0, 'zone'), ('use', 'days'))
    >>> place_in_words("nothing > here", raw), place_in_words("", raw)
    ((), ())
    """
    found: KeyPath = ()
    rest = words
    for path in _tables(raw):
        said = path_text(path, raw)
        is_inside = words == said or words.startswith(said + BELOW)
        if is_inside and len(path) > len(found):
            found, rest = path, words[len(said) + len(BELOW) :]
    key = rest.partition(BELOW)[0].partition(" number ")[0]
    return (*found, key) if found and key else found


def _tables(raw: Any, path: KeyPath = ()) -> Iterator[KeyPath]:
    """Yield the path of every table and row."""
    if path and isinstance(raw, dict):
        yield path
    steps = raw.items() if isinstance(raw, dict) else enumerate(raw) if isinstance(raw, list) else ()
    for step, below in steps:
        yield from _tables(below, (*path, step))


def _note(path: KeyPath, place: str, message: str) -> FieldNote:
    is_in_row = len(path) > 1 and isinstance(path[1], int)
    row = dotted(path[:2]) if is_in_row else ""
    return FieldNote(path=dotted(path), row=row, place=place, message=message, is_wrong=True)


def _override_notes(found: Assessment) -> Iterator[FieldNote]:
    """Yield for each override whether it holds today and until when, and what keeps it from doing so."""
    said = [each for each in found.findings if each.rule == OVERRIDE.name]
    for index, override in enumerate(found.design.job.override):
        for each in said:
            if each.subject == subject_text(override):
                yield FieldNote(
                    path=f"override.{index}.expires",
                    row=f"override.{index}",
                    place="",
                    message=each.message,
                    is_wrong=each.severity != Severity.PASS,
                )
