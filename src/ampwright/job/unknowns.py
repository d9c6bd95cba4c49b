"""Unknown amounts of a job: list them, and put numbers in their places."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Mapping
from typing import Any

from ampwright.job.quantity import Unknown, likely_value
from ampwright.job.records import Job
from ampwright.records import record
from ampwright.units import symbol, unit_suffix

__all__ = [
    "Path",
    "UnknownInput",
    "likely_values",
    "plain_words",
    "unknown_inputs",
    "with_ranges",
    "with_unknown_values",
    "with_values",
]

Path = tuple[str | int, ...]


@record
class UnknownInput:
    """An amount given as a range."""

    path: Path
    """Place in the job, e.g. ("vehicle", "alternator", "rating_a")."""
    label: str
    """The place in words, with ids instead of positions."""
    low: float
    """Lowest value."""
    high: float
    """Highest value."""
    likely: float
    """Value to calculate with first."""
    unit: str
    """Printed unit."""
    ask: str
    """How to find out."""


def unknown_inputs(job: Job) -> tuple[UnknownInput, ...]:
    """Return every amount of the job that is given as a range, in the order of the file."""
    return tuple(_walk(job, (), ""))


def likely_values(unknowns: tuple[UnknownInput, ...]) -> dict[Path, float]:
    """Return the likely value of each unknown amount by its path."""
    return {unknown.path: unknown.likely for unknown in unknowns}


def _walk(value: Any, path: Path, label: str) -> Iterator[UnknownInput]:
    if isinstance(value, Unknown):
        name = str(path[-1])
        yield UnknownInput(
            path=path,
            label=f"{label} ({name})",
            low=value.unknown[0],
            high=value.unknown[1],
            likely=likely_value(value),
            unit=symbol(name),
            ask=value.ask,
        )
    elif dataclasses.is_dataclass(value):
        for field in dataclasses.fields(value):
            inner = f"{label} {plain_words(field.name)}".strip()
            yield from _walk(getattr(value, field.name), (*path, field.name), inner)
    elif isinstance(value, tuple):
        for position, item in enumerate(value):
            name = getattr(item, "id", None) or getattr(item, "part", None) or str(position + 1)
            yield from _walk(item, (*path, position), f"{label} '{name}'")


def plain_words(name: str) -> str:
    """Return a field's name in words, without its unit."""
    suffix = unit_suffix(name)
    return (name.removesuffix(f"_{suffix}") if suffix else name).replace("_", " ")


def with_values(job: Job, values: Mapping[Path, float]) -> Job:
    """Return the job with the amounts at these paths replaced by numbers."""
    changed: Any = job
    for path, number in values.items():
        changed = _replaced(changed, path, number)
    result: Job = changed
    return result


def with_unknown_values(job: Job, values: Mapping[Path, float]) -> Job:
    """Return the job with numbers at those of these paths where its amount is still unknown."""
    return with_values(job, {path: number for path, number in values.items() if _is_unknown(job, path)})


def with_ranges(job: Job, original: Job, values: Mapping[Path, float]) -> Job:
    """Return a variant of a job with the ranges of the original back where it has the numbers put for them."""
    changed: Any = job
    for path, number in values.items():
        if _value_at(job, path) == number:
            changed = _replaced(changed, path, _value_at(original, path))
    result: Job = changed
    return result


def _is_unknown(job: Job, path: Path) -> bool:
    return isinstance(_value_at(job, path), Unknown)


def _value_at(value: Any, path: Path) -> Any:
    """Return what stands at a path; None where a variant has no such place."""
    for step in path:
        is_there = step < len(value) if isinstance(step, int) else hasattr(value, step)
        if not is_there:
            return None
        value = value[step] if isinstance(step, int) else getattr(value, step)
    return value


def _replaced(value: Any, path: Path, amount: Any) -> Any:
    if not path:
        return amount
    first, rest = path[0], path[1:]
    if isinstance(first, int):
        return (*value[:first], _replaced(value[first], rest, amount), *value[first + 1 :])
    return dataclasses.replace(value, **{first: _replaced(getattr(value, first), rest, amount)})
