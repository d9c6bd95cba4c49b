"""Fuse limits from the user's own copy of a standard.

The file is a CSV with the columns of the shipped `opening.csv`. Where it speaks of a family and a
multiple of the rated current, every shipped row of that family and multiple gives way.
"""

from __future__ import annotations

import csv
import math
from pathlib import Path

from ampwright.errors import FileError, JobError, Problem
from ampwright.sources import Source
from ampwright.standards.csv_table import STANDINGS
from ampwright.standards.iso_8820.limits import FAMILIES, OpeningPoint, shipped_points

__all__ = ["load_limits"]

REQUIRED_COLUMNS = ("family", "current_factor", "opening_min_s", "opening_max_s")
OPTIONAL_COLUMNS = ("rating_min_a", "rating_max_a", "standing", "place")


def load_limits(
    path: Path,
    *,
    families: tuple[str, ...] = FAMILIES,
    shipped: tuple[OpeningPoint, ...] | None = None,
) -> tuple[OpeningPoint, ...]:
    """Return the shipped opening times with the user's rows in place of those they speak of.

    Lines that start with "#" are comments. `standing` and `place` may be left out; an empty standing
    is "read", from the user's copy. Every problem of the file is reported at once.

    Parameters
    ----------
    families : names the file may speak of
    shipped : points its rows replace; None = those of this package
    """
    try:
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        raise FileError(f"{path}: cannot be read as UTF-8 text ({error}); save it as a UTF-8 CSV") from error
    header, rows = _split(text, path.name)
    problems: list[Problem] = []
    own: list[OpeningPoint] = []
    seen: dict[tuple[str, float, float | None, float | None], int] = {}
    for line, cells in rows:
        point, found = _point(header, cells, line=line, file=path.name, families=families)
        problems.extend(found)
        if point is None:
            continue
        key = (point.family, point.current_factor, point.rating_min_a, point.rating_max_a)
        if key in seen:
            message = f"says again what line {seen[key]} says; keep one of them"
            problems.append(Problem(path="family", message=message, line=line))
        seen.setdefault(key, line)
        own.append(point)
    if problems:
        raise JobError(path.name, tuple(problems))
    replaced = {(point.family, point.current_factor) for point in own}
    held = shipped_points() if shipped is None else shipped
    kept = [p for p in held if (p.family, p.current_factor) not in replaced]
    return (*kept, *own)


def _split(text: str, file: str) -> tuple[list[str], list[tuple[int, list[str]]]]:
    """Return the header and the numbered rows, or raise when the columns are not those of the table."""
    lines = [
        (number, [cell.strip() for cell in next(csv.reader([line]))])
        for number, line in enumerate(text.splitlines(), start=1)
        if line.strip() and not line.startswith("#")
    ]
    if not lines:
        needed = ",".join(REQUIRED_COLUMNS + OPTIONAL_COLUMNS)
        raise JobError(file, (Problem(path="", message=f"no rows; the first line must be {needed}"),))
    (line, header), *rows = lines
    problems = [
        Problem(path=name, message="column is missing", line=line)
        for name in REQUIRED_COLUMNS
        if name not in header
    ]
    known = REQUIRED_COLUMNS + OPTIONAL_COLUMNS
    problems += [
        Problem(path=name, message=f"column is not known; the columns are {', '.join(known)}", line=line)
        for name in dict.fromkeys(header)
        if name not in known
    ]
    problems += [
        Problem(path=name, message="column stands twice; keep one", line=line)
        for name in dict.fromkeys(header)
        if header.count(name) > 1
    ]
    if not rows:
        problems.append(Problem(path="", message="no rows below the column names", line=line))
    if problems:
        raise JobError(file, tuple(problems))
    return header, rows


def _point(
    header: list[str], cells: list[str], *, line: int, file: str, families: tuple[str, ...]
) -> tuple[OpeningPoint | None, list[Problem]]:
    """Return the point of one row, or its problems."""
    if len(cells) != len(header):
        message = f"{len(cells)} cells for {len(header)} columns; give one per column, empty where unknown"
        return None, [Problem(path="", message=message, line=line)]
    row = dict(zip(header, cells, strict=True))
    problems: list[Problem] = []
    numbers = {
        name: _number(row.get(name, ""), name=name, line=line, problems=problems)
        for name in (*REQUIRED_COLUMNS[1:], "rating_min_a", "rating_max_a")
    }
    standing = row.get("standing", "") or "read"
    problems += [
        Problem(path=name, message=message, line=line)
        for name, message in (
            *_unknown_name(row["family"], families),
            *_complaints(standing, numbers, has_bad_number=bool(problems)),
        )
    ]
    factor = numbers["current_factor"]
    if problems or factor is None:
        return None, problems
    return OpeningPoint(
        family=row["family"],
        current_factor=factor,
        opening_min_s=numbers["opening_min_s"],
        opening_max_s=numbers["opening_max_s"],
        rating_min_a=numbers["rating_min_a"],
        rating_max_a=numbers["rating_max_a"],
        source=Source(
            document=f"user file {file}", place=row.get("place", "") or f"line {line}", standing=standing
        ),
    ), []


def _number(text: str, *, name: str, line: int, problems: list[Problem]) -> float | None:
    """Return the number of a cell, None when empty; a bad one is added to `problems`."""
    if not text:
        return None
    try:
        number = float(text)
    except ValueError:
        number = math.nan
    if not 0.0 < number < math.inf:
        message = f'"{text}" is not a number above 0; write e.g. 0.75, or leave the cell empty'
        problems.append(Problem(path=name, message=message, line=line))
        return None
    return number


def _unknown_name(family: str, families: tuple[str, ...]) -> list[tuple[str, str]]:
    """Column and message when the row speaks of something else."""
    if family in families:
        return []
    return [("family", f'"{family}" is not known; use one of {", ".join(families)}')]


def _complaints(
    standing: str, numbers: dict[str, float | None], *, has_bad_number: bool
) -> list[tuple[str, str]]:
    """Column and message of what is wrong with the row as a whole."""
    found = []
    if standing not in STANDINGS:
        found.append(("standing", f'"{standing}" is not known; use one of {", ".join(STANDINGS)}'))
    if has_bad_number:
        return found
    shortest, longest = numbers["opening_min_s"], numbers["opening_max_s"]
    if numbers["current_factor"] is None:
        found.append(("current_factor", "is empty; give the multiple of the rated current, e.g. 1.35"))
    if shortest is None and longest is None:
        found.append(("opening_max_s", "both times are empty; give at least one"))
    if shortest is not None and longest is not None and shortest > longest:
        found.append(
            ("opening_min_s", f"{shortest:g} s is above the longest time {longest:g} s; exchange them")
        )
    smallest, largest = numbers["rating_min_a"], numbers["rating_max_a"]
    if smallest is not None and largest is not None and smallest > largest:
        found.append(("rating_min_a", f"{smallest:g} A is above rating_max_a {largest:g} A; exchange them"))
    return found
