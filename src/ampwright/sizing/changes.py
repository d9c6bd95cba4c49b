"""Search for the smallest single change that mends a job."""

from __future__ import annotations

from ampwright.assessment.result import Assessment
from ampwright.errors import JobError
from ampwright.findings import Group, Severity
from ampwright.job.records import Job
from ampwright.records import record
from ampwright.sizing.bench import Bench, Meter
from ampwright.sizing.candidate import Candidate, Proposer
from ampwright.sizing.habits import less_comfort, more_driving, more_idling, shorter_hours
from ampwright.sizing.repairs import fitting_devices, larger_cables, lower_outputs
from ampwright.sizing.result import Change
from ampwright.sizing.settings import battery_type, moved_cutoff, same_voltages, weaker_inlet
from ampwright.sizing.supply import larger_battery, larger_charger, larger_converter, more_panels

__all__ = ["PROPOSERS", "Trouble", "smallest_changes", "troubles"]

PROPOSERS: tuple[Proposer, ...] = (
    lower_outputs,
    same_voltages,
    battery_type,
    moved_cutoff,
    weaker_inlet,
    shorter_hours,
    less_comfort,
    more_driving,
    more_panels,
    larger_charger,
    larger_converter,
    larger_battery,
    larger_cables,
    fitting_devices,
    more_idling,
)
"""Ideas tried; a new one is one function and one line."""
MOST_CHANGES = 5


def smallest_changes(bench: Bench, job: Job, found: Assessment, meter: Meter) -> tuple[Change, ...]:
    """Return single changes that mend `job`, cheapest first; those that only help follow.

    Empty when nothing fails and no condition is attached. A change that breaks something else is dropped.
    """
    troubles_found = troubles(found)
    if not troubles_found:
        return ()
    changes: list[Change] = []
    for proposer in PROPOSERS:
        for family in proposer(job, found, bench.catalogue):
            for candidate in family:
                change = _tried(bench, candidate, found, meter)
                if change is None:
                    continue
                changes.append(change)
                if change.is_cure:
                    break
    cures = sorted((each for each in changes if each.is_cure), key=_rank)
    helps = sorted((each for each in changes if not each.is_cure), key=_help_rank)
    best_helps = list({each.kind: each for each in reversed(helps)}.values())[::-1]
    return tuple([*cures, *best_helps][:MOST_CHANGES])


@record
class Trouble:
    """A failure or condition that a change might mend."""

    rule: str
    """Rule that found it."""
    subject: str
    """What it speaks of."""
    group: Group
    """Verdict it weighs on."""
    is_failure: bool
    """False for a condition."""


def troubles(found: Assessment) -> frozenset[Trouble]:
    """Return every failure and condition of an assessment."""
    return frozenset(
        Trouble(rule=f.rule, subject=f.subject, group=f.group, is_failure=f.severity == Severity.FAIL)
        for f in found.findings
        if f.severity in {Severity.FAIL, Severity.CONDITION}
    )


def _tried(bench: Bench, candidate: Candidate, before: Assessment, meter: Meter) -> Change | None:
    """Return what a candidate achieves; None where it cannot be built, breaks something or helps nothing."""
    try:
        design = bench.design_of(candidate.job)
    except JobError:
        return None
    after = bench.assessed_design(design)
    meter.step()
    old, new = troubles(before), troubles(after)
    failing_before = {(t.rule, t.subject) for t in old if t.is_failure}
    if any((t.rule, t.subject) not in failing_before for t in new if t.is_failure):
        return None
    still = {(t.rule, t.subject) for t in new}
    cured = sorted({t.rule for t in old if (t.rule, t.subject) not in still})
    gained = after.run_out.margin_frac - before.run_out.margin_frac
    use_fails = any(t.is_failure and t.group == Group.USE for t in old)
    if not cured and not (use_fails and gained > 0.0):
        return None
    return Change(
        kind=candidate.kind,
        description=candidate.description,
        cost_eur=candidate.cost_eur,
        cures=tuple(cured),
        use_verdict=after.use_verdict,
        wiring_verdict=after.wiring_verdict,
        is_cure=any(_is_mended(old, new, group) for group in Group),
        caution=candidate.caution,
        job=candidate.job,
    )


def _is_mended(old: frozenset[Trouble], new: frozenset[Trouble], group: Group) -> bool:
    """Return True when a verdict had failures and has none now, or had conditions and has none now."""
    before = [t for t in old if t.group == group]
    after = [t for t in new if t.group == group]
    if any(t.is_failure for t in before):
        return not any(t.is_failure for t in after)
    return bool(before) and not after


def _rank(change: Change) -> tuple[bool, float]:
    """Idling costs fuel and has its dangers: it comes last, whatever the parts cost."""
    return change.kind == "idling", change.cost_eur


def _help_rank(change: Change) -> tuple[bool, int, float]:
    return change.kind == "idling", -len(change.cures), change.cost_eur
