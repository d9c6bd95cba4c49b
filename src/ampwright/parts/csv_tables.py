"""Parts written in a spreadsheet: CSV text to the same raw tables that TOML gives.

Reads what spreadsheets write (comma, semicolon or tab between cells, decimal point or comma); refuses what
could be read two ways. Whether the figures make a part is checked in `tables`.
"""

from __future__ import annotations

import csv
import io
import re
from typing import Any, get_args, get_origin

from ampwright.errors import Problem
from ampwright.field_types import field_hints, options
from ampwright.parts.tables import PartTable, kinds
from ampwright.records import record
from ampwright.validation import MAX_NAME_COUNT, MAX_PROBLEM_COUNT, capped, near_names

__all__ = ["CsvParts", "tables_from_csv"]

_NUMBER = re.compile(r"[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?")
_DECIMAL_COMMA = re.compile(r"[+-]?\d*,\d+")
_GROUPED = re.compile(r"[+-]?[1-9]\d{0,2}(?:([.,' \u00a0\u2009\u202f])\d{3})+(?:[.,]\d+)?")
_SEPARATOR_LINE = re.compile(r"sep=(.)\n")
_WORDS = {"true": True, "false": False}


@record
class CsvParts:
    """What a CSV text holds."""

    tables: tuple[PartTable, ...]
    """One raw table per row."""
    override_ids: frozenset[str]
    """Ids of the rows whose column `overrides` says true."""
    problems: tuple[Problem, ...]
    """Headers and cells that cannot be read."""


@record
class _Row:
    """One row and how to read it."""

    line: int
    """Line it starts on."""
    cells: tuple[tuple[str, str], ...]
    """Header and text of every cell that is not empty."""
    delimiter: str
    """What stands between cells."""


def tables_from_csv(text: str, *, file_stem: str) -> CsvParts:
    """Return the raw part tables of a CSV text with one header row.

    Parameters
    ----------
    file_stem
        Name of the file without its ending: the kind of all its parts where there is no column `kind`.
    """
    rows, problems = _rows(text)
    tables: list[PartTable] = []
    override_ids: set[str] = set()
    for row in rows:
        if len(problems) > MAX_PROBLEM_COUNT:
            break
        cells = dict(row.cells)
        kind = cells.get("kind", file_stem)
        raw: dict[str, Any] = {"kind": kind}
        hints = field_hints(kinds()[kind]) if kind in kinds() else {}
        for name, cell in row.cells:
            if name == "overrides":
                if _WORDS.get(cell.lower()) is None:
                    problems.append(
                        _cell_problem(row, name, f"must be true or false; you gave '{cell[:40]}'")
                    )
                elif cell.lower() == "true":
                    override_ids.add(cells.get("id", ""))
                continue
            value, complaint = _value(cell, hints.get(name), row.delimiter)
            if complaint:
                problems.append(_cell_problem(row, name, complaint))
            raw[name] = value
        tables.append(PartTable(raw=raw, place=("part", len(tables)), line=row.line))
    return CsvParts(
        tables=tuple(tables), override_ids=frozenset(override_ids), problems=tuple(capped(problems))
    )


def _rows(text: str) -> tuple[list[_Row], list[Problem]]:
    """Return the rows below the header, and what is wrong with the header or the row lengths."""
    delimiter, text, skipped_count = _delimiter(text)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    header: list[str] = []
    rows: list[_Row] = []
    problems: list[Problem] = []
    line = 1 + skipped_count
    try:
        for cells in reader:
            start, line = line, reader.line_num + 1 + skipped_count
            if not any(cell.strip() for cell in cells):
                continue
            if not header:
                header = [cell.strip() for cell in cells]
                problems.extend(_header_problems(header, start))
                continue
            spare = [cell for cell in cells[len(header) :] if cell.strip()]
            if spare:
                message = (
                    f"{len(cells)} cells under {len(header)} headers; a text with '{delimiter}' needs quotes"
                )
                problems.append(Problem(path=f"row {start}", message=message, line=start))
                continue
            named = zip(header, (cell.strip() for cell in cells), strict=False)
            filled = tuple((name, cell) for name, cell in named if cell)
            rows.append(_Row(line=start, cells=filled, delimiter=delimiter))
    except csv.Error as error:
        problems.append(Problem(path="", message=f"not valid CSV: {error}", line=line))
    if not rows and not problems:
        problems.append(Problem(path="", message="holds no part; write headers, then one row for each part"))
    return rows, problems


def _delimiter(text: str) -> tuple[str, str, int]:
    """Return what stands between cells, the text without a separator line, and how many lines that was."""
    said = _SEPARATOR_LINE.match(text)
    if said:
        return said[1], text[said.end() :], 1
    first = text.lstrip("\n").partition("\n")[0]
    counts = {mark: first.count(mark) for mark in (",", ";", "\t")}
    return max(counts, key=lambda mark: counts[mark]), text, 0


def _header_problems(header: list[str], line: int) -> list[Problem]:
    known = {name for kind in kinds().values() for name in field_hints(kind)} | {"overrides"}
    if len(header) > len(known):
        message = f"{len(header)} headers, but parts have only {len(known)} fields"
        return [Problem(path="", message=message, line=line)]
    problems = []
    for number, name in enumerate(header, start=1):
        if not name:
            message = "this column has no header"
        elif name not in known:
            near = near_names(name, known)
            near = "" if near.startswith("; known") else near
            message = f"unknown header '{name[:MAX_NAME_COUNT]}'{near}"
        elif name in header[: number - 1]:
            message = f"the header '{name}' stands twice"
        else:
            continue
        problems.append(Problem(path=f"column {number}", message=message, line=line))
    return problems


def _cell_problem(row: _Row, name: str, message: str) -> Problem:
    part_id = dict(row.cells).get("id", "")
    part = f"part '{part_id[:MAX_NAME_COUNT]}'" if part_id else f"row {row.line}"
    return Problem(path=f"{part} > {name}", message=message, line=row.line)


def _value(cell: str, hint: object, delimiter: str) -> tuple[object, str]:
    """Return a cell's value, or its text and a complaint."""
    members = options(hint)
    if any(get_origin(member) is tuple for member in members):
        inner = [option for member in members for part in get_args(member) for option in options(part)]
        if any(isinstance(option, type) and hasattr(option, "__dataclass_fields__") for option in inner):
            return cell, "does not fit a cell; write this part in a TOML file"
        return [part.strip() for part in cell.split(";") if part.strip()], ""
    if bool in members:
        return _WORDS.get(cell.lower(), cell), ""
    if int in members or float in members:
        return _number(cell, is_whole=int in members, delimiter=delimiter)
    return cell, ""


def _number(cell: str, *, is_whole: bool, delimiter: str) -> tuple[object, str]:
    grouped = _GROUPED.fullmatch(cell)
    if grouped and not (grouped[1] == "." and delimiter == "," and cell.count(".") == 1 and "," not in cell):
        return cell, f"'{cell[:40]}' may hold a thousands separator; write digits and one decimal point only"
    if _DECIMAL_COMMA.fullmatch(cell):
        if delimiter == ",":
            return (
                cell,
                f"'{cell[:40]}' has a decimal comma between commas; write a decimal point",
            )
        cell = cell.replace(",", ".")
    if cell.lower() in ("nan", "inf", "-inf", "+inf", "infinity", "-infinity"):
        return float(cell), ""
    if not _NUMBER.fullmatch(cell):
        return cell, ""
    number = float(cell)
    return (int(number) if is_whole and number.is_integer() else number), ""
