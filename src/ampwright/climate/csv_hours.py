"""A plain table of hours: `time`, `ghi_w_m2`, `ambient_degc`, and `dhi_w_m2` where it is known."""

from __future__ import annotations

import csv
import datetime as dt
import math

import numpy as np

from ampwright.climate.hour_rows import HourRows, capped
from ampwright.errors import JobError, Problem

__all__ = ["COLUMNS", "csv_rows", "looks_like_csv"]

COLUMNS = ("time", "ghi_w_m2", "ambient_degc", "dhi_w_m2")
NEEDED = COLUMNS[:3]
LEAST_ROWS = 24
LIMITS = {"ghi_w_m2": (-10.0, 1500.0), "dhi_w_m2": (-10.0, 1500.0), "ambient_degc": (-90.0, 70.0)}
"""Beyond them a figure is taken for a mistake (docs/choices.md#weather-limits)."""
HALF_HOUR = dt.timedelta(minutes=30)


def looks_like_csv(text: str) -> bool:
    """Say whether the first line that is no remark names the columns of such a table."""
    return "time" in _heading(text)[1]


def csv_rows(text: str, name: str) -> HourRows:
    """Return the rows of a table; each time is the beginning of its hour.

    Raises
    ------
    JobError
        With every row that cannot be read, its line and column.
    """
    number, heading, mark = _heading(text)
    missing = [column for column in NEEDED if column not in heading]
    if missing:
        message = f"columns {', '.join(missing)} are missing; the heading must name {', '.join(NEEDED)}"
        raise JobError(name, (Problem(path=name, line=number, message=message),))
    at = {column: heading.index(column) for column in COLUMNS if column in heading}
    reader = _Reader(name, is_comma_decimal=mark == ";")
    for offset, row in enumerate(csv.reader(text.split("\n")[number:], delimiter=mark), start=number + 1):
        if row and not row[0].lstrip().startswith("#") and any(cell.strip() for cell in row):
            reader.take(
                offset, {column: row[place] if place < len(row) else "" for column, place in at.items()}
            )
    return reader.rows()


def _heading(text: str) -> tuple[int, list[str], str]:
    """Return the line number of the heading, its names, and what stands between them."""
    for number, line in enumerate(text.split("\n", 200)[:200], start=1):
        if line.strip() and not line.lstrip().startswith("#"):
            mark = ";" if line.count(";") > line.count(",") else ","
            return number, [cell.strip().strip('"').lower() for cell in line.split(mark)], mark
    return 1, [], ","


class _Reader:
    """Collects rows and what is wrong with them."""

    def __init__(self, name: str, *, is_comma_decimal: bool) -> None:
        self._name = name
        self._is_comma_decimal = is_comma_decimal
        self._problems: list[Problem] = []
        self._times: list[dt.datetime] = []
        self._lines: list[int] = []
        self._values: dict[str, list[float]] = {column: [] for column in COLUMNS[1:]}
        self._is_utc: bool | None = None

    def take(self, line: int, cells: dict[str, str]) -> None:
        """Note one row."""
        when = self._time(line, cells["time"])
        for column, values in self._values.items():
            values.append(self._number(line, column, cells.get(column, "")))
        self._times.append(when)
        self._lines.append(line)

    def rows(self) -> HourRows:
        """Return the rows, or raise with all problems."""
        if not self._problems and len(self._times) < LEAST_ROWS:
            self._add(1, "time", f"{len(self._times)} hours; at least one day is needed")
        if self._problems:
            raise JobError(self._name, tuple(capped(self._name, self._problems)))
        ghi = np.maximum(self._values["ghi_w_m2"], 0.0)
        dhi = np.maximum(self._values["dhi_w_m2"], 0.0)
        has_split = bool(np.isfinite(dhi).any())
        no_split = f"{self._name}: no diffuse part in it; beam and diffuse by Erbs, Klein and Duffie"
        return HourRows(
            name=self._name,
            place="",
            spot=None,
            is_utc=bool(self._is_utc),
            middle=np.array([when + HALF_HOUR for when in self._times], dtype="datetime64[s]"),
            air_lead_s=0,
            ghi_w_m2=ghi,
            dhi_w_m2=dhi,
            ambient_degc=np.array(self._values["ambient_degc"]),
            lines=np.array(self._lines, dtype=np.int64),
            notes=() if has_split else (no_split,),
        )

    def _add(self, line: int, column: str, message: str) -> None:
        self._problems.append(Problem(path=f"{self._name} > {column}", line=line, message=message))

    def _time(self, line: int, text: str) -> dt.datetime:
        try:
            when = dt.datetime.fromisoformat(text.strip().strip('"'))
        except ValueError:
            self._add(line, "time", f"'{text.strip()[:30]}' is no time; write it like 2015-07-31T14:00")
            return dt.datetime(1, 1, 1)  # noqa: DTZ001 - stands for a row that is refused
        is_utc = when.tzinfo is not None
        if self._is_utc is None:
            self._is_utc = is_utc
        elif self._is_utc != is_utc:
            self._add(line, "time", "some times name their offset from UTC, some do not; write all alike")
        return when.astimezone(dt.UTC).replace(tzinfo=None) if is_utc else when

    def _number(self, line: int, column: str, cell: str) -> float:
        text = cell.strip().strip('"')
        if not text:
            return math.nan
        try:
            value = float(text.replace(",", ".") if self._is_comma_decimal else text)
        except ValueError:
            self._add(line, column, f"'{text[:30]}' is no number; leave the cell empty where it is missing")
            return math.nan
        low, high = LIMITS[column]
        if not low <= value <= high:
            self._add(
                line, column, f"{text[:30]} lies outside {low:g} to {high:g}; leave it empty if it is missing"
            )
        return value
