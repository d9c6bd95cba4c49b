"""Overrides: a named person takes one finding on, with a reason and an end.

Answers what a job file says of them and what is wrong with how it is written. What an override does to a
finding is decided in `assessment.overrides`.
"""

from __future__ import annotations

import datetime as dt

from ampwright.job.complaints import Complaints, Path
from ampwright.records import record

__all__ = ["LONGEST_DAYS", "MOST_OVERRIDES", "Override", "check_overrides"]

LONGEST_DAYS = 366
"""Longest time an override may hold (docs/choices.md#override-term)."""
MOST_OVERRIDES = 12
"""Most overrides of a job: more is another design (docs/choices.md#override-count)."""
FEWEST_WORDS = 4
"""Fewest words of a reason (docs/choices.md#override-reason)."""
LONGEST_NAME_COUNT = 60
LONGEST_REASON_COUNT = 240


@record
class Override:
    """One finding that a named person takes on for a time: it stays, as a condition."""

    rule: str
    """Rule whose finding is overridden, as the check prints it."""
    subject: str
    """What that finding speaks of, as the check's JSON names it; one subject, never all."""
    by: str
    """Name of the person who takes it on."""
    reason: str
    """Why, in at least four words."""
    granted: dt.date
    """First day on which it holds."""
    expires: dt.date
    """Last day on which it holds, at most a year later."""


def check_overrides(overrides: tuple[Override, ...], complaints: Complaints) -> None:
    """Complain of what is wrong with the overrides as written."""
    seen: set[tuple[str, str]] = set()
    if len(overrides) > MOST_OVERRIDES:
        complaints.add(
            ("override",),
            f"{len(overrides)} overrides; at most {MOST_OVERRIDES}: mend the design, or write it anew",
        )
    for index, each in enumerate(overrides):
        path: Path = ("override", index)
        if not each.subject.strip():
            complaints.add((*path, "subject"), "name the one subject; a rule is never overridden as a whole")
        elif (each.rule, each.subject) in seen:
            complaints.add((*path, "subject"), f"'{each.rule}' of '{each.subject}' is overridden twice")
        seen.add((each.rule, each.subject))
        _check_person(each, path, complaints)
        _check_term(each, path, complaints)


def _check_person(override: Override, path: Path, complaints: Complaints) -> None:
    if sum(letter.isalpha() for letter in override.by) < 2:
        complaints.add((*path, "by"), "give the name of the person who takes it on")
    elif len(override.by) > LONGEST_NAME_COUNT:
        complaints.add((*path, "by"), f"{len(override.by)} letters; a name has at most {LONGEST_NAME_COUNT}")
    words = [word for word in override.reason.split() if any(letter.isalpha() for letter in word)]
    if len(words) < FEWEST_WORDS:
        complaints.add(
            (*path, "reason"),
            f"say why in at least {FEWEST_WORDS} words: what was found instead, or who accepts what",
        )
    elif len(override.reason) > LONGEST_REASON_COUNT:
        complaints.add(
            (*path, "reason"),
            f"{len(override.reason)} letters; it stands on every page, use at most {LONGEST_REASON_COUNT}",
        )


def _check_term(override: Override, path: Path, complaints: Complaints) -> None:
    days = (override.expires - override.granted).days
    if days < 0:
        complaints.add((*path, "expires"), f"{override.expires} is before it is granted, {override.granted}")
    elif days > LONGEST_DAYS:
        complaints.add(
            (*path, "expires"),
            f"{days} days after {override.granted}; at most {LONGEST_DAYS}: look at it again each year",
        )
