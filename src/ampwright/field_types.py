"""What the fields of a record want: their declared types, followed along a path, and said in words."""

from __future__ import annotations

import types
from collections.abc import Iterable, Mapping
from dataclasses import is_dataclass
from functools import lru_cache
from typing import Annotated, Any, Literal, TypeVar, Union, get_args, get_origin, get_type_hints

from ampwright.units import symbol, unit_suffix

__all__ = [
    "field_hints",
    "field_meanings",
    "hint_at",
    "number_words",
    "one_of",
    "options",
    "record_by_kind",
    "wanted",
]

T = TypeVar("T")
KeyPath = tuple[str | int, ...]


def record_by_kind(records: Iterable[type[T]]) -> dict[str, type[T]]:
    """Return the records of a union by the literal text of their field `kind`."""
    return {name: each for each in records for name in get_args(field_hints(each)["kind"])}


def field_hints(kind: type) -> dict[str, Any]:
    """Return the types of a record's fields by name."""
    return dict(_hints(kind))


@lru_cache(maxsize=256)
def _hints(kind: type) -> dict[str, Any]:
    """Return the types once read (a memo: a record never changes)."""
    hints = get_type_hints(kind, include_extras=True)
    return {name: hints[name] for name in kind.__dataclass_fields__}  # type: ignore[attr-defined]


def field_meanings(kind: type) -> dict[str, str]:
    """Return the docstring under each field of a record and of those it builds on, by its name; reads the source."""
    found: dict[str, str] = {}
    for base in reversed(kind.__mro__):
        if is_dataclass(base):
            found |= _own_meanings(base)
    return found


def _own_meanings(kind: type) -> dict[str, str]:
    import ast  # noqa: PLC0415 - only for documents
    import inspect  # noqa: PLC0415
    import textwrap  # noqa: PLC0415

    (declared,) = ast.parse(textwrap.dedent(inspect.getsource(kind))).body
    found: dict[str, str] = {}
    if isinstance(declared, ast.ClassDef):
        for field, text in zip(declared.body, declared.body[1:], strict=False):
            if isinstance(field, ast.AnnAssign) and isinstance(text, ast.Expr):
                found[ast.unparse(field.target)] = inspect.cleandoc(ast.literal_eval(text.value))
    return found


def wanted(name: str, hint: object = None) -> str:
    """Return what a field wants, in words.

    Examples
    --------
    >>> wanted("power_w", float), wanted("stud_count", int), wanted("is_portable", bool)
    ('a number in W', 'a whole number', 'true or false')
    """
    members = options(hint)
    choices = [choice for option in members if get_origin(option) is Literal for choice in get_args(option)]
    if choices:
        return one_of(choices)
    for type_, words in ((bool, "true or false"), (int, "a whole number"), (float, number_words(name))):
        if type_ in members:
            return words
    if any(get_origin(option) is tuple for option in members):
        return "a list in [ ]"
    if any(is_dataclass(get_origin(option) or option) for option in members):
        return "a table of keys"
    if str not in members and unit_suffix(name):
        return number_words(name)
    return "a text in quotes"


def number_words(name: str) -> str:
    """Return "a number in W" and the like, from the ending of the name."""
    unit = symbol(name)
    if unit:
        return f"a number in {unit}"
    return "a number from 0 to 1" if name.endswith("_frac") else "a number"


def one_of(choices: Iterable[object]) -> str:
    """Return the choices as a sentence's end, texts in quotes.

    Examples
    --------
    >>> one_of(["metric", "us"]), one_of([12, 24]), one_of([1])
    ("one of 'metric', 'us'", 'one of 12, 24', '1')
    """
    said = [f"'{choice}'" if isinstance(choice, str) else str(choice) for choice in choices]
    return said[0] if len(said) == 1 else "one of " + ", ".join(said)


def options(hint: object) -> list[Any]:
    """Return the members of a type with `Annotated` and unions taken apart."""
    if get_origin(hint) is Annotated:
        return options(get_args(hint)[0])
    if get_origin(hint) in (Union, types.UnionType):
        return [option for member in get_args(hint) for option in options(member)]
    return [hint]


def hint_at(kind: type, path: KeyPath) -> object:
    """Return the declared type at a path, a union of all candidates where several records could stand."""
    hints: list[Any] = [kind]
    for step in path:
        below: list[Any] = []
        for option in hints:
            below.extend(options(_hint_below(option, step)))
        hints = below
    found = [hint for hint in hints if hint is not None]
    return Union[tuple(found)] if found else None  # noqa: UP007 - built at run time


def _hint_below(option: Any, step: str | int) -> object:
    base = get_origin(option) or option
    if is_dataclass(base) and isinstance(base, type):
        return field_hints(base).get(str(step))
    members = get_args(option)
    if base in (tuple, list) and isinstance(step, int) and members:
        return members[step] if Ellipsis not in members and step < len(members) else members[0]
    if base in (dict, Mapping) and len(members) == 2:
        return members[1]
    return None
