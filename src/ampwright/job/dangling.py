"""What else is wrong in a job whose tables do not fit the format.

The wrong fields are put aside, stand-ins fill what is then missing, and the job is resolved: names that
lead nowhere are found in the same pass as unknown keys. What a stand-in may have caused is not told.
"""

from __future__ import annotations

import copy
import datetime as dt
from dataclasses import is_dataclass
from pathlib import Path
from typing import Any, Literal, get_args, get_origin

from ampwright.errors import AmpwrightError, JobError, Problem
from ampwright.field_types import hint_at, options
from ampwright.job.definitions import load_definition
from ampwright.job.loaded import LoadedJob
from ampwright.job.quantity import Measured, Unknown
from ampwright.job.records import Job
from ampwright.job.resolve import resolve
from ampwright.job.workshop import Workshop
from ampwright.parts.catalogue import catalogue_with, shipped_catalogue
from ampwright.validation import WrongPlace, path_text, validated, wrong_places

__all__ = ["dangling_problems"]

KeyPath = tuple[str | int, ...]

_ROUNDS = 4  # put aside, fill in, and once more for what only then shows
_NAME_KEYS = frozenset(
    {
        "at", "back_cable", "cable", "channel", "channels", "days", "definition", "end", "inside", "keeps", "module", "options", "panel", "part",
        "plugs", "site", "start", "string_device", "through", "zone", "zones",
    }
)  # fmt: skip
_NAMING_TABLES = ("part", "zone", "day", "load", "module", "run")
_STAND_INS: dict[Any, object] = {bool: False, int: 1, float: 1, str: "", dt.date: "2000-01-01"}


def dangling_problems(
    raw: dict[str, Any], text: str, file: Path, workshop: Workshop | None = None
) -> tuple[Problem, ...] | None:
    """Return the problems beyond those of the format; None where names cannot be looked up."""
    mended = _mended(raw)
    if mended is None:
        return None
    job, wrong = mended
    loaded = LoadedJob(job=job, file=file, text=text, raw=raw, sha256="", workshop=workshop)
    base = shipped_catalogue() if workshop is None else workshop.catalogue
    try:
        catalogue = catalogue_with(base, [file.parent / name for name in job.parts_files])
        definition = load_definition(loaded)
    except AmpwrightError:
        return None
    try:
        resolve(job, catalogue, definition=definition, loaded=loaded)
    except JobError as error:
        return tuple(problem for problem in error.problems if _is_sound(problem, wrong, raw))
    return ()


def _mended(raw: dict[str, Any]) -> tuple[Job, list[KeyPath]] | None:
    """Return a job without the wrong fields, and where they stood; None where too much is missing."""
    from pydantic import ValidationError  # noqa: PLC0415 - heavy, needed only where text is checked

    tables = copy.deepcopy(raw)
    wrong: list[KeyPath] = []
    for _ in range(_ROUNDS):
        try:
            return validated(Job, tables), wrong
        except ValidationError as error:
            places = wrong_places(error, tables)
        for place in places:
            path = _field_of(place, tables)
            if path is None or not _mend(tables, path, is_missing=place.is_missing):
                return None
            wrong.append(path)
    return None


def _field_of(place: WrongPlace, tables: dict[str, Any]) -> KeyPath | None:
    """Return the field to put aside; None where others depend on it or it is a whole table."""
    path = place.path
    while path and isinstance(path[-1], int):
        path = path[:-1]
    if path == ("format",):
        return path
    if place.is_unknown_key and _holds_tables(tables, path):
        return None
    is_name = path[-1:] == ("id",) or (path[-1:] == ("part",) and path[:1] == ("part",))
    if len(path) < 2 or path[0] == "module" or (is_name and path[0] in _NAMING_TABLES):
        return None
    bases = [get_origin(option) or option for option in options(hint_at(Job, path))]
    inner = [part for option in options(hint_at(Job, path)) for part in get_args(option)]
    tables_wanted = [each for each in (*bases, *inner) if is_dataclass(each)]
    return None if any(each not in (Measured, Unknown) for each in tables_wanted) else path


def _holds_tables(tables: dict[str, Any], path: KeyPath) -> bool:
    """Say whether a table or list of tables stands there, that of a quantity aside."""
    value: Any = tables
    for step in path:
        value = value[step]
    if isinstance(value, list):
        return any(isinstance(each, dict) for each in value)
    return isinstance(value, dict) and not value.keys() & {"measured", "unknown"}


def _mend(tables: dict[str, Any], path: KeyPath, *, is_missing: bool) -> bool:
    """Take a wrong field out, or put a stand-in where one is missing; False where neither can be."""
    at: Any = tables
    for step in path[:-1]:
        if isinstance(at, dict) and step not in at:
            return True  # put aside already, with the table around it
        at = at[step]
    if not isinstance(at, dict):
        return False
    if not is_missing:
        at.pop(path[-1], None)
        return True
    stand_in = _stand_in(hint_at(Job, path))
    at[str(path[-1])] = stand_in
    return stand_in is not None


def _stand_in(hint: object) -> object:
    """Return something that fits the type; None where nothing simple does."""
    for option in options(hint):
        if get_origin(option) is Literal:
            return get_args(option)[0]
        if get_origin(option) is tuple:
            members = get_args(option)
            return [_stand_in(each) for each in members if each is not Ellipsis]
        if option in _STAND_INS:
            return _STAND_INS[option]
    return None


def _is_sound(problem: Problem, wrong: list[KeyPath], raw: dict[str, Any]) -> bool:
    """Say whether a problem is the file's own: not at a wrong field, nor caused by a stand-in."""
    for path in wrong:
        field = path_text(path, raw)
        if problem.path == field or problem.path.startswith((f"{field} > ", f"{field} number ")):
            return False
    if problem.path.rpartition(" > ")[2].partition(" ")[0] in _NAME_KEYS:
        return True
    return problem.path.partition(" ")[0] not in {path[0] for path in wrong}
