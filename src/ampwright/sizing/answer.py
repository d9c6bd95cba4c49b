"""The whole answer to one job: likely values, range, questions, changes, sentences."""

from __future__ import annotations

from ampwright.assessment.result import Assessment
from ampwright.assessment.run_out import has_limits
from ampwright.findings import Finding, Group, Severity
from ampwright.job.unknowns import likely_values, unknown_inputs, with_values
from ampwright.sizing.assumptions import assumptions
from ampwright.sizing.bench import Bench, Meter
from ampwright.sizing.chance import Chance, Trial
from ampwright.sizing.changes import smallest_changes
from ampwright.sizing.next_size import with_next_sizes
from ampwright.sizing.outlook import outlook_of
from ampwright.sizing.over_range import USE_RANK, RangeResult, over_range
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
    years = _real_years(bench, likely, meter)
    if years is not None:
        likely = with_finding(likely, real_years_finding(years))
    for finding in _spells(bench, likely, trial):
        likely = with_finding(likely, finding)
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
    return smallest_changes(bench, with_values(bench.job, values), base, meter)


def _troubles_of_use(assessment: Assessment) -> list[Finding]:
    return _of(assessment, Group.USE, Severity.FAIL) + _of(assessment, Group.USE, Severity.CONDITION)


def _of(assessment: Assessment, group: Group, severity: Severity) -> list[Finding]:
    return [f for f in assessment.findings if f.group == group and f.severity == severity]


def _rules(findings: list[Finding]) -> str:
    return ", ".join(dict.fromkeys(finding.rule for finding in findings))


def _use_sentence(likely: Assessment, ranged: RangeResult, chance: Chance | None) -> str:
    fails = _of(likely, Group.USE, Severity.FAIL)
    if fails:
        return fails[0].message
    turning = [q for q in ranged.questions if q.turns_at is not None and q.use_at_low != q.use_at_high]
    conditions = _of(likely, Group.USE, Severity.CONDITION)
    parts: list[str] = []
    if conditions:
        parts.append(f"{len(conditions)} condition{'s' if len(conditions) > 1 else ''}: {_rules(conditions)}")
    parts += [question.message.partition(" Find out:")[0].rstrip(".") for question in turning]
    worst_fails = _of(ranged.worst, Group.USE, Severity.FAIL)
    if worst_fails:
        parts.append(f"with everything unknown at its worse end: {worst_fails[0].message.rstrip('.')}")
    if not parts:
        return _served_sentence(likely) + (f" {chance_sentence(chance)}" if chance is not None else "")
    text = "; ".join(parts)
    return f"{text[0].upper()}{text[1:]}."


def _served_sentence(likely: Assessment) -> str:
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
        return (
            f"Everything else is served, and contents stay in their range although the supply is out for {gap_h:.0f} h "
            "in all."
        )
    return "Everything asked for is served."


def _wiring_sentence(likely: Assessment, worst: Assessment) -> str:
    fails = _of(likely, Group.WIRING, Severity.FAIL)
    if fails:
        count = f"{len(fails)} finding{'s' if len(fails) > 1 else ''}"
        return f"{count} of failure: {_rules(fails)}."
    taken_on = [each for each in likely.overridden or worst.overridden if each.group == Group.WIRING]
    if taken_on:
        return _overridden_sentence(taken_on, is_open=bool(likely.wiring_rules.open_rules))
    if likely.wiring_rules.open_rules:
        return "No fault found in what was checked; the open rules are listed below."
    return "No fault found."


def _overridden_sentence(findings: list[Finding], *, is_open: bool) -> str:
    """Say on whose word the verdict rests and until when."""
    overrides = [finding.override for finding in findings if finding.override is not None]
    names = ", ".join(dict.fromkeys(override.by for override in overrides))
    count = f"{len(findings)} finding{'s are' if len(findings) > 1 else ' is'}"
    until = min(override.expires for override in overrides)
    also = " Other rules are open too; they are listed below." if is_open else ""
    return f"{count} overridden by {names} ({_rules(findings)}), until {until} at the earliest; a fault taken on is still there.{also}"
