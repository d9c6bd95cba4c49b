"""Finding: what one rule says of one subject. Records only, no engineering."""

from __future__ import annotations

import datetime as dt
from enum import StrEnum

from ampwright.records import record
from ampwright.said import said
from ampwright.sources import Source

__all__ = ["Finding", "Group", "OverrideInForce", "Severity"]


class Severity(StrEnum):
    """How a finding weighs, from light to heavy."""

    PASS = "pass"  # noqa: S105 - a word, not a secret
    ADVICE = "advice"
    NOT_CHECKED = "not checked"
    CONDITION = "condition"
    FAIL = "fail"


class Group(StrEnum):
    """Which of the two verdicts a rule feeds."""

    USE = "fit for the use"
    WIRING = "wiring and protection"


@record
class OverrideInForce:
    """Who took a finding on, why and until when."""

    by: str
    """Name of the person."""
    reason: str
    """Why."""
    granted: dt.date
    """First day on which it holds."""
    expires: dt.date
    """Last day on which it holds."""
    was: Severity
    """How the finding weighs without it."""

    @property
    def sentence(self) -> str:
        """Return it as a sentence."""
        return said(
            "Overridden by {name} until {date}: {reason}.",
            name=self.by,
            date=self.expires.isoformat(),
            reason=self.reason.rstrip("."),
        )


@record
class Finding:
    """What one rule found about one subject; passes are findings too."""

    rule: str
    """Name of the rule, e.g. "cable-capacity"."""
    group: Group
    """Which verdict it belongs to."""
    severity: Severity
    """How it weighs."""
    subject: str
    """Id of the run, part, load or job it speaks of."""
    message: str
    """What was found, in one or two sentences with the figures."""
    value: float | None = None
    """The figure found."""
    limit: float | None = None
    """The figure it is held against."""
    unit: str = ""
    """Unit of value and limit."""
    at_most: bool = True
    """True when the value may not exceed the limit, False when it may not fall below it."""
    source: Source | None = None
    """Where the limit comes from."""
    way_out: str = ""
    """The smallest thing that would mend it."""
    caution: str = ""
    """A hazard the reader must know when acting on this finding."""
    no_override: str = ""
    """Why nobody may override it; empty = a named person may."""
    override: OverrideInForce | None = None
    """Who took it on; None = nobody. The severity is then that of a condition."""

    @property
    def margin_frac(self) -> float | None:
        """Distance to the limit as a fraction of it; negative when broken."""
        if self.value is None or self.limit is None or self.limit == 0:
            return None
        gap = self.limit - self.value if self.at_most else self.value - self.limit
        return gap / abs(self.limit)
