"""From text to records, and from the validator's errors to problems a workshop can mend.

Answers: does this raw table (as TOML or JSON gives it) make a valid record, and if not, what is wrong at
which key and line, in plain words? Where the table came from and what it is for is left to the caller.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import is_dataclass
from difflib import get_close_matches
from functools import lru_cache
from typing import (
    TYPE_CHECKING,
    Any,
    TypeVar,
    get_args,
    get_origin,
)

from ampwright.errors import Problem
from ampwright.field_types import field_hints, hint_at, number_words, options, wanted
from ampwright.records import record
from ampwright.toml_positions import line_of
from ampwright.units import degc_from_degf, symbol, unit_suffix

if TYPE_CHECKING:
    from pydantic import TypeAdapter, ValidationError

__all__ = [
    "MAX_PROBLEM_COUNT",
    "WrongPlace",
    "capped",
    "near_names",
    "path_text",
    "problems_from",
    "validated",
    "wrong_places",
]

T = TypeVar("T")
KeyPath = tuple[str | int, ...]

MAX_PROBLEM_COUNT = 200
"""Most problems told of one table or file; nobody reads more (our own choice)."""
MAX_NAME_COUNT = 60
"""Characters of a stranger's name that are repeated to him (our own choice)."""

_MISMATCH = ("dataclass_type", "none_required", "model_type")
_BOUND_WORDS = {
    "greater_than": ("gt", "more than"),
    "greater_than_equal": ("ge", "at least"),
    "less_than": ("lt", "less than"),
    "less_than_equal": ("le", "at most"),
}
_QUANTITY_KEYS = ("measured", "unknown", "likely")


@record
class _Fault:
    """One error of the validator, its place told apart from the names of union branches."""

    path: KeyPath
    """Keys and list positions that exist in the file (or should)."""
    branches: tuple[tuple[KeyPath, str], ...]
    """Where in the path a union stands, and which branch of it the error belongs to."""
    details: Mapping[str, Any]
    """The validator's own description."""


@record
class WrongPlace:
    """Where a raw table does not fit its record."""

    path: KeyPath
    """Keys and list positions."""
    is_missing: bool
    """True when something needed is not there."""
    is_unknown_key: bool
    """True when the key does not exist in the record."""


def validated(kind: type[T], raw: object) -> T:
    """Return the record that a raw table makes; lists become tuples, numbers are never guessed from text.

    Raises
    ------
    pydantic.ValidationError
        To be turned into problems by `problems_from`.
    """
    made: T = _adapter(kind).validate_json(json.dumps(raw, default=str))
    return made


def problems_from(
    error: ValidationError,
    raw: object,
    *,
    kind: type,
    text: str | None = None,
    prefix: KeyPath = (),
) -> list[Problem]:
    """Return every error as a problem with its place, its line and what would be right.

    Parameters
    ----------
    raw
        What was validated; it tells which branch of a union the writer meant.
    kind
        The record it was validated against; it tells which keys exist.
    text
        The TOML text it came from; without it problems have no line.
    prefix
        Where `raw` stands in that text.
    """
    kept = _meant_faults(error, raw)
    misspelt = {_meant_field(fault, kind) for fault, _ in kept if _is_unknown_key(fault)}
    kept = [each for each in kept if not (_is_missing(each[0]) and each[0].path in misspelt)]
    problems: dict[tuple[str, str], Problem] = {}
    for fault, unmeant in kept[: MAX_PROBLEM_COUNT + 1]:
        path = fault.path if unmeant is None else unmeant
        message = _message(fault, raw, kind) if unmeant is None else _quantity_message(path)
        place = path_text((*prefix, *path), raw, depth_count=len(prefix))
        line = line_of(text, (*prefix, *path)) if text is not None else None
        problems.setdefault((place, message), Problem(path=place, message=message, line=line))
    return capped(list(problems.values()))


def wrong_places(error: ValidationError, raw: object) -> list[WrongPlace]:
    """Return where the raw table is wrong, the branches of a union that were not meant left out."""
    return [
        WrongPlace(path=fault.path, is_missing=_is_missing(fault), is_unknown_key=_is_unknown_key(fault))
        if unmeant is None
        else WrongPlace(path=unmeant, is_missing=False, is_unknown_key=False)
        for fault, unmeant in _meant_faults(error, raw)
    ]


def capped(problems: list[Problem]) -> list[Problem]:
    """Return at most MAX_PROBLEM_COUNT problems and, if there were more, a word that says so."""
    if len(problems) <= MAX_PROBLEM_COUNT:
        return problems
    more = Problem(path="", message="and more problems; mend these first")
    return [*problems[:MAX_PROBLEM_COUNT], more]


def path_text(path: KeyPath, raw: object, *, depth_count: int = 0) -> str:
    """Return a place in words; `raw` is what stands at the first `depth_count` steps of the path.

    Examples
    --------
    >>> path_text(("load", 0, "power_w"), {"load": [{"id": "fan"}]})
    "load 'fan' > power_w"
    >>> path_text(("part", 4, "outputs", 0), {}, depth_count=2)
    'part number 5 > outputs number 1'
    """
    words: list[str] = []
    at: object = raw
    for index, step in enumerate(path):
        if index >= depth_count:
            at = _below(at, step)
        here = at if index >= depth_count - 1 else None
        if isinstance(step, str):
            words.append(step[:MAX_NAME_COUNT])
            continue
        name = here.get("id") if isinstance(here, dict) else None
        said = f"'{name[:MAX_NAME_COUNT]}'" if isinstance(name, str) and name else f"number {step + 1}"
        words = [*words[:-1], f"{words[-1]} {said}"] if words else [said]
    return " > ".join(words)


def near_names(name: str, known: Iterable[str]) -> str:
    """Return "; did you mean 'x'?", or the known names where none is near.

    Examples
    --------
    >>> near_names("powr_w", ["power_w", "mass_kg"])
    "; did you mean 'power_w'?"
    """
    names = sorted(known)
    close = _nearest(name, names)
    if close:
        return f"; did you mean '{close}'{_in_unit(name, close)}?"
    return f"; known: {', '.join(names)}" if names else ""


def _nearest(name: str, known: Iterable[str]) -> str:
    names = sorted(known)
    same = [each for each in names if each.casefold() == name.casefold()]
    return next(iter(same or get_close_matches(name, names, n=1, cutoff=0.7)), "")


def _in_unit(name: str, close: str) -> str:
    """Return the unit of the name that is near, where the two differ by their unit only."""
    is_same_but_unit = name != close and name.rpartition("_")[0] == close.rpartition("_")[0] != ""
    return f", in {symbol(close)}" if is_same_but_unit and unit_suffix(close) and symbol(close) else ""


def _adapter(kind: type) -> TypeAdapter[Any]:
    return _made_adapter(kind)


@lru_cache(maxsize=256)
def _made_adapter(kind: type) -> TypeAdapter[Any]:
    """Return the validator of a record once built (a memo: 5 ms each)."""
    from pydantic import TypeAdapter  # noqa: PLC0415 - costs 0.1 s, needed only where text is checked

    return TypeAdapter(kind)


def _below(at: object, step: str | int) -> object:
    if isinstance(at, dict):
        return at.get(step)
    if isinstance(at, list | tuple) and isinstance(step, int) and step < len(at):
        return at[step]
    return None


def _at(raw: object, path: KeyPath) -> object:
    for step in path:
        raw = _below(raw, step)
    return raw


def _fault(details: Mapping[str, Any], raw: object) -> _Fault:
    """Tell keys from union branches: a name that is no key of the table at hand is a branch."""
    at: object = raw
    path: KeyPath = ()
    branches: list[tuple[KeyPath, str]] = []
    place = details["loc"]
    for number, step in enumerate(place, start=1):
        is_missing = number == len(place) and details["type"] == "missing"
        is_key = isinstance(at, dict) and step in at
        if is_key or is_missing or (isinstance(at, list | tuple) and isinstance(step, int)):
            path = (*path, step)
            at = _below(at, step)
        else:
            branches.append((path, str(step)))
    return _Fault(path=path, branches=tuple(branches), details=details)


def _meant_faults(error: ValidationError, raw: object) -> list[tuple[_Fault, KeyPath | None]]:
    """Return the faults of the branches meant, each with the place of a quantity that fits none."""
    faults = [_fault(details, raw) for details in error.errors(include_url=False, include_context=True)]
    meant = _meant_branches(faults, raw)
    return [
        (fault, next((place for place, _ in fault.branches if meant[place] == ""), None))
        for fault in faults
        if all(meant[place] in ("", name) for place, name in fault.branches)
    ]


def _is_missing(fault: _Fault) -> bool:
    return bool(fault.details["type"] == "missing")


def _is_unknown_key(fault: _Fault) -> bool:
    return fault.details["type"] in ("unexpected_keyword_argument", "extra_forbidden")


def _known_keys(fault: _Fault, kind: type) -> list[str]:
    return [key for option in _records_at(kind, fault.path[:-1], fault) for key in field_hints(option)]


def _meant_field(fault: _Fault, kind: type) -> KeyPath:
    """Return the place of the field that an unknown key is nearest to; the key's own where none is."""
    close = _nearest(str(fault.path[-1])[:MAX_NAME_COUNT], _known_keys(fault, kind))
    return (*fault.path[:-1], close) if close else fault.path


def _meant_branches(faults: list[_Fault], raw: object) -> dict[KeyPath, str]:
    """Return for every union the branch its writer meant; "" where a quantity fits none."""
    by_place: dict[KeyPath, dict[str, list[_Fault]]] = {}
    for fault in faults:
        for place, name in fault.branches:
            by_place.setdefault(place, {}).setdefault(name, []).append(fault)
    return {place: _meant_branch(_at(raw, place), place, branches) for place, branches in by_place.items()}


def _meant_branch(value: object, place: KeyPath, branches: dict[str, list[_Fault]]) -> str:
    is_quantity = any(name.startswith(("Measured", "Unknown")) for name in branches)
    if is_quantity and isinstance(value, dict):
        for key in ("measured", "unknown"):
            if key in value:
                return next((name for name in branches if name.lower().startswith(key)), "")
        return ""

    def distance(name: str) -> tuple[bool, int]:
        own = branches[name]
        wrong_shape = any(fault.path == place and fault.details["type"] in _MISMATCH for fault in own)
        return wrong_shape, len(own)

    return min(branches, key=distance)


def _message(fault: _Fault, raw: object, kind: type) -> str:
    details, path = fault.details, fault.path
    code = details["type"]
    given = f"; you gave {_said(_at(raw, path))}"
    if _is_unknown_key(fault):
        name = str(path[-1])[:MAX_NAME_COUNT]
        return f"unknown key '{name}'{near_names(name, _known_keys(fault, kind))}"
    if code in ("missing", "too_long", "too_short"):
        return _missing_message(path, hint_at(kind, path), is_empty=_at(raw, path) == [])
    if code in _BOUND_WORDS:
        key, words = _BOUND_WORDS[code]
        return f"must be {words} {details['ctx'][key]:g}{given}{_unit_hint(path, raw)}"
    if code.startswith("date_"):
        return f"give a date without quotes, e.g. {path[-1] if path else 'date'} = 2026-03-01{given}"
    if code.endswith(("_type", "_error")) or code in ("int_from_float", "finite_number"):
        right = _right_words(code, _quantity_name(path), hint_at(kind, path))
        return f"must be {right}{given}" if right else str(details["msg"]).partition(", ")[2]
    return str(details["msg"])


def _unit_hint(path: KeyPath, raw: object) -> str:
    """Return how a percentage or a temperature in degrees Fahrenheit is written, where it may be one."""
    value = _at(raw, path)
    if _quantity_name(path).endswith("_degc") and isinstance(value, int | float) and 60 < value <= 212:
        return f"; {value:g} °F are {degc_from_degf(value):.0f} °C"
    if not _quantity_name(path).endswith("_frac") or not isinstance(value, int) or not 2 <= value <= 100:
        return ""
    return f"; write {value / 100:.2f} for {value} %"


def _missing_message(path: KeyPath, hint: object, *, is_empty: bool) -> str:
    if is_empty:
        return "the list is empty; write at least one"
    if path and isinstance(path[-1], str) and "unknown" not in path[-1:]:
        return f"missing; give {wanted(_quantity_name(path), hint)}"
    return "the list has the wrong length" + ("; give [low, high]" if "unknown" in path else "")


def _right_words(code: str, name: str, hint: object) -> str:
    """Return what would be right; empty for a record's own complaint, which says so itself."""
    if code in ("value_error", "assertion_error"):
        return ""
    inner = [option for each in options(hint) for part in get_args(each) for option in options(part)]
    if code == "tuple_type" and any(is_dataclass(option) for option in inner):
        return f"a list of tables, each headed [[{name}]]"
    plain = {
        "bool_type": "true or false",
        "int_type": "a whole number",
        "int_from_float": "a whole number",
        "finite_number": "a finite number",
        "string_type": "a text in quotes",
        "float_type": number_words(name),
        "dataclass_type": "a table of keys",
        "tuple_type": "a list in [ ]",
    }
    return plain.get(code) or wanted(name, hint)


def _quantity_message(path: KeyPath) -> str:
    words = number_words(_quantity_name(path))
    return f'give {words}, or {{measured = ..., how = "..."}}, or {{unknown = [low, high]}}'


def _quantity_name(path: KeyPath) -> str:
    """Return the key that carries the unit: the last one that is not part of a quantity's own table."""
    names = [step for step in path if isinstance(step, str)]
    return next((name for name in reversed(names) if name not in _QUANTITY_KEYS), names[-1] if names else "")


def _said(value: object) -> str:
    if isinstance(value, str):
        return f"the text '{value if len(value) <= 40 else value[:40] + '...'}'"
    if isinstance(value, bool):
        return "true" if value else "false"
    if value is None:
        return "nothing"
    if isinstance(value, dict):
        return "a table"
    return "a list" if isinstance(value, list | tuple) else str(value)[:40]


def _records_at(kind: type, path: KeyPath, fault: _Fault) -> list[type]:
    """Return the records that may stand at a path, only the meant one where a union branch tells."""
    bases = [get_origin(option) or option for option in options(hint_at(kind, path))]
    records = [option for option in bases if isinstance(option, type) and is_dataclass(option)]
    names = {name.split("[")[0] for place, name in fault.branches if place == path}
    return [option for option in records if option.__name__ in names] or records
