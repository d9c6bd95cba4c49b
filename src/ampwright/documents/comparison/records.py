"""Records of a comparison: both sides, what differs in what they say, and what that does."""

from __future__ import annotations

from typing import Literal

from ampwright.assessment.result import Assessment, UseVerdict, WiringVerdict
from ampwright.findings import Group, Severity
from ampwright.job.differences import Difference
from ampwright.job.records import Job
from ampwright.records import record
from ampwright.sizing.result import Answer

__all__ = ["Comparison", "Figure", "FindingChange", "LedgerChange", "Side", "SideSaid", "Stage"]

Stage = Literal["quick", "full"]
FindingKind = Literal["new", "gone", "heavier", "lighter", "moved"]


@record
class Side:
    """One of the two answers to be compared."""

    title: str
    """What it is called, e.g. "My van, revision 3"."""
    job: Job
    """What it says, as written."""
    assessment: Assessment
    """At the likely values, without runs of weather and doubt."""
    answer: Answer | None = None
    """The full answer; None where only the quick one is known."""


@record
class SideSaid:
    """What one side says as a whole."""

    title: str
    """What it is called."""
    stage: Stage
    """Quick: all rules at the likely values; full: the range of what is unknown and the runs too."""
    use_verdict: UseVerdict
    """Fit for the use."""
    wiring_verdict: WiringVerdict
    """Wiring and protection."""
    use_sentence: str
    """What goes with the first verdict; empty for a quick answer."""
    wiring_sentence: str
    """What goes with the second verdict; empty for a quick answer."""
    run_out: str
    """What runs out first."""
    currency: str
    """Currency of its bill."""
    without_price: tuple[str, ...]
    """What its bill does not hold."""
    without_mass: tuple[str, ...]
    """Parts whose mass is not stated."""


@record
class Figure:
    """One figure of both sides."""

    name: str
    """What it is."""
    unit: str
    """Unit of both; a fraction is printed as a percentage."""
    before: float | None
    """Of the first side; None = not known."""
    after: float | None
    """Of the second side."""


@record
class FindingChange:
    """One finding that the two sides do not have alike."""

    kind: FindingKind
    """New, gone, heavier or lighter than before, or only its figure moved."""
    group: Group
    """Which verdict it belongs to."""
    rule: str
    """Name of the rule."""
    subject: str
    """What it speaks of."""
    was: Severity | None
    """How it weighed; None = it was not there."""
    now: Severity | None
    """How it weighs; None = it is gone."""
    before: float | None
    """Figure found before; None = none."""
    after: float | None
    """Figure found now."""
    limit: float | None
    """What it is held against now, or was before where it is gone."""
    unit: str
    """Unit of the figures."""
    margin_before_frac: float | None
    """Distance to the limit before, as a fraction of it; negative = broken."""
    margin_after_frac: float | None
    """The same now."""
    message: str
    """What is found now; what was found, where it is gone."""
    way_out: str
    """The smallest thing that would mend it now."""
    caution: str
    """A hazard that goes with it now."""

    @property
    def matters(self) -> bool:
        """Say whether it is more than a pass that stays, comes or goes."""
        return {self.was, self.now} - {None, Severity.PASS} != set()


@record
class LedgerChange:
    """One line of the energy books, both sides."""

    group: str
    """Heading it stands under."""
    name: str
    """What it is."""
    before_wh: float | None
    """Wh a day on the first side; None = no such line."""
    after_wh: float | None
    """Wh a day on the second side."""


@record
class Comparison:
    """What two answers do not say alike; both of one stage."""

    stage: Stage
    """Quick or full, the same for both."""
    before: SideSaid
    """The first side."""
    after: SideSaid
    """The second side."""
    inputs: tuple[Difference, ...]
    """What the two jobs do not say alike."""
    figures: tuple[Figure, ...]
    """Margins, charge, mass, money."""
    findings: tuple[FindingChange, ...]
    """Findings that are not alike, heaviest first."""
    ledger: tuple[LedgerChange, ...]
    """Energy books side by side."""

    @property
    def is_same_answer(self) -> bool:
        """Say whether neither verdict nor any finding changes."""
        return not self.findings and (self.before.use_verdict, self.before.wiring_verdict) == (
            self.after.use_verdict,
            self.after.wiring_verdict,
        )
