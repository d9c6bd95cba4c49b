"""A part as a page shows it and as a form takes it: fields with unit and meaning, made from its record."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from typing import Any

from ampwright.errors import JobError, Problem
from ampwright.job.toml_values import toml_value
from ampwright.parts.kinds import Part
from ampwright.parts.tables import kinds
from ampwright.records import record
from ampwright.web.customary import in_metric
from ampwright.web.fields import Field, fields_of, shown_value, typed_value

__all__ = ["PartCell", "PartLine", "part_cells", "part_line", "raw_from"]

FIGURES_IN_A_LINE = 3
FIXED = ("kind",)


@record
class PartCell:
    """One field of a part."""

    field: Field
    """What it is."""
    shown: str
    """What the part says, as an input shows it."""
    is_said: bool
    """True where the part says it."""
    problem: str = ""
    """What is wrong with what was typed."""


@record
class PartLine:
    """One part in a list."""

    id: str
    """Its id."""
    kind: str
    """Its kind."""
    name: str
    """Its name."""
    source: str
    """Where its figures come from."""
    figures: str
    """Its first figures in words."""
    is_own: bool
    """True for one of the workshop's own."""


@in_metric()
def part_line(part: Part, *, is_own: bool) -> PartLine:
    """Return a part as a list shows it."""
    numbers = [
        field for field in fields_of(type(part)) if field.is_needed and field.control in ("number", "whole")
    ]
    said = [
        f"{field.label.lower()} {getattr(part, field.name):g} {field.unit}".rstrip()
        for field in numbers[:FIGURES_IN_A_LINE]
    ]
    return PartLine(
        id=part.id, kind=part.kind, name=part.name, source=part.source, figures=", ".join(said), is_own=is_own
    )


@in_metric()
def part_cells(
    kind: str, raw: Mapping[str, Any], *, problems: tuple[Problem, ...] = ()
) -> tuple[PartCell, ...]:
    """Return the fields of a part of a kind with what its table says."""
    wrong = {each.path.rpartition(" > ")[2].partition("[")[0]: each.message for each in problems}
    return tuple(
        PartCell(
            field=field,
            shown=_shown(field, raw.get(field.name)),
            is_said=raw.get(field.name) is not None,
            problem=wrong.get(field.name, ""),
        )
        for field in fields_of(kinds()[kind])
        if field.name not in FIXED
    )


def _shown(field: Field, value: Any) -> str:
    if value is not None and field.below is not None and not isinstance(value, str):
        return toml_value(value)
    return f"{value:.10g}" if isinstance(value, float) else shown_value(field, value)


@in_metric()
def raw_from(kind: str, typed: Mapping[str, str]) -> dict[str, Any]:
    """Return the table of a part from a form.

    Raises
    ------
    JobError
        Where a nested value is no TOML.
    """
    raw: dict[str, Any] = {"kind": kind}
    problems: list[Problem] = []
    for field in fields_of(kinds()[kind]):
        text = typed.get(f"f-{field.name}", "").strip()
        if field.name in FIXED or not text:
            continue
        if field.below is None:
            raw[field.name] = typed_value(field, {"value": text})
            continue
        try:
            raw[field.name] = tomllib.loads(f"value = {text}\n")["value"]
        except (ValueError, RecursionError):
            problems.append(
                Problem(
                    path=field.name,
                    message="write it as TOML, e.g. [{ x_mm = 5, y_mm = 5, diameter_mm = 4 }]",
                )
            )
    if problems:
        raise JobError("part", tuple(problems))
    return raw
