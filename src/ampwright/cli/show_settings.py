"""The settings sheet on a terminal of 80 columns, as JSON and as a file."""

from __future__ import annotations

import dataclasses
import json
from pathlib import Path

from rich.console import Console
from rich.text import Text

from ampwright.assessment.result import Assessment
from ampwright.assessment.settings_plan import settings_plan
from ampwright.documents.settings_model import DeviceSheet, SheetLine, settings_model
from ampwright.documents.words.words import Words
from ampwright.errors import FileError

__all__ = ["settings_json", "settings_shown", "settings_written"]

BLANK = "________"
COLUMNS = (25, 11, 16, 13)
"""Widths of what, value, window and origin; the reading takes the rest."""


def settings_json(found: Assessment) -> str:
    """Return the sheet as JSON text."""
    plan = {
        "job": found.design.job.job.id,
        "revision": found.design.job.job.revision,
        "wiring_verdict": found.wiring_verdict,
        **dataclasses.asdict(settings_plan(found)),
    }
    return json.dumps(plan, indent=2, ensure_ascii=False, allow_nan=False, default=str)


def settings_written(found: Assessment, target: Path, *, words: Words) -> None:
    """Write the sheet as PDF."""
    from ampwright.documents.settings_pdf import settings_pdf  # noqa: PLC0415 - heavy

    content = settings_pdf(found, words)
    try:
        target.write_bytes(content)
    except OSError as error:
        raise FileError(f"{target}: cannot be written ({error.strerror}); choose another place") from error


def settings_shown(found: Assessment, *, sheet: Path | None) -> None:
    """Print the sheet: one block for each device."""
    console = Console(highlight=False, soft_wrap=False)
    model = settings_model(found)
    if model.draft:
        console.print(Text(model.draft, style="bold red"))
    _wrapped(console, Text(model.title, style="bold"), column_count=0)
    for note in model.notes:
        _wrapped(console, Text(note), column_count=0)
    for device in model.devices:
        console.print()
        _device(console, device)
    console.print()
    for limit in model.limits:
        _wrapped(console, Text(limit, style="dim"), column_count=0)
    if sheet is not None:
        console.print(f"Sheet: {sheet}", markup=False, soft_wrap=True)


def _device(console: Console, device: DeviceSheet) -> None:
    head = Text(device.heading, style="bold")
    head.append(f"  {device.name}", style="not bold")
    _wrapped(console, head, column_count=0)
    console.print(Text("  " + _row("", ("set to", "window", "says who", "as left")), style="dim"))
    for line in device.lines:
        _line(console, line)
    if device.read_by:
        _wrapped(console, Text(device.read_by), column_count=2)
    if device.note:
        _wrapped(console, Text(device.note), column_count=2)


def _row(what: str, cells: tuple[str, str, str, str]) -> str:
    """Return one line of columns; a long text pushes the rest on."""
    widths = zip((what, *cells[:3]), COLUMNS, strict=True)
    return (
        "".join(f"{text:<{width}}" if len(text) < width else f"{text} " for text, width in widths) + cells[3]
    )


def _line(console: Console, line: SheetLine) -> None:
    left = line.as_left or BLANK
    row = Text("  " + _row(line.what[: COLUMNS[0] - 1], (line.value, line.window, line.origin, left)))
    if line.is_proposal:
        row.stylize("yellow")
    console.print(row, soft_wrap=True)
    if line.is_off:
        _wrapped(console, Text("NOT AS WANTED", style="bold red"), column_count=4)
    _wrapped(console, Text(line.why, style="dim"), column_count=4)


def _wrapped(console: Console, text: Text, *, column_count: int) -> None:
    """Print a text wrapped and set in, without blanks at the ends of its lines."""
    for line in text.wrap(console, console.width - column_count):
        line.rstrip()
        console.print(Text(" " * column_count).append_text(line), soft_wrap=True)
