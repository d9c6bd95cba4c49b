"""Overrides in force as short lines for the head of every page: who, what, why, until when."""

from __future__ import annotations

import datetime as dt
import textwrap
from collections.abc import Iterator

from ampwright.documents.printable import printable
from ampwright.findings import Finding

__all__ = ["override_heading", "override_lines"]

LINE_COUNT = 118
"""Most letters of a line; own choice, fits the width of either sheet in the head's type."""


def override_heading(overridden: tuple[Finding, ...], on: dt.date) -> str:
    """Return the heading of the block; empty where nothing is overridden."""
    return f"Overrides in force on {on}" if overridden else ""


def override_lines(overridden: tuple[Finding, ...], *, job_id: str) -> tuple[str, ...]:
    """Return the block's lines; none where nothing is overridden.

    Findings that one override covers are said once.
    """
    said = dict.fromkeys(_sentences(overridden, job_id))
    return tuple(
        line for sentence in said for line in textwrap.wrap(sentence, LINE_COUNT, subsequent_indent="    ")
    )


def _sentences(overridden: tuple[Finding, ...], job_id: str) -> Iterator[str]:
    for finding in overridden:
        held = finding.override
        if held is not None:
            subject = "the whole job" if finding.subject == job_id else finding.subject
            yield printable(
                f"{finding.rule.replace('-', ' ')}, {subject} ({held.was} without it). {held.sentence}"
            )
