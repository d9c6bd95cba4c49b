"""One typed field, added or removed row becomes a new revision of a job; or it is said why not."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from django.utils.translation import gettext

from ampwright.errors import AmpwrightError, JobError
from ampwright.job.text_edit import value_at, with_row, with_value, without_row
from ampwright.job.text_places import KeyPath
from ampwright.toml_positions import toml_tables
from ampwright.validation import path_text
from ampwright.web.fields import fields_of, typed_value
from ampwright.web.models import Revision
from ampwright.web.sheet import cell_at, dotted, path_of, record_at, row_name, was_text
from ampwright.web.store import Change, change_job

__all__ = [
    "JOB",
    "ChangedMeanwhileError",
    "add_row",
    "change_value",
    "check_row",
    "copy_row",
    "refusal",
    "remove_row",
]

JOB = Path("job.toml")


class ChangedMeanwhileError(AmpwrightError):
    """Another person changed the same thing in the meantime."""


def change_value(job_id: int, typed: Mapping[str, str], *, who: str) -> tuple[Revision, Any]:
    """Return the revision with one field changed, and the value as it stands there now.

    Raises
    ------
    JobError
        Where the value is not right.
    ChangedMeanwhileError
        Where the field or its row is not what the person saw.
    """
    path = _path(typed)
    cell = cell_at({}, path)
    if cell is None or cell.field.below is not None:
        raise AmpwrightError(gettext("{path}: there is no such field").format(path=dotted(path)))
    value = typed_value(cell.field, typed)

    def edit(last: Revision) -> str:
        raw = toml_tables(last.text, JOB)
        _check_unchanged(raw, path, typed)
        return with_value(last.text, path, value)

    revision = change_job(job_id, edit, Change(who=who, what=_said(path, typed.get("row", ""), value)))
    return revision, value


def add_row(job_id: int, typed: Mapping[str, str], *, who: str) -> Revision:
    """Return the revision with one row, or one table, more."""
    path = _path(typed)
    kind = record_at(path)
    if kind is None:
        raise AmpwrightError(gettext("{path}: there is no such table").format(path=dotted(path)))
    row = {}
    for field in fields_of(kind):
        own = {
            key.rpartition(":")[2]: value for key, value in typed.items() if key.startswith(f"{field.name}:")
        }
        value = typed_value(field, own) if own else None
        if value is not None:
            row[field.name] = value
    is_row = typed.get("is") == "row"

    def edit(last: Revision) -> str:
        raw = toml_tables(last.text, JOB)
        check_row(raw, path, typed)
        if not is_row and value_at(raw, path) is not None:
            message = gettext("not saved: {path} is there already; load the page anew")
            raise ChangedMeanwhileError(message.format(path=dotted(path)))
        return with_row(last.text, path, row) if is_row else with_value(last.text, path, row)

    place = f"{dotted(path)} {row.get('id', '')}".strip()
    what = gettext("{place}: added").format(place=place)
    return change_job(job_id, edit, Change(who=who, what=what))


def copy_row(job_id: int, typed: Mapping[str, str], *, who: str) -> Revision:
    """Return the revision with a copy of a row at the end of its table."""
    path = _path(typed)

    def edit(last: Revision) -> str:
        raw = toml_tables(last.text, JOB)
        check_row(raw, path, typed)
        row = dict(value_at(raw, path))
        taken = {str(each.get("id")) for each in value_at(raw, path[:-1])}
        if "id" in row:
            row["id"] = next(
                name for number in range(2, 999) if (name := f"{row['id']}-{number}") not in taken
            )
        return with_row(last.text, path[:-1], row)

    what = gettext("{place}: copied").format(place=f"{dotted(path[:-1])} {typed.get('row', '')}")
    return change_job(job_id, edit, Change(who=who, what=what))


def remove_row(job_id: int, typed: Mapping[str, str], *, who: str) -> Revision:
    """Return the revision without a row, or without a table."""
    path = _path(typed)

    def edit(last: Revision) -> str:
        check_row(toml_tables(last.text, JOB), path, typed)
        is_row = isinstance(path[-1], int)
        return without_row(last.text, path) if is_row else with_value(last.text, path, None)

    place = f"{dotted(path)} {typed.get('row', '')}".strip()
    what = gettext("{place}: removed").format(place=place)
    return change_job(job_id, edit, Change(who=who, what=what))


def check_row(raw: Any, path: KeyPath, typed: Mapping[str, str]) -> None:
    """Raise ChangedMeanwhileError where a row on the way of a path is gone, or is another one than was typed into."""
    rows = [path[: index + 1] for index, step in enumerate(path) if isinstance(step, int)]
    is_gone = any(value_at(raw, row) is None for row in rows)
    if is_gone or ("row" in typed and typed["row"] != row_name(raw, path)):
        raise ChangedMeanwhileError(
            gettext("not saved: rows of this table were changed meanwhile; load the page anew")
        )


def refusal(error: AmpwrightError, path: str = "") -> str:
    """Return why an edit was refused, in a sentence for the place where it was typed."""
    if not isinstance(error, JobError):
        return str(error)
    name = path.rpartition(".")[2]
    own = [each for each in error.problems if name and name in each.path.replace(" > ", ".").split(".")]
    return "; ".join(dict.fromkeys(each.message for each in own or error.problems[:1]))


def _path(typed: Mapping[str, str]) -> KeyPath:
    path = path_of(typed.get("path", ""))
    if not path:
        raise AmpwrightError(gettext("nothing was named that should change"))
    return path


def _check_unchanged(raw: Any, path: KeyPath, typed: Mapping[str, str]) -> None:
    check_row(raw, path, typed)
    now = was_text(value_at(raw, path))
    if "was" in typed and typed["was"] != now:
        message = gettext("not saved: {field} was changed meanwhile and says {value} now; load the page anew")
        raise ChangedMeanwhileError(message.format(field=path_text(path, raw), value=now))


def _said(path: KeyPath, row: str, value: Any) -> str:
    place = dotted(path) if not row else f"{path[0]} {row} {path[-1]}"
    return f"{place}: {gettext('taken away') if value is None else was_text(value)}"
