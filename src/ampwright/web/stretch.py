"""A stretch of the day changes as one: both its ends in one revision, whether typed or moved on the timeline."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext

from ampwright.errors import AmpwrightError
from ampwright.job.clock import minute_by_sun, minutes_of_clock
from ampwright.job.text_edit import value_at, with_value
from ampwright.job.text_places import KeyPath
from ampwright.toml_positions import toml_tables
from ampwright.web.edit import JOB, ChangedMeanwhileError, check_row
from ampwright.web.models import Revision
from ampwright.web.sheet import path_of, was_text
from ampwright.web.store import Change, change_job

__all__ = ["DAY_MIN", "change_stretch", "clock", "is_stretch", "stretch_span"]

DAY_MIN = 1440
KINDS = ("period", "when", "shade")
"""Lists of a job whose rows are stretches of the day."""
ENDS = ("start", "end")
WHOLE_DAY = ("00:00", "24:00")
"""What holds where a row does not say its ends."""


def is_stretch(path: KeyPath) -> bool:
    """Say whether a path leads to a stretch of the day.

    Examples
    --------
    >>> is_stretch(("load", 1, "when", 0)), is_stretch(("run", 1))
    (True, False)
    """
    return len(path) > 1 and path[-2] in KINDS and isinstance(path[-1], int)


def change_stretch(job_id: int, typed: Mapping[str, str], *, who: str) -> Revision:
    """Return the revision with both ends of a stretch changed.

    Raises
    ------
    AmpwrightError
        Where an end is no clock time, or the stretch has no length.
    ChangedMeanwhileError
        Where the stretch or its row is not what the person saw.
    """
    path = path_of(typed.get("path", ""))
    ends = {name: _clock_typed(typed.get(name, "")) for name in ENDS}
    _check_length(ends)

    def edit(last: Revision) -> str:
        raw = toml_tables(last.text, JOB)
        _check_same(raw, path, typed)
        text = last.text
        for (name, value), usual in zip(ends.items(), WHOLE_DAY, strict=True):
            if (value_at(raw, (*path, name)) or usual) != value:
                text = with_value(text, (*path, name), value)
        return text

    place = f"{path[0]} {typed.get('row', '')} {path[-2]}".replace("  ", " ")
    span = gettext("{start} to {end}").format(**ends)
    return change_job(job_id, edit, Change(who=who, what=f"{place}: {span}"))


def stretch_span(row: Mapping[str, Any]) -> tuple[int, int] | None:
    """Return first minute (0 to 1439) and length of a stretch as written; None where it is no such thing.

    Examples
    --------
    >>> stretch_span({"start": "22:00", "end": "06:30"}), stretch_span({}), stretch_span({"start": "dawn"})
    ((1320, 510), (0, 1440), None)
    """
    ends = [minutes_of_clock(str(row.get(name, usual))) for name, usual in zip(ENDS, WHOLE_DAY, strict=True)]
    start, end = ends
    if start is None or end is None:
        return None
    length = DAY_MIN if (start, end) == (0, DAY_MIN) else (end - start) % DAY_MIN
    return (start % DAY_MIN, length) if length else None


def clock(minute: int) -> str:
    """Return a minute of the day as clock time; minute 1440 is "24:00".

    Examples
    --------
    >>> clock(390), clock(1440)
    ('06:30', '24:00')
    """
    return f"{minute // 60:02d}:{minute % 60:02d}"


def _follows_sun(text: str) -> bool:
    return minute_by_sun(text, (0, 0)) is not None


def _clock_typed(text: str) -> str:
    if _follows_sun(text):
        return text.strip()
    minute = minutes_of_clock(text)
    if minute is None:
        message = gettext("'{text}' is no clock time; write it like 06:30, at most 24:00")
        raise AmpwrightError(message.format(text=text[:20]))
    return clock(minute)


def _check_length(ends: Mapping[str, str]) -> None:
    if not any(_follows_sun(text) for text in ends.values()) and stretch_span(ends) is None:
        raise AmpwrightError(gettext("the stretch has no length; start and end are the same"))


def _check_same(raw: Any, path: KeyPath, typed: Mapping[str, str]) -> None:
    check_row(raw, path, typed)
    row = value_at(raw, path)
    if "was" in typed and typed["was"] != was_text(row):
        start, end = (str(row.get(name, usual)) for name, usual in zip(ENDS, WHOLE_DAY, strict=True))
        message = gettext(
            "not saved: it was changed meanwhile and says {start} to {end} now; load the page anew"
        )
        raise ChangedMeanwhileError(message.format(start=start, end=end))
