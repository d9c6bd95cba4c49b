"""Fields of a record as a form shows them: made from its types, names and docstrings; typed text back to values.

Answers how a field is typed and shown; whether a value is right is left to the record's own validation.
"""

from __future__ import annotations

import datetime as dt
import json
import types
from collections.abc import Mapping
from dataclasses import MISSING, fields, is_dataclass, replace
from functools import lru_cache
from typing import Any, Literal, get_args, get_origin

from django.utils.translation import get_language, gettext, pgettext

from ampwright.documents.quantity_text import UnitSystem
from ampwright.field_types import field_hints, field_meanings, options
from ampwright.job.quantity import Measured, Unknown
from ampwright.job.unknowns import plain_words
from ampwright.records import record
from ampwright.units import symbol
from ampwright.web.customary import reader_units, shown_figure, shown_unit, typed_figure

__all__ = ["YES_NO", "Control", "Field", "english_fields", "fields_of", "shown_value", "typed_value"]

Control = Literal["text", "number", "whole", "choice", "yes-no", "date", "list", "amount", "record", "rows"]
NUMBERS = (int, float)
YES_NO = {"true": "yes", "false": "no"}


@record
class Field:
    """One field of a record as a form shows it."""

    name: str
    """Key in the job file."""
    label: str
    """Plain words."""
    unit: str
    """Printed unit."""
    meaning: str
    """What it means."""
    control: Control
    """How it is typed."""
    choices: tuple[str, ...] = ()
    """What may be chosen, as the job file says it."""
    words: tuple[tuple[str, str], ...] = ()
    """What may be chosen, each with its word for the reader."""
    below: type | None = None
    """Record of a nested table or of its rows."""
    is_needed: bool = False
    """True where the record cannot do without."""
    default: str = ""
    """What holds where nothing is said, in words; empty = nothing."""
    is_number_list: bool = False
    """True where the list holds numbers."""

    @property
    def is_scaled(self) -> bool:
        """True where its figures may stand in other units than those of the job file."""
        return self.control in ("number", "amount")


def fields_of(kind: type) -> tuple[Field, ...]:
    """Return the fields of a record in its order, in the reader's language."""
    return _fields_in(kind, get_language() or "en", reader_units.get())


@lru_cache(maxsize=512)
def _fields_in(kind: type, language: str, units: UnitSystem) -> tuple[Field, ...]:  # noqa: ARG001 - what the memo tells apart
    return tuple(_translated(field) for field in english_fields(kind))


def _translated(field: Field) -> Field:
    return replace(
        field,
        label=pgettext("field", field.label),
        unit=shown_unit(field.name) if field.is_scaled else field.unit,
        meaning=gettext(field.meaning) if field.meaning else "",
        default=_shown_default(field),
        words=tuple((choice, pgettext("choice", YES_NO.get(choice, choice))) for choice in field.choices),
    )


def _shown_default(field: Field) -> str:
    if not field.default or not (field.choices or field.is_scaled):
        return field.default
    if field.choices:
        return pgettext("choice", field.default)
    return shown_value(field, json.loads(field.default))


@lru_cache(maxsize=128)
def english_fields(kind: type) -> tuple[Field, ...]:
    """Return the fields of a record as its source says them (a memo: a record never changes)."""
    hints, meanings = field_hints(kind), field_meanings(kind)
    return tuple(
        _field(each.name, hints[each.name], meaning=meanings.get(each.name, ""), default=each.default)
        for each in fields(kind)
    )


def _field(name: str, hint: object, *, meaning: str, default: object) -> Field:
    control, choices, below = _control(hint)
    return Field(
        name=name,
        label=plain_words(name).capitalize(),
        unit=symbol(name),
        meaning=meaning,
        control=control,
        choices=choices,
        below=below,
        is_needed=default is MISSING,
        default=_default_words(default),
        is_number_list=control == "list" and _holds_numbers(hint),
    )


def _control(hint: object) -> tuple[Control, tuple[str, ...], type | None]:
    members = [each for each in options(hint) if each is not types.NoneType]
    bases = [get_origin(each) or each for each in members]
    if Measured in bases or Unknown in bases:
        return "amount", (), None
    if bool in bases:
        return "yes-no", ("true", "false"), None
    choices = tuple(
        str(choice) for each in members if get_origin(each) is Literal for choice in get_args(each)
    )
    if choices:
        return "choice", choices, None
    for base in bases:
        if isinstance(base, type) and is_dataclass(base):
            return "record", (), base
    if tuple in bases:
        return _list_control(members[bases.index(tuple)])
    plain: dict[object, Control] = {dt.date: "date", int: "whole", float: "number"}
    return next((plain[base] for base in bases if base in plain), "text"), (), None


def _list_control(hint: object) -> tuple[Control, tuple[str, ...], type | None]:
    for item in get_args(hint):
        for each in options(item):
            if isinstance(each, type) and is_dataclass(each):
                return "rows", (), each
    return "list", (), None


def _holds_numbers(hint: object) -> bool:
    listed = next((each for each in options(hint) if get_origin(each) is tuple), None)
    return any(base in NUMBERS for item in get_args(listed) for base in options(item))


def _default_words(default: object) -> str:
    if default is MISSING or default is None or default in ("", ()) or is_dataclass(default):
        return ""
    if isinstance(default, bool):
        return "yes" if default else "no"
    return f"{default:g}" if isinstance(default, float) else str(default)


def shown_value(field: Field, value: Any) -> str:
    """Return a value of the job file as an input shows it; empty where nothing is said.

    Examples
    --------
    >>> field = Field(name="days", label="", unit="", meaning="", control="list")
    >>> shown_value(field, ["drive", "3 x stay"]), shown_value(field, None)
    ('drive, 3 x stay', '')
    """
    if value is None:
        return ""
    if field.is_scaled and isinstance(value, int | float) and not isinstance(value, bool):
        return shown_figure(field.name, value)
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list):
        return ", ".join(str(item) for item in value)
    if isinstance(value, Mapping):
        return ""
    return str(value)


def typed_value(field: Field, typed: Mapping[str, str]) -> Any:
    """Return what was typed as a value of the job file; None takes it away; wrong figures stay text.

    Examples
    --------
    >>> field = Field(name="power_w", label="", unit="W", meaning="", control="amount")
    >>> typed_value(field, {"known": "unknown", "low": "20", "high": "40,5", "ask": "read the label"})
    {'unknown': [20, 40.5], 'ask': 'read the label'}
    >>> typed_value(field, {"known": "declared", "value": " "}) is None
    True
    """
    if field.control == "amount":
        return _amount(field, typed)
    text = typed.get("value", "").strip()
    if not text:
        return None
    if field.control == "number":
        return _figure(field, text, _before(typed))
    if field.control == "whole" or (field.control == "choice" and all(map(_is_whole, field.choices))):
        return _number(text)
    if field.control == "list":
        items = [item.strip() for item in text.split(";" if ";" in text else ",") if item.strip()]
        return [_number(item) for item in items] if field.is_number_list else items
    words: dict[str, Any] = {"true": True, "false": False} if field.control == "yes-no" else {}
    return _date(text) if field.control == "date" else words.get(text, text)


def _before(typed: Mapping[str, str]) -> Any:
    """Return the value that stood in the field, as the page told it."""
    try:
        return json.loads(typed.get("was", "null"))
    except ValueError:
        return None


def _figure(field: Field, text: str, before: Any) -> Any:
    """Return a typed figure in the unit of the job file."""
    if reader_units.get() == "metric":
        return _number(text)
    is_number = isinstance(before, int | float) and not isinstance(before, bool)
    found = typed_figure(field.name, text, before=before if is_number else None)
    return _number(found) if isinstance(found, str) else found


def _amount(field: Field, typed: Mapping[str, str]) -> Any:
    before = _before(typed)
    old = before if isinstance(before, Mapping) else {"declared": before}
    ends = (*(old.get("unknown") or ()), None, None)
    known = typed.get("known", "declared")
    said = {
        name: typed.get(name, "").strip()
        for name in ("value", "low", "high", "likely", "ask", "how", "tolerance")
    }
    if known == "unknown":
        if not said["low"] and not said["high"]:
            return None
        found: dict[str, Any] = {
            "unknown": [_figure(field, said["low"], ends[0]), _figure(field, said["high"], ends[1])]
        }
        if said["likely"]:
            found["likely"] = _figure(field, said["likely"], old.get("likely"))
        return {**found, "ask": said["ask"]} if said["ask"] else found
    if not said["value"]:
        return None
    figure = _figure(field, said["value"], old.get("measured", old.get("declared")))
    if known != "measured":
        return figure
    found = {"measured": figure}
    if said["how"]:
        found["how"] = said["how"]
    if said["tolerance"]:
        found["tolerance_frac"] = _number(said["tolerance"])
    return found


def _number(text: str) -> Any:
    """Return a number; a lone comma is taken for the decimal point; anything else stays text."""
    plain = text.replace("−", "-")
    if plain.count(",") == 1 and "." not in plain:
        plain = plain.replace(",", ".")
    if _is_whole(plain):
        return int(plain)
    try:
        return float(plain) if plain.lower().strip("+-") not in ("nan", "inf", "infinity") else text
    except ValueError:
        return text


def _is_whole(text: str) -> bool:
    return text.lstrip("+-").isascii() and text.lstrip("+-").isdigit() and len(text) < 16


def _date(text: str) -> Any:
    try:
        return dt.date.fromisoformat(text)
    except ValueError:
        return text
