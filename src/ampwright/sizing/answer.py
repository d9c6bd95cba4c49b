"""The whole answer to one job: likely values, range, questions, changes, sentences."""

from __future__ import annotations

import dataclasses

from ampwright.assessment.result import Assessment
from ampwright.assessment.run_out import has_limits
from ampwright.errors import ClimateError
from ampwright.findings import Finding, Group, Severity
from ampwright.job.unknowns import likely_values, unknown_inputs, with_ranges, with_values
from ampwright.said import Said, said, said_together
from ampwright.sizing.assumptions import assumptions
from ampwright.sizing.bench import Bench, Meter
from ampwright.sizing.chance import Chance, Trial
from ampwright.sizing.changes import smallest_changes
from ampwright.sizing.next_size import with_next_sizes
from ampwright.sizing.other_weeks import MOST_DAYS, SHIFTS_D, other_weeks
from ampwright.sizing.outlook import outlook_of
from ampwright.sizing.over_range import USE_RANK, RangeResult, over_range, rules_text
from ampwright.sizing.real_years import RealYears, in_real_years, real_years_finding
from ampwright.sizing.result import Answer, Change
from ampwright.sizing.spells import spell_findings
from ampwright.sizing.sureness import (
    chance_finding,
    chance_sentence,
    hard_bench,
    runs_of,
    trial_of,
    with_finding,
    with_held,
)

__all__ = ["answer_of"]

STEPS_PER_UNKNOWN = 6
STEPS_OF_CHANGES = 25


def answer_of(bench: Bench, *, file: str, job_hash: str, program_version: str) -> Answer:
    """Return the answer of a job on its bench."""
    unknowns = unknown_inputs(bench.job)
    doubt = bench.job.doubt
    meter = Meter(bench.progress, 1 + STEPS_PER_UNKNOWN * len(unknowns) + STEPS_OF_CHANGES + doubt.runs)
    likely = with_next_sizes(bench.assessed_design(bench.design), bench.catalogue)
    meter.step()
    ranged = over_range(bench, likely, unknowns, meter)
    trial = trial_of(bench, bench.job, likely)
    chance = runs_of(trial, doubt, meter.step)
    changes = _changes(bench, likely, ranged, meter)
    if trial is not None and chance is not None:
        finding = chance_finding(chance)
        if finding.severity != Severity.PASS:
            hard = hard_bench(bench, trial, doubt, chance)
            found = hard.assessed_design(hard.design_of(bench.job))
            harder = smallest_changes(hard, bench.job, found, meter)
            if any(one.is_cure for one in harder) or not any(one.is_cure for one in changes):
                changes = harder
            changes = with_held(bench, changes, doubt, meter.step)
        likely = with_finding(likely, finding)
    years = _with_other_weeks(bench, likely, _real_years(bench, likely, meter), meter)
    extras = _extras(bench, likely, trial, years)
    for finding in extras:
        likely = with_finding(likely, finding)
    if any(finding.severity in (Severity.FAIL, Severity.CONDITION) for finding in extras):
        changes = tuple(_weighed(bench, change, trial, meter) for change in changes)
    return Answer(
        file=file,
        job_hash=job_hash,
        program_version=program_version,
        assessment=likely,
        worst=ranged.worst,
        use_verdict=max(ranged.use_verdict, likely.use_verdict, key=USE_RANK.__getitem__),
        wiring_verdict=ranged.wiring_verdict,
        use_sentence=_use_sentence(likely, ranged, chance),
        wiring_sentence=_wiring_sentence(likely, ranged.worst),
        unknown_count=len(unknowns),
        questions=ranged.questions,
        changes=changes,
        assumptions=assumptions(bench.design, unknowns),
        chance=chance,
        real_years=years,
        outlook=outlook_of(likely, bench.sun, None if trial is None else trial.weather),
    )


def _real_years(bench: Bench, likely: Assessment, meter: Meter) -> RealYears | None:
    """Return what the real years show; None where there are none, or nothing essential to serve."""
    if bench.real_years is None or not any(load.is_essential for load in likely.design.loads):
        return None
    return in_real_years(likely, bench.real_years(), meter.step)


def _with_other_weeks(
    bench: Bench, found: Assessment, years: RealYears | None, meter: Meter
) -> RealYears | None:
    """Return the real years with what they show of a use begun some weeks earlier or later."""
    if years is None or bench.real_years is None or len(bench.design.days) > MOST_DAYS:
        return years
    starts = [(years.labels, years.is_held)]
    for later_d in SHIFTS_D:
        try:
            moved = in_real_years(found, bench.real_years(later_d), meter.step)
        except ClimateError:  # files that have only the days of the use
            return years
        starts.append((moved.labels, moved.is_held))
    return dataclasses.replace(years, other_weeks=other_weeks(starts))


def _extras(
    bench: Bench, found: Assessment, trial: Trial | None, years: RealYears | None
) -> tuple[Finding, ...]:
    """Return what real years and spells say of an assessed design."""
    told = () if years is None else (real_years_finding(years),)
    return (*told, *_spells(bench, found, trial))


def _weighed(bench: Bench, change: Change, trial: Trial | None, meter: Meter) -> Change:
    """Return a change with its verdict held against real years and spells as well."""
    found = bench.assessed_design(bench.design_of(change.job))
    extras = _extras(bench, found, trial, _real_years(bench, found, meter))
    for finding in extras:
        found = with_finding(found, finding)
    fails = any(finding.severity == Severity.FAIL for finding in extras)
    return dataclasses.replace(
        change,
        use_verdict=max(change.use_verdict, found.use_verdict, key=USE_RANK.__getitem__),
        is_cure=change.is_cure and not fails,
    )


def _spells(bench: Bench, likely: Assessment, trial: Trial | None) -> tuple[Finding, ...]:
    """Return what the spells of the season do; how rare they are is told by real years, else by the runs."""
    if bench.job.season.cold_spell is None and bench.job.season.hot_spell is None:
        return ()
    if bench.real_years is not None:
        return spell_findings(likely, bench.sun, bench.real_years().ensemble.daily, counted="real years")
    return spell_findings(likely, bench.sun, None if trial is None else trial.weather.daily)


def _changes(bench: Bench, likely: Assessment, ranged: RangeResult, meter: Meter) -> tuple[Change, ...]:
    """Return what mends the job at its likely values, or at the worse ends where only those have a trouble."""
    at_worst = not _troubles_of_use(likely) and bool(_troubles_of_use(ranged.combined))
    base = ranged.combined if at_worst else likely
    values = ranged.worst_values if at_worst else likely_values(unknown_inputs(bench.job))
    found = smallest_changes(bench, with_values(bench.job, values), base, meter)
    return tuple(
        dataclasses.replace(change, job=with_ranges(change.job, bench.job, values)) for change in found
    )


def _troubles_of_use(assessment: Assessment) -> list[Finding]:
    return _of(assessment, Group.USE, Severity.FAIL) + _of(assessment, Group.USE, Severity.CONDITION)


def _of(assessment: Assessment, group: Group, severity: Severity) -> list[Finding]:
    return [f for f in assessment.findings if f.group == group and f.severity == severity]


def _use_sentence(likely: Assessment, ranged: RangeResult, chance: Chance | None) -> str:
    fails = _of(likely, Group.USE, Severity.FAIL)
    if fails:
        return fails[0].message
    turning = [q for q in ranged.questions if q.turns_at is not None and q.use_at_low != q.use_at_high]
    conditions = _of(likely, Group.USE, Severity.CONDITION)
    parts: list[str] = []
    if conditions:
        parts.append(_conditions_sentence(conditions))
    parts += [question.turning for question in turning]
    worst_fails = _of(ranged.worst, Group.USE, Severity.FAIL)
    if worst_fails:
        parts.append(said("With everything unknown at its worse end: {what}", what=worst_fails[0].message))
    if not parts:
        parts = [_served_sentence(likely), "" if chance is None else chance_sentence(chance)]
    return said_together(parts)


def _conditions_sentence(conditions: list[Finding]) -> Said:
    if len(conditions) == 1:
        return said("1 condition: {rules}.", rules=rules_text(conditions))
    return said("{count} conditions: {rules}.", count=len(conditions), rules=rules_text(conditions))


def _served_sentence(likely: Assessment) -> Said:
    energy, loads = likely.energy, likely.design.loads
    gap_h = max(
        (
            float(energy.is_unserved[:, load.index].sum()) * energy.step_h
            for load in loads
            if has_limits(load)
        ),
        default=0.0,
    )
    if gap_h > 0.0:
        return said(
            "Everything else is served, and contents stay in their range although the supply is out for {gap_h:.0f} h "
            "in all.",
            gap_h=gap_h,
        )
    return said("Everything asked for is served.")


def _wiring_sentence(likely: Assessment, worst: Assessment) -> Said:
    fails = _of(likely, Group.WIRING, Severity.FAIL)
    if len(fails) == 1:
        return said("1 finding of failure: {rules}.", rules=rules_text(fails))
    if fails:
        return said("{count} findings of failure: {rules}.", count=len(fails), rules=rules_text(fails))
    taken_on = [each for each in likely.overridden or worst.overridden if each.group == Group.WIRING]
    if taken_on:
        return _overridden_sentence(taken_on, is_open=bool(likely.wiring_rules.open_rules))
    if likely.wiring_rules.open_rules:
        return said("No fault found in what was checked; the open rules are listed below.")
    return said("No fault found.")


def _overridden_sentence(findings: list[Finding], *, is_open: bool) -> Said:
    """Say on whose word the verdict rests and until when."""
    overrides = [finding.override for finding in findings if finding.override is not None]
    blanks = {
        "names": ", ".join(dict.fromkeys(override.by for override in overrides)),
        "rules": rules_text(findings),
        "until": min(override.expires for override in overrides),
    }
    which = (
        said(
            "{count} findings are overridden by {names} ({rules}), until {until} at the earliest; a fault taken on is "
            "still there.",
            count=len(findings),
            **blanks,
        )
        if len(findings) > 1
        else said(
            "1 finding is overridden by {names} ({rules}), until {until} at the earliest; a fault taken on is still there.",
            **blanks,
        )
    )
    return said_together((which, said("Other rules are open too; they are listed below.") if is_open else ""))
