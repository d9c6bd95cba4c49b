"""Raw tables (from TOML, CSV or a job file) to part records, with every complaint at its line."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any, cast

from ampwright.errors import Problem
from ampwright.field_types import record_by_kind
from ampwright.parts.consistency import contradictions
from ampwright.parts.kinds import KINDS, Part
from ampwright.records import record
from ampwright.toml_positions import line_of
from ampwright.validation import (
    MAX_NAME_COUNT,
    MAX_PROBLEM_COUNT,
    capped,
    near_names,
    problems_from,
    validated,
)

__all__ = ["PartTable", "id_text", "kinds", "parts_from_tables", "tables_from_toml"]

KeyPath = tuple[str | int, ...]

_ID = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
ID_MAX_COUNT = 60
"""Longest part id: it must fit a schedule's column (our own choice)."""


@record
class PartTable:
    """One part as written, before it is checked."""

    raw: object
    """Its keys and values."""
    place: KeyPath
    """Where it stands in its TOML text, or the word and number to call it by."""
    line: int | None = None
    """Line it starts on, where there is no TOML text to ask."""


def kinds() -> dict[str, type[Part]]:
    """Return the part records by the name of their kind."""
    return record_by_kind(KINDS)


def id_text(raw: object) -> str:
    """Return the id of a raw part table; empty where it has none."""
    name = raw.get("id") if isinstance(raw, dict) else None
    return name if isinstance(name, str) else ""


def parts_from_tables(
    tables: Iterable[PartTable], *, text: str | None = None
) -> tuple[list[Part], list[Problem]]:
    """Return the valid parts, and the problems of the others (after 200 the rest is not looked at).

    Parameters
    ----------
    text
        The TOML text the tables stand in, for line numbers.
    """
    parts: list[Part] = []
    problems: list[Problem] = []
    line_by_id: dict[str, int | None] = {}
    for table in tables:
        if len(problems) > MAX_PROBLEM_COUNT:
            break
        found = _part(table, text)
        if isinstance(found, list):
            problems.extend(found)
            continue
        line = _line(table, text, "id")
        if found.id in line_by_id:
            first = line_by_id[found.id]
            where = f", first in line {first}" if first else ""
            message = f"this id stands twice{where}; give each part its own"
            problems.append(Problem(path=f"part '{found.id}' > id", message=message, line=line))
            continue
        line_by_id[found.id] = line
        parts.append(found)
    return parts, capped(problems)


def tables_from_toml(raw: Mapping[str, Any], text: str) -> tuple[list[PartTable], bool, list[Problem]]:
    """Return the part tables of a parts file, whether it overrides, and what is wrong with its head."""
    problems = [
        Problem(
            path=key[:MAX_NAME_COUNT],
            message=f"unknown key '{key[:MAX_NAME_COUNT]}'{near_names(key, ('part', 'overrides'))}",
            line=line_of(text, (key,)),
        )
        for key in list(raw)[: MAX_PROBLEM_COUNT + 3]
        if key not in ("part", "overrides")
    ]
    problems = capped(problems)
    overrides = raw.get("overrides", False)
    if not isinstance(overrides, bool):
        message = "must be true or false"
        problems.append(Problem(path="overrides", message=message, line=line_of(text, ("overrides",))))
    tables = raw.get("part", [])
    if not isinstance(tables, list):
        message = "must be a list of tables, each headed [[part]]"
        problems.append(Problem(path="part", message=message, line=line_of(text, ("part",))))
        tables = []
    if not tables and not problems:
        problems.append(Problem(path="", message="holds no part; write one [[part]] table for each"))
    found = [PartTable(raw=table, place=("part", index)) for index, table in enumerate(tables)]
    return found, overrides is True, problems


def _part(table: PartTable, text: str | None) -> Part | list[Problem]:
    from pydantic import ValidationError  # noqa: PLC0415 - costs 0.1 s, needed only for parts not shipped

    head = _head_problem(table)
    if head is not None:
        key, message = head
        return [Problem(path=_said(table, key), message=message, line=_line(table, text, key))]
    raw = cast("dict[str, Any]", table.raw)
    kind = kinds()[raw["kind"]]
    try:
        part = validated(kind, raw)
    except ValidationError as error:
        found = problems_from(error, raw, kind=kind, text=text, prefix=table.place)
        return [Problem(path=each.path, message=each.message, line=each.line or table.line) for each in found]
    problems = [
        Problem(path=_said(table, key), message=message, line=_line(table, text, key))
        for key, message in contradictions(part)
    ]
    if not _ID.fullmatch(part.id) or len(part.id) > ID_MAX_COUNT:
        message = f"use at most {ID_MAX_COUNT} lower case letters, digits and single dashes"
        problems.append(Problem(path=_said(table, "id"), message=message, line=_line(table, text, "id")))
    return problems or part


def _head_problem(table: PartTable) -> tuple[str, str] | None:
    """Return the key and complaint for a table whose kind cannot be told."""
    if not isinstance(table.raw, dict):
        return "", "must be a table, headed [[part]]"
    kind = table.raw.get("kind")
    known = ", ".join(sorted(kinds()))
    if kind is None:
        return "kind", f"missing; give one of: {known}"
    if not isinstance(kind, str) or kind not in kinds():
        near = near_names(str(kind)[:40], kinds())
        listed = "" if near.startswith("; known") else f" The kinds are: {known}"
        return "kind", f"unknown kind '{str(kind)[:40]}'{near}{listed}"
    return None


def _said(table: PartTable, key: str) -> str:
    name = id_text(table.raw)
    part = f"part '{name[:MAX_NAME_COUNT]}'" if name else f"part number {int(table.place[-1]) + 1}"
    return f"{part} > {key}" if key else part


def _line(table: PartTable, text: str | None, key: str) -> int | None:
    if text is None:
        return table.line
    return line_of(text, (*table.place, key) if key else table.place)
