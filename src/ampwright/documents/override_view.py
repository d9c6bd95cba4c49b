"""Overrides in force as short lines for the head of every page: who, what, why, until when."""

from __future__ import annotations

import datetime as dt
import textwrap
from collections.abc import Iterator

from ampwright.documents.printable import printable
from ampwright.documents.words.words import Words, noted
from ampwright.findings import Finding, OverrideInForce, Severity

__all__ = ["WEIGHTS", "override_heading", "override_lines", "override_sentence"]

WEIGHTS: dict[Severity, str] = {
    Severity.PASS: noted("pass"),
    Severity.ADVICE: noted("advice"),
    Severity.NOT_CHECKED: noted("not checked"),
    Severity.CONDITION: noted("condition"),
    Severity.FAIL: noted("fail"),
}
"""How a finding weighs, as printed."""

LINE_COUNT = 118
"""Most letters of a line; own choice, fits the width of either sheet in the head's type."""


def override_heading(overridden: tuple[Finding, ...], on: dt.date, words: Words) -> str:
    """Return the heading of the block; empty where nothing is overridden."""
    return words("Overrides in force on {date}", date=on) if overridden else ""


def override_lines(overridden: tuple[Finding, ...], *, job_id: str, words: Words) -> tuple[str, ...]:
    """Return the block's lines; none where nothing is overridden.

    Findings that one override covers are said once.
    """
    said = dict.fromkeys(_sentences(overridden, job_id, words))
    return tuple(
        line for sentence in said for line in textwrap.wrap(sentence, LINE_COUNT, subsequent_indent="    ")
    )


def _sentences(overridden: tuple[Finding, ...], job_id: str, words: Words) -> Iterator[str]:
    for finding in overridden:
        held = finding.override
        if held is not None:
            yield printable(
                words(
                    "{rule}, {subject} ({weight} without it).",
                    rule=words.rule(finding.rule),
                    subject=words("the whole job") if finding.subject == job_id else finding.subject,
                    weight=words(WEIGHTS[held.was]),
                )
                + f" {override_sentence(held, words)}"
            )


def override_sentence(held: OverrideInForce, words: Words) -> str:
    """Return who took a finding on, until when and why."""
    return words(
        "Overridden by {name} until {date}: {reason}.",
        name=held.by,
        date=held.expires,
        reason=held.reason.rstrip("."),
    )
