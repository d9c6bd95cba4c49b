"""A part of a job as a page shows it: sheets of fields and tables of rows, made from the records.

Reads the tables of a job as written; which page shows what is said in `pages.py`.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import is_dataclass
from typing import Any, get_args, get_origin

from django.utils.translation import gettext, gettext_noop, pgettext

from ampwright.field_types import hint_at, options
from ampwright.job.records import Job
from ampwright.job.text_edit import value_at
from ampwright.job.text_places import KeyPath
from ampwright.job.unknowns import plain_words
from ampwright.records import record
from ampwright.web.fields import Field, fields_of, shown_value

__all__ = [
    "COLUMNS",
    "Cell",
    "Row",
    "Sheet",
    "Table",
    "block_at",
    "cell_at",
    "dotted",
    "path_of",
    "record_at",
    "row_name",
    "was_text",
]

COLUMNS: dict[str, tuple[str, ...]] = {
    "zone": ("id", "kind", "ambient_max_degc", "rise_k"),
    "part": ("id", "part", "zone", "inside", "strings", "in_series", "owner"),
    "run": ("id", "start", "end", "cable", "length_m", "zones", "back"),
    "load": ("id", "name", "part", "power_w", "count", "priority", "zone"),
    "day": ("id", "otherwise", "shade_frac", "sun_factor"),
    "setting": ("part", "programme", "charge_v", "float_v", "start_v", "stop_v"),
    "override": ("rule", "subject", "by", "reason", "granted", "expires"),
    "when": ("start", "end", "duty_frac", "uses", "use_minutes", "days", "states"),
}
"""Columns of the tables with many fields; all others stand on the row's own page."""
MOST_COLUMNS = 7
SUGGESTIONS = {
    "zone": "zones", "zones": "zones", "inlet_zone": "zones", "inside": "placed", "cable": "cables", "back_cable": "cables",
    "start": "nodes", "end": "nodes", "at": "nodes", "through": "placed", "module": "placed", "string_device": "devices",
    "panel": "placed", "channels": "nodes", "channel": "nodes", "keeps": "nodes",
    "plugs": "plugs", "days": "days", "site": "sites",
}  # fmt: skip
"""Which names are offered for a field."""
SUGGESTIONS_OF_PART = {"part": "parts", "device": "devices", "load": "fridges", "setting": "placed"}
"""The same for `part`, by the table it stands in."""
TITLES = {
    "Run": gettext_noop("Cable runs"), "Load": gettext_noop("Loads"), "Part": gettext_noop("Parts"), "Day": gettext_noop("Day plans"), "Zone": gettext_noop("Places in the vehicle"),
    "Channel": gettext_noop("Output channels"), "Setting": gettext_noop("Settings of devices"), "Override": gettext_noop("Overrides"), "Bond": gettext_noop("Bonds of negative to metal"),
    "Device": gettext_noop("Devices"), "Period": gettext_noop("Periods in another state"), "When": gettext_noop("When it runs"), "Use": gettext_noop("Sequence of days"),
    "Module": gettext_noop("Power module"), "Doubt": gettext_noop("Doubt"),
    "Leg": gettext_noop("Further places"), "Button": gettext_noop("Buttons"), "Interlock": gettext_noop("Interlocks"), "Level": gettext_noop("Levels of the scene"),
}  # fmt: skip
"""Headings that say more than the key."""
CLOCKS = ("period", "when")


@record
class Details:
    """What goes with an amount that is measured or unknown, as typed."""

    how: str = ""
    """Instrument, conditions and day."""
    tolerance: str = ""
    """Half width of the reading's uncertainty."""
    low: str = ""
    """Lowest value."""
    high: str = ""
    """Highest value."""
    likely: str = ""
    """Best guess."""
    ask: str = ""
    """How to find out."""


@record
class Cell:
    """One field with what the job says."""

    field: Field
    """What it is."""
    path: str
    """Its path with dots."""
    shown: str
    """The value as an input shows it."""
    known: str = "declared"
    """How an amount is known."""
    details: Details = Details()
    """The rest of an amount that is measured or unknown."""
    was: str = ""
    """The value as JSON, to tell whether another person changed it meanwhile."""
    row: str = ""
    """Name of its row, to tell whether rows moved meanwhile."""
    suggestions: str = ""
    """List of names that are offered."""
    is_said: bool = False
    """True where the job says something."""


@record
class Row:
    """One row of a table."""

    path: str
    """Its path with dots."""
    name: str
    """Its name."""
    cells: tuple[Cell, ...]
    """Its columns."""
    more: str
    """What else is said of it, in short."""


@record
class Table:
    """Rows of one kind."""

    title: str
    """Heading."""
    path: str
    """Its path with dots."""
    columns: tuple[Field, ...]
    """Its columns."""
    rows: tuple[Row, ...]
    """Its rows."""
    blank: tuple[Cell, ...]
    """What a new row needs."""
    has_more: bool
    """True where a row has fields that are no columns."""


@record
class Sheet:
    """Fields of one record."""

    title: str
    """Heading."""
    path: str
    """Its path with dots."""
    is_there: bool
    """False where the job does not say it."""
    cells: tuple[Cell, ...]
    """Fields needed or said."""
    further: tuple[Cell, ...]
    """Fields that may be said."""
    sheets: tuple[Sheet, ...]
    """Records below."""
    tables: tuple[Table, ...]
    """Rows below."""
    blank: tuple[Cell, ...]
    """What it needs where it is not there."""


def dotted(path: KeyPath) -> str:
    """Return a path as it stands in a form."""
    return ".".join(str(step) for step in path)


def path_of(text: str) -> KeyPath:
    """Return the path from a form.

    Examples
    --------
    >>> path_of("load.2.power_w")
    ('load', 2, 'power_w')
    """
    return tuple(int(step) if step.isascii() and step.isdigit() else step for step in text.split(".") if step)


def record_at(path: KeyPath) -> type | None:
    """Return the record at a path, or of the rows there; None where there is no such place."""
    hints = options(hint_at(Job, path)) if path else [Job]
    for hint in hints:
        for each in (hint, *(option for item in get_args(hint) for option in options(item))):
            base = get_origin(each) or each
            if isinstance(base, type) and is_dataclass(base):
                return base
    return None


def block_at(raw: Any, path: KeyPath) -> Sheet | Table | None:
    """Return what a page shows of a path; None where there is no such place."""
    kind = record_at(path)
    if kind is None:
        return None
    is_rows = any(get_origin(each) is tuple for each in options(hint_at(Job, path)))
    return _table(raw, path, kind) if is_rows else _sheet(raw, path, kind)


def cell_at(raw: Any, path: KeyPath) -> Cell | None:
    """Return the field at a path with its value; None where there is no such field."""
    kind = record_at(path[:-1]) if path[:-1] else Job
    field = next((each for each in fields_of(kind) if each.name == path[-1]), None) if kind else None
    return None if field is None else _cell(raw, path, field)


def _sheet(raw: Any, path: KeyPath, kind: type) -> Sheet:
    value = value_at(raw, path)
    cells = [_cell(raw, (*path, field.name), field) for field in fields_of(kind) if not field.below]
    below = [(field, (*path, field.name)) for field in fields_of(kind) if field.below]
    return Sheet(
        title=_title(raw, path),
        path=dotted(path),
        is_there=value is not None,
        cells=tuple(cell for cell in cells if cell.is_said or cell.field.is_needed),
        further=tuple(cell for cell in cells if not (cell.is_said or cell.field.is_needed)),
        sheets=tuple(
            _sheet(raw, place, field.below)
            for field, place in below
            if field.control == "record" and field.below
        ),
        tables=tuple(
            _table(raw, place, field.below)
            for field, place in below
            if field.control == "rows" and field.below
        ),
        blank=() if value is not None else tuple(cell for cell in cells if cell.field.is_needed),
    )


def _table(raw: Any, path: KeyPath, kind: type) -> Table:
    every = [field for field in fields_of(kind) if not field.below]
    names = COLUMNS.get(str(path[-1])) or tuple(field.name for field in every[:MOST_COLUMNS])
    columns = tuple(field for name in names for field in every if field.name == name)
    rows = value_at(raw, path) or ()
    return Table(
        title=_title(raw, path),
        path=dotted(path),
        columns=columns,
        rows=tuple(_row(raw, (*path, index), kind, columns) for index in range(len(rows))),
        blank=tuple(_cell({}, (*path, field.name), field) for field in every if field.is_needed),
        has_more=len(fields_of(kind)) > len(columns),
    )


def _row(raw: Any, path: KeyPath, kind: type, columns: tuple[Field, ...]) -> Row:
    value = value_at(raw, path)
    shown = {field.name for field in columns}
    others = [field for field in fields_of(kind) if field.name not in shown and field.name in value]
    return Row(
        path=dotted(path),
        name=row_name(raw, path),
        cells=tuple(_cell(raw, (*path, field.name), field) for field in columns),
        more="; ".join(_short(field, value[field.name]) for field in others),
    )


def _short(field: Field, value: Any) -> str:
    """Return in short what a row says beside its columns."""
    if field.control == "rows":
        return f"{field.label}: {', '.join(_short_row(row) for row in value)}"
    if field.control == "record":
        return field.label
    value = (
        _known(field, value)[2] or gettext("unknown")
        if field.control == "amount"
        else shown_value(field, value)
    )
    return f"{field.label} {dict(field.words).get(value, value)} {field.unit}".rstrip()


def _short_row(row: Mapping[str, Any]) -> str:
    if "start" in row and "end" in row:
        return " ".join(str(row[key]) for key in ("state", "start", "end") if key in row)
    return str(row.get("id") or row.get("part") or row.get("what") or next(iter(row.values()), ""))


def row_name(raw: Any, path: KeyPath) -> str:
    """Return the name of the innermost named row a path leads into; empty where it leads into none."""
    for last in range(len(path) - 1, -1, -1):
        row = value_at(raw, path[: last + 1]) if isinstance(path[last], int) else None
        if isinstance(row, Mapping):
            name = next((row[key] for key in ("id", "part", "rule", "what", "legend") if row.get(key)), "")
            if name:
                return str(name)
    return ""


def _cell(raw: Any, path: KeyPath, field: Field) -> Cell:
    value = value_at(raw, path)
    known, details, shown = (
        _known(field, value)
        if field.control == "amount"
        else ("declared", Details(), shown_value(field, value))
    )
    return Cell(
        field=field,
        path=dotted(path),
        shown=shown,
        known=known,
        details=details,
        was=was_text(value),
        row=row_name(raw, path),
        suggestions=_suggestions(path),
        is_said=value is not None,
    )


def _known(field: Field, value: Any) -> tuple[str, Details, str]:
    if not isinstance(value, Mapping):
        return "declared", Details(), shown_value(field, value)
    if "unknown" in value:
        low, high = (shown_value(field, end) for end in (*value["unknown"], None, None)[:2])
        likely, ask = shown_value(field, value.get("likely")), value.get("ask", "")
        return "unknown", Details(low=low, high=high, likely=likely, ask=ask), ""
    how, tolerance = value.get("how", ""), str(value.get("tolerance_frac", ""))
    return "measured", Details(how=how, tolerance=tolerance), shown_value(field, value.get("measured"))


def was_text(value: Any) -> str:
    """Return a value as text that can be compared."""
    return json.dumps(value, default=str, sort_keys=True)


def _suggestions(path: KeyPath) -> str:
    names = [step for step in path if isinstance(step, str)]
    if len(names) > 1 and names[-2] in CLOCKS and names[-1] in ("start", "end"):
        return ""
    if names[-1] == "part":
        return SUGGESTIONS_OF_PART.get(names[-2] if len(names) > 1 else "", "")
    return SUGGESTIONS.get(str(names[-1]), "") if names else ""


def _title(raw: Any, path: KeyPath) -> str:
    words = [plain_words(step).capitalize() for step in path if isinstance(step, str)]
    last, name = words[-1] if words else "", row_name(raw, path)
    if isinstance(path[-1], int) or last not in TITLES:
        return f"{pgettext('field', last)} {name if isinstance(path[-1], int) else ''}".strip()
    return gettext(TITLES[last])


def names_below(raw: Mapping[str, Any], key: str) -> Iterator[str]:
    """Yield the ids of the rows of a table."""
    yield from (str(row["id"]) for row in raw.get(key, ()) if "id" in row)
