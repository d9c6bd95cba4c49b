"""Reading a table a user typed from a book: where it comes from, then one row a line.

Lines "# document: ...", "# edition: ...", "# table: ...", "# page: ..." and "# by: ..." say where the figures come
from. Spreadsheets' ways are taken: semicolon or tab between cells, then a decimal comma, too.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable

from ampwright.errors import JobError, Problem
from ampwright.records import record
from ampwright.sources import Source

__all__ = ["OwnRow", "OwnSheet", "own_sheet"]

PROVENANCE = ("document", "edition", "table", "page", "by")
"""What the lines at the head may say."""
_HEAD = re.compile(r"#\s*([a-z]+)\s*:\s*(.*)")


@record
class OwnRow:
    """One row of a user's table."""

    line: int
    """Line of the file."""
    cells: dict[str, str]
    """Text by column."""
    has_decimal_comma: bool
    """True where a comma may stand for the decimal point."""

    def number(self, column: str, problems: list[Problem]) -> float | None:
        """Return the number of a cell, None when empty; a bad one is added to `problems`."""
        text = self.cells.get(column, "")
        if not text:
            return None
        plain = text.replace(",", ".") if self.has_decimal_comma and text.count(",") == 1 else text
        if not re.fullmatch(r"[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?", plain):
            message = f"'{text[:40]}' is no number; write e.g. 17.5, without unit or thousands separator"
            problems.append(Problem(path=column, message=message, line=self.line))
            return None
        return float(plain)


@record
class OwnSheet:
    """A user's table as written."""

    file: str
    """Name of the file."""
    source: Source
    """The document the figures were read in, with who typed them."""
    rows: tuple[OwnRow, ...]
    """Its rows."""


def own_sheet(
    text: str, *, file: str, needed: tuple[str, ...], optional: tuple[str, ...] = ()
) -> tuple[OwnSheet, list[Problem]]:
    """Return the rows of a user's table, and what is wrong with its head; raises JobError where no row can be read."""
    said, lines = _split(text)
    problems = _head_problems(said)
    if not lines:
        listed = ",".join((*needed, *optional))
        raise JobError(
            file, (*problems, Problem(path="", message=f"no rows; the first line must be {listed}"))
        )
    first_line, first = lines[0]
    delimiter = max((",", ";", "\t"), key=first.count)
    header = _cells(first, delimiter)
    broken = _column_problems(header, needed, optional, first_line)
    if len(lines) == 1:
        broken.append(Problem(path="", message="no rows below the column names", line=first_line))
    if broken:
        raise JobError(file, (*problems, *broken))
    rows: list[OwnRow] = []
    for line, row_text in lines[1:]:
        cells = _cells(row_text, delimiter)
        if len(cells) != len(header):
            message = (
                f"{len(cells)} cells for {len(header)} columns; give one per column, empty where unknown"
            )
            problems.append(Problem(path="", message=message, line=line))
            continue
        named = dict(zip(header, cells, strict=True))
        rows.append(OwnRow(line=line, cells=named, has_decimal_comma=delimiter != ","))
    return OwnSheet(file=file, source=_source(said, file), rows=tuple(rows)), problems


def _split(text: str) -> tuple[dict[str, tuple[str, int]], list[tuple[int, str]]]:
    """Return what the head says, with lines, and the numbered lines of the table."""
    said: dict[str, tuple[str, int]] = {}
    lines: list[tuple[int, str]] = []
    for number, line in enumerate(text.splitlines(), start=1):
        plain = line.strip().strip('"').rstrip(",;\t ").rstrip('"')
        if plain.startswith("#"):
            found = _HEAD.fullmatch(plain)
            if found and found[2]:
                said.setdefault(found[1], (found[2].strip(), number))
        elif plain:
            lines.append((number, line))
    return said, lines


def _head_problems(said: dict[str, tuple[str, int]]) -> list[Problem]:
    problems = [
        Problem(path=name, message=f"is not said; begin the file with a line '# {name}: {example}'")
        for name, example in (
            ("document", "title or number of the standard or data sheet"),
            ("by", "who typed it, and when"),
        )
        if name not in said
    ]
    if "table" not in said and "page" not in said:
        message = "neither table nor page is said; add a line '# table: ...' or '# page: ...'"
        problems.append(Problem(path="table", message=message))
    problems += [
        Problem(
            path=name, message=f"'# {name}:' is not known; the lines are {', '.join(PROVENANCE)}", line=line
        )
        for name, (_, line) in said.items()
        if name not in PROVENANCE and name != "note"
    ]
    return problems


def _column_problems(
    header: list[str], needed: Iterable[str], optional: Iterable[str], line: int
) -> list[Problem]:
    known = (*needed, *optional)
    problems = [
        Problem(path=name, message="column is missing", line=line) for name in needed if name not in header
    ]
    problems += [
        Problem(
            path=name or "column without a name",
            message=f"is not known; the columns are {', '.join(known)}",
            line=line,
        )
        for name in dict.fromkeys(header)
        if name not in known
    ]
    problems += [
        Problem(path=name, message="column stands twice; keep one", line=line)
        for name in dict.fromkeys(header)
        if header.count(name) > 1
    ]
    return problems


def _cells(line: str, delimiter: str) -> list[str]:
    return [cell.strip() for cell in next(csv.reader([line], delimiter=delimiter))]


def _source(said: dict[str, tuple[str, int]], file: str) -> Source:
    def text(name: str) -> str:
        return said.get(name, ("", 0))[0]

    places = [
        text("table") and f"table {text('table').removeprefix('table ')}",
        text("page") and f"page {text('page')}",
    ]
    typed = f"typed by {text('by')} in {file}"
    return Source(
        document=text("document"), edition=text("edition"), place=", ".join([*filter(None, places), typed])
    )
