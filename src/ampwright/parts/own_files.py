"""A file of own parts, TOML or CSV: its valid parts, and everything that is wrong in it."""

from __future__ import annotations

from pathlib import Path

from ampwright.errors import JobError, Problem
from ampwright.parts.csv_tables import tables_from_csv
from ampwright.parts.kinds import Part
from ampwright.parts.tables import PartTable, parts_from_tables, tables_from_toml
from ampwright.records import record
from ampwright.toml_positions import read_bytes, text_of, toml_tables

__all__ = ["PARTS_FILE_BYTES", "PartsFile", "parts_file", "parts_file_of"]

PARTS_FILE_BYTES = 2_000_000
"""Largest file of parts read: some 3,000 parts (our own choice)."""


@record
class PartsFile:
    """What one file of parts holds."""

    parts: tuple[Part, ...]
    """Its valid parts."""
    override_ids: frozenset[str]
    """Those meant to replace a part of the same id."""
    tables: tuple[PartTable, ...] = ()
    """Its parts as written."""
    text: str | None = None
    """Its TOML text, to ask for lines."""
    problems: tuple[Problem, ...]
    """Everything wrong in it."""


def parts_file(path: Path) -> PartsFile:
    """Return the parts of one file; a file that cannot be read at all is one problem."""
    try:
        content = read_bytes(path, max_bytes=PARTS_FILE_BYTES)
    except JobError as error:
        return PartsFile(parts=(), override_ids=frozenset(), problems=error.problems)
    return parts_file_of(content, path)


def parts_file_of(content: bytes, path: Path) -> PartsFile:
    """Return the parts of a file's content; `path` says what it is called, and by its ending what it is."""
    try:
        text = text_of(content, path, max_bytes=PARTS_FILE_BYTES)
        return _csv_file(text, path) if path.suffix.lower() == ".csv" else _toml_file(text, path)
    except JobError as error:
        return PartsFile(parts=(), override_ids=frozenset(), problems=error.problems)


def _csv_file(text: str, path: Path) -> PartsFile:
    sheet = tables_from_csv(text, file_stem=path.stem)
    parts, problems = parts_from_tables(sheet.tables)
    known = {(each.path, each.line) for each in sheet.problems}
    rest = [each for each in problems if (each.path, each.line) not in known]
    return PartsFile(
        parts=tuple(parts),
        override_ids=sheet.override_ids,
        tables=sheet.tables,
        problems=(*sheet.problems, *rest),
    )


def _toml_file(text: str, path: Path) -> PartsFile:
    raw = toml_tables(text, path)
    tables, overrides, head_problems = tables_from_toml(raw, text)
    parts, problems = parts_from_tables(tables, text=text)
    return PartsFile(
        parts=tuple(parts),
        override_ids=frozenset(part.id for part in parts) if overrides else frozenset(),
        tables=tuple(tables),
        text=text,
        problems=(*head_problems, *problems),
    )
