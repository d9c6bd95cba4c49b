"""The whole answer: verdicts over the range of what is unknown, questions, smallest changes."""

from __future__ import annotations

from typing import Literal

from ampwright.assessment.result import Assessment, UseVerdict, WiringVerdict
from ampwright.findings import Finding
from ampwright.job.records import Job
from ampwright.job.unknowns import UnknownInput
from ampwright.records import record
from ampwright.sizing.chance import Chance
from ampwright.sizing.outlook import Outlook
from ampwright.sizing.real_years import RealYears

__all__ = ["Answer", "Change", "Question"]


@record
class Question:
    """One unknown amount and what depends on it."""

    input: UnknownInput
    """The amount."""
    use_at_low: UseVerdict
    """First verdict with the lowest value."""
    use_at_high: UseVerdict
    """First verdict with the highest value."""
    wiring_at_low: WiringVerdict
    """Second verdict with the lowest value."""
    wiring_at_high: WiringVerdict
    """Second verdict with the highest value."""
    margin_swing_frac: float
    """How far the margin of what runs out first moves over the range."""
    turns_at: float | None
    """Value at which a verdict changes; None when it does not change over the range."""
    message: str
    """One sentence, e.g. "suits if rating_a is 97 A or more: read its label"."""
    turning: str
    """The same without how to find out."""


@record
class Change:
    """One single change that mends the verdict, or the best that a kind of change can do."""

    kind: Literal[
        "panel", "battery", "charger", "converter", "driving", "idling", "habit", "cable", "device", "setting"
    ]
    """What is changed."""
    description: str
    """The change in words."""
    cost_eur: float
    """Price of the parts, labour not included; 0 for a habit."""
    cures: tuple[str, ...]
    """Rules that fail or carry a condition now and pass with it."""
    use_verdict: UseVerdict
    """First verdict with the change."""
    wiring_verdict: WiringVerdict
    """Second verdict with the change."""
    is_cure: bool
    """True when nothing fails any more in the verdict it is meant for."""
    caution: str = ""
    """A hazard that comes with it."""
    held_count: int | None = None
    """Runs of weather and doubt in which all essential loads are served with it; None = not tried."""
    job: Job
    """The job with the change."""


@record
class Answer:
    """What one check of a job says."""

    file: str
    """Name of the job file."""
    job_hash: str
    """First 12 digits of the SHA-256 of the job file."""
    program_version: str
    """Version of this program."""
    assessment: Assessment
    """At the likely values."""
    worst: Assessment
    """With every unknown amount at its worse end."""
    use_verdict: UseVerdict
    """First verdict over the range."""
    wiring_verdict: WiringVerdict
    """Second verdict over the range."""
    use_sentence: str
    """First verdict in one sentence with its condition, e.g. "suits if ..."."""
    wiring_sentence: str
    """Second verdict in one sentence."""
    unknown_count: int
    """Number of unknown amounts."""
    questions: tuple[Question, ...]
    """The unknown amounts that matter most, at most three."""
    changes: tuple[Change, ...]
    """Smallest single changes, cheapest first; empty when nothing needs mending."""
    assumptions: tuple[str, ...]
    """What was assumed, in sentences."""
    chance: Chance | None = None
    """What many runs of weather and doubt show; None where none were made."""
    real_years: RealYears | None = None
    """What the real years of the job's files show; None where it names none."""
    outlook: Outlook | None = None
    """What the use leaves in hand at the likely values; None where it was not asked."""

    @property
    def overridden(self) -> tuple[Finding, ...]:
        """Findings a named person took on, at the likely values or at the unfavourable end; one for each subject."""
        both = (*self.assessment.overridden, *self.worst.overridden)
        return tuple({(each.rule, each.subject): each for each in reversed(both)}.values())[::-1]
