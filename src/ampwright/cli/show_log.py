"""A log against its job as text of 80 columns, and as JSON."""

from __future__ import annotations

import dataclasses
import json
import math
import textwrap
from collections.abc import Iterator
from typing import Any

from ampwright.fieldwork.log_study import LogLine, LogStudy

__all__ = ["log_json", "log_text"]

COLUMNS = 80
CAUTION = (
    "A log shows other weather and other habits than the job: only large differences mean something. Before anything is "
    "opened or pulled: isolate the battery, last fuse out first."
)


def log_text(study: LogStudy) -> str:
    """Return the comparison as a table, then what differs and why it may."""
    facts = study.facts
    gap = f", {facts.gap_h:.0f} h without readings" if facts.gap_h >= 1.0 else ""
    lines = [f"Log against the job {study.job}: {facts.covered_h:,.0f} h{gap}", ""]
    lines.append(f"{'':27} {'log':>9} {'job':>9}  {'':13} within")
    lines += [_row(line) for line in study.lines]
    for line in study.differing:
        lines += ["", *_cause_lines(line)]
    for line in study.lines:
        if line.line:
            lines += ["", *textwrap.wrap(f"To go on with what was logged, write in {line.field}:", COLUMNS)]
            lines.append(f"  {line.line}")
    lines.append("")
    lines += textwrap.wrap(CAUTION, COLUMNS)
    return "\n".join(lines)


def log_json(study: LogStudy) -> str:
    """Return the comparison as JSON text; what is not told is null."""
    plain = {
        "job": study.job,
        "facts": {name: _number(value) for name, value in dataclasses.asdict(study.facts).items()},
        "lines": [_plain(line) for line in study.lines],
    }
    return json.dumps(plain, indent=2, ensure_ascii=False, allow_nan=False)


def _row(line: LogLine) -> str:
    span = f"{_figure(line.low)} to {_figure(line.high)}" if not line.is_open else f"from {_figure(line.low)}"
    word = {"agrees": "agrees", "more": "MORE", "less": "LESS", "not told": "not told"}[line.reading]
    return (
        f"{line.what[:27]:27} {_figure(line.measured):>9} {_figure(line.expected):>9}  {line.unit:3} {word:9} {span}"
    ).rstrip()


def _cause_lines(line: LogLine) -> Iterator[str]:
    yield from textwrap.wrap(f"{line.what}: {line.reading} than foretold. It may be:", COLUMNS)
    for cause in line.causes:
        yield from textwrap.wrap(cause, COLUMNS, initial_indent="- ", subsequent_indent="  ")


def _figure(value: float) -> str:
    if not math.isfinite(value):
        return "-"
    if abs(value) >= 100.0:
        return f"{value:,.0f}"
    return f"{value:.1f}" if abs(value) >= 10.0 else f"{value:.2f}"


def _plain(line: LogLine) -> dict[str, Any]:
    found = {
        name: _number(value) if isinstance(value, float) else value
        for name, value in dataclasses.asdict(line).items()
    }
    return found | {"reading": line.reading}


def _number(value: float) -> float | None:
    return value if math.isfinite(value) else None
