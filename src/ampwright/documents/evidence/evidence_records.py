"""Page model of the evidence report: plain texts."""

from __future__ import annotations

from ampwright.records import record

__all__ = ["Evidence", "Heading", "Line", "RuleBlock"]


@record
class Line:
    """One finding that is told in full."""

    severity: str
    """How it weighs, in words."""
    subject: str
    """What it speaks of."""
    language: str
    """Language code of the message."""
    message: str
    """What was found, with its inputs; way out and override behind."""
    value: str
    """Figure found."""
    limit: str
    """Figure it is held against."""
    margin: str
    """Distance to it."""
    source: str
    """Number of its source in the list at the end; empty = none."""
    is_trouble: bool
    """True for anything but a pass."""


@record
class RuleBlock:
    """One rule with everything it found."""

    name: str
    """Name of the rule in words."""
    id: str
    """Its name in the documentation; empty where the words are the name."""
    asks: str
    """Its question."""
    counts: str
    """How many of each weight."""
    lines: tuple[Line, ...]
    """Findings told in full: every one that does not pass, and the tightest passes."""
    gathered: str
    """The other passes, each with subject and figures; empty = none."""


@record
class Heading:
    """A list of short texts below a heading."""

    title: str
    """Heading."""
    items: tuple[str, ...]
    """Texts."""


@record
class Evidence:
    """Everything the report prints."""

    facts: tuple[tuple[str, str], ...]
    """Name and value: hash, version, verdicts."""
    before: tuple[Heading, ...]
    """What was not checked, overrides, assumptions."""
    heads: tuple[str, ...]
    """Headings of the columns: weight, subject, found, value, limit, margin, source."""
    groups: tuple[tuple[str, tuple[RuleBlock, ...]], ...]
    """Rules of each verdict."""
    after: tuple[Heading, ...]
    """Rules without a subject, sources."""
    end: str
    """What the document does not decide."""
