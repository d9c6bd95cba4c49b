"""A log of the battery, read from a table of text: time, voltage, current, perhaps state of charge."""

from __future__ import annotations

import csv
import datetime as dt
from collections.abc import Iterator, Mapping
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from ampwright.errors import FileError
from ampwright.records import record

__all__ = ["COLUMNS", "BatteryLog", "log_of_text", "read_log"]

Array = NDArray[np.float64]
COLUMNS = ("time", "battery_v", "battery_a", "soc_percent")
"""Columns known; the last may be absent."""
MOST_BYTES = 200_000_000
FEWEST_ROWS = 60
SHOWN_LINES = 5
LIMITS = {"battery_v": (0.0, 120.0), "battery_a": (-5000.0, 5000.0), "soc_percent": (0.0, 110.0)}
"""Figures that are believed (docs/choices.md#log-limits)."""


@record
class BatteryLog:
    """Readings in the order of time; n_readings."""

    start: dt.datetime
    """Local time of the first reading."""
    time_s: Array
    """Seconds since `start`, rising (n_readings,)."""
    battery_v: Array
    """Voltage (n_readings,)."""
    battery_a: Array
    """Current, positive = charging (n_readings,)."""
    soc_frac: Array | None
    """State of charge the battery's own meter shows (n_readings,); None = no such column."""
    skipped_count: int
    """Rows left out for an empty field."""


def read_log(
    path: Path, *, names: Mapping[str, str], discharge_is_positive: bool, utc_offset_h: float
) -> BatteryLog:
    """Read a log; parameters and errors as `log_of_text`."""
    try:
        if path.stat().st_size > MOST_BYTES:
            raise FileError(f"{path}: larger than {MOST_BYTES // 1_000_000} MB; split it, or log less often")
        content = path.read_bytes()
    except OSError as error:
        raise FileError(f"{path}: cannot be read ({error.strerror or 'unknown reason'})") from error
    return log_of_text(
        content,
        str(path),
        names=names,
        discharge_is_positive=discharge_is_positive,
        utc_offset_h=utc_offset_h,
    )


def log_of_text(
    content: bytes, file: str, *, names: Mapping[str, str], discharge_is_positive: bool, utc_offset_h: float
) -> BatteryLog:
    """Return the log that a file's content is.

    Parameters
    ----------
    names : heading in the file by name of the column, where it is not the name itself
    utc_offset_h : local time less UTC; only for times with an offset of their own

    Raises
    ------
    FileError
        With the first bad lines, where a figure cannot be read or believed, or time goes back.
    """
    rows = _rows(content, file)
    heading = next(rows)[1]
    places = _places(file, heading, names)
    times: list[dt.datetime] = []
    values: dict[str, list[float]] = {name: [] for name in places if name != "time"}
    bad: list[str] = []
    skipped = 0
    for number, row in rows:
        cells = {name: row[place].strip() if place < len(row) else "" for name, place in places.items()}
        if not all(cells.values()):
            skipped += 1
            continue
        try:
            time = _time(cells["time"], utc_offset_h)
            found = {name: _figure(name, cells[name]) for name in values}
            if times and time < times[-1]:
                raise ValueError("time goes back: write times with their offset from UTC")  # noqa: TRY301
        except ValueError as error:
            bad.append(f"line {number}: {error}")
            continue
        if times and time == times[-1]:
            continue
        times.append(time)
        for name, value in found.items():
            values[name].append(value)
    if bad:
        more = f"; and {len(bad) - SHOWN_LINES} more" if len(bad) > SHOWN_LINES else ""
        raise FileError(f"{file}: {'; '.join(bad[:SHOWN_LINES])}{more}")
    if len(times) < FEWEST_ROWS:
        raise FileError(f"{file}: {len(times)} readings; at least {FEWEST_ROWS} are needed")
    sign = -1.0 if discharge_is_positive else 1.0
    soc = values.get("soc_percent")
    return BatteryLog(
        start=times[0],
        time_s=np.array([(time - times[0]).total_seconds() for time in times]),
        battery_v=np.array(values["battery_v"]),
        battery_a=sign * np.array(values["battery_a"]),
        soc_frac=None if soc is None else np.array(soc) / 100.0,
        skipped_count=skipped,
    )


def _rows(content: bytes, file: str) -> Iterator[tuple[int, list[str]]]:
    """Yield the rows that are neither empty nor remarks, with their line numbers; the heading first."""
    try:
        lines = content.decode("utf-8-sig").splitlines()
    except UnicodeDecodeError as error:
        raise FileError(f"{file}: is not text in UTF-8; save it as UTF-8") from error
    first = next((i for i, line in enumerate(lines) if line.strip() and not line.startswith("#")), None)
    if first is None:
        raise FileError(f"{file}: is empty")
    mark = max(";\t,", key=lines[first].count)
    for number, row in enumerate(csv.reader(lines[first:], delimiter=mark), start=first + 1):
        if row and not row[0].startswith("#"):
            yield number, row


def _places(file: str, heading: list[str], names: Mapping[str, str]) -> dict[str, int]:
    """Return where each column stands."""
    found = {cell.strip().strip('"').lower(): place for place, cell in reversed(list(enumerate(heading)))}
    places = {
        name: found[names.get(name, name).lower()]
        for name in COLUMNS
        if names.get(name, name).lower() in found
    }
    lacking = [names.get(name, name) for name in COLUMNS[:3] if name not in places]
    lacking += [names[name] for name in COLUMNS[3:] if name in names and name not in places]
    if lacking:
        raise FileError(
            f"{file}: no column {', '.join(lacking)}; it has {', '.join(cell.strip() for cell in heading[:12])}. Name them: "
            "--columns time=...,battery_v=...,battery_a=..."
        )
    return places


def _time(cell: str, utc_offset_h: float) -> dt.datetime:
    try:
        time = dt.datetime.fromisoformat(cell)
    except ValueError:
        raise ValueError(f"time '{cell[:30]}' is not like 2026-10-03T21:15:00") from None
    if time.tzinfo is None:
        return time
    return time.astimezone(dt.timezone(dt.timedelta(hours=utc_offset_h))).replace(tzinfo=None)


def _figure(name: str, cell: str) -> float:
    """Return a number, with a point or a comma as its decimal sign."""
    try:
        value = float(cell.replace(",", "."))
    except ValueError:
        raise ValueError(f"{name} '{cell[:30]}' is not a number") from None
    low, high = LIMITS[name]
    if not low <= value <= high:
        raise ValueError(f"{name} {cell[:30]} is not between {low:g} and {high:g}")
    return value
