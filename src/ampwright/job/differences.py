"""What differs between what two jobs say, field by field: not their text, but the values it stands for.

A comment, an order of keys, or a default that is written out makes no difference. Rows are told apart by their
names, not by their positions.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from functools import lru_cache
from typing import Any, Literal, cast

from ampwright.field_types import field_meanings
from ampwright.job.quantity import Measured, Unknown
from ampwright.job.records import Job
from ampwright.job.unknowns import plain_words
from ampwright.records import record
from ampwright.units import symbol

__all__ = ["Difference", "job_differences", "value_text"]

NOT_SAID = "not said"
NAMES = ("id", "part", "rule", "name", "legend", "state", "what", "kind")
"""Fields that tell one row of a list from another, the first one a row has."""


@record
class Difference:
    """One field, or one whole row, that two jobs do not say alike."""

    kind: Literal["changed", "added", "removed"]
    """Whether a field changed, or a row is in one of the two only."""
    where: str
    """Place in words, e.g. "load 'laptop'"."""
    field: str
    """Name of the field in the job file; empty for a whole row."""
    label: str
    """The field in words; for a whole row what it is."""
    unit: str
    """Printed unit."""
    meaning: str
    """What the field means."""
    before: str
    """What the first job says, with its unit."""
    after: str
    """What the second job says, with its unit."""


def job_differences(before: Job, after: Job) -> tuple[Difference, ...]:
    """Return everything two jobs do not say alike, in the order of the job file."""
    return tuple(_record(before, after, ""))


def value_text(value: Any, unit: str) -> str:
    """Return a value with its unit, and how it is known.

    Examples
    --------
    >>> value_text(12.0, "A"), value_text(Unknown(unknown=(90.0, 150.0), likely=120.0), "A"), value_text(None, "A")
    ('12 A', 'unknown, 90 to 150 A, likely 120 A', 'not said')
    """
    if value is None or value in ("", ()):
        return NOT_SAID
    if isinstance(value, Unknown | Measured):
        return _amount(value, unit)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float | int):
        return _figure(value, unit)
    if isinstance(value, tuple):
        return f"{', '.join(_item(each) for each in value)} {unit}".rstrip()
    return _said(value) if dataclasses.is_dataclass(value) else str(value)


def _amount(value: Unknown[float] | Measured[float], unit: str) -> str:
    if isinstance(value, Unknown):
        low, high = value.unknown
        likely = "" if value.likely is None else f", likely {_figure(value.likely, unit)}"
        return f"unknown, {low:g} to {_figure(high, unit)}{likely}"
    doubt = f" ± {100.0 * value.tolerance_frac:g} %" if value.tolerance_frac else ""
    how = f" ({value.how})" if value.how else ""
    return f"measured {_figure(value.measured, unit)}{doubt}{how}"


def _figure(value: float, unit: str) -> str:
    return f"{value:.10g} {unit}".rstrip()


def _item(value: Any) -> str:
    return f"[{_said(value)}]" if dataclasses.is_dataclass(value) else value_text(value, "")


def _said(row: Any) -> str:
    """Return what a row says beside its defaults, on one line."""
    parts = []
    for field in dataclasses.fields(row):
        value = getattr(row, field.name)
        if field.default is dataclasses.MISSING or value != field.default:
            parts.append(f"{plain_words(field.name)} {value_text(value, symbol(field.name))}")
    return ", ".join(parts)


def _record(before: Any, after: Any, where: str) -> Iterator[Difference]:
    for field in dataclasses.fields(before):
        old, new = getattr(before, field.name), getattr(after, field.name)
        if old == new:
            continue
        place = f"{where} {plain_words(field.name)}".strip()
        if _is_rows(old) or _is_rows(new):
            yield from _rows(old, new, place)
        elif _is_table(old) and _is_table(new) and type(old) is type(new):
            yield from _record(old, new, place)
        elif (_is_table(old) or old is None) and (_is_table(new) or new is None):
            yield _whole(old, new, place)
        else:
            yield _changed(before, field.name, where, (old, new))


def _is_table(value: Any) -> bool:
    return dataclasses.is_dataclass(value) and not isinstance(value, Measured | Unknown)


def _is_rows(value: Any) -> bool:
    return isinstance(value, tuple) and bool(value) and _is_table(value[0])


def _rows(before: tuple[Any, ...], after: tuple[Any, ...], place: str) -> Iterator[Difference]:
    old, new = _named(before), _named(after)
    for name, row in old.items():
        if name not in new:
            yield _whole(row, None, f"{place} '{name}'")
        elif row != new[name]:
            yield from _record(row, new[name], f"{place} '{name}'")
    for name, row in new.items():
        if name not in old:
            yield _whole(None, row, f"{place} '{name}'")
    kept = [name for name in old if name in new]
    if kept != [name for name in new if name in old]:
        order = ", ".join(kept), ", ".join(name for name in new if name in old)
        yield _difference("changed", place, label="order", said=order)


def _named(rows: tuple[Any, ...]) -> dict[str, Any]:
    """Return rows by name; rows of one name are numbered."""
    found: dict[str, Any] = {}
    for position, row in enumerate(rows, start=1):
        name = next((str(getattr(row, key)) for key in NAMES if getattr(row, key, "")), str(position))
        count = 2
        while (unique := name if name not in found else f"{name} {count}") in found:
            count += 1
        found[unique] = row
    return found


def _whole(before: Any, after: Any, place: str) -> Difference:
    kind: Literal["added", "removed"] = "added" if before is None else "removed"
    said = value_text(before, "") if before is not None else NOT_SAID
    now = value_text(after, "") if after is not None else NOT_SAID
    return _difference(kind, place, label="", said=(said, now))


def _changed(holder: Any, name: str, where: str, values: tuple[Any, Any]) -> Difference:
    unit, kind = symbol(name), cast("type", type(holder))
    return Difference(
        kind="changed",
        where=where or "job file",
        field=name,
        label=plain_words(name),
        unit=unit,
        meaning=_meanings(kind).get(name, ""),
        before=value_text(values[0], unit),
        after=value_text(values[1], unit),
    )


def _difference(
    kind: Literal["changed", "added", "removed"], place: str, *, label: str, said: tuple[str, str]
) -> Difference:
    return Difference(
        kind=kind, where=place, field="", label=label, unit="", meaning="", before=said[0], after=said[1]
    )


@lru_cache(maxsize=128)
def _meanings(kind: type) -> dict[str, str]:
    """Return what the fields of a record mean (a memo: a record never changes)."""
    return field_meanings(kind)
