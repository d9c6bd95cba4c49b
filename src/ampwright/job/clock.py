"""Clock times and sequences of days as written in a job file."""

from __future__ import annotations

import re

__all__ = ["day_names", "minute_by_sun", "minutes_of_clock"]

CLOCK = re.compile(r"^([01]?\d|2[0-4]):([0-5]\d)$")
SUN = re.compile(r"^(sunrise|sunset)\s*(?:([+-])\s*(\d{1,2}):([0-5]\d))?$")
REPEATED = re.compile(r"^(\d{1,3})\s*[x×]\s*(\S+)$")
MINUTES_PER_DAY = 1440


def minutes_of_clock(text: str) -> int | None:
    """Return the minute of the day of "HH:MM", 0 to 1440; None if it is no clock time.

    Examples
    --------
    >>> minutes_of_clock("06:30"), minutes_of_clock("24:00"), minutes_of_clock("24:15")
    (390, 1440, None)
    """
    found = CLOCK.match(text.strip())
    if not found:
        return None
    minutes = 60 * int(found[1]) + int(found[2])
    return minutes if minutes <= MINUTES_PER_DAY else None


def minute_by_sun(text: str, daylight: tuple[int, int]) -> int | None:
    """Return the minute of the day of "sunrise", "sunset" or either with an offset; None if it is no such time.

    Parameters
    ----------
    daylight : minutes of sunrise and sunset

    Examples
    --------
    >>> minute_by_sun("sunset - 0:30", (360, 1080)), minute_by_sun("sunrise", (360, 1080)), minute_by_sun("dusk", (0, 0))
    (1050, 360, None)
    """
    found = SUN.match(text.strip())
    if not found:
        return None
    offset = 60 * int(found[3] or 0) + int(found[4] or 0)
    return (daylight[found[1] == "sunset"] + (-offset if found[2] == "-" else offset)) % MINUTES_PER_DAY


def day_names(entry: str) -> tuple[str, ...] | None:
    """Return the day plans one entry of the sequence names; None if its count is not 1 to 366.

    Examples
    --------
    >>> day_names("2 x work"), day_names("rest")
    (('work', 'work'), ('rest',))
    """
    found = REPEATED.match(entry.strip())
    if not found:
        return (entry.strip(),)
    count = int(found[1])
    return (found[2],) * count if 1 <= count <= 366 else None
