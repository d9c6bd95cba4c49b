"""From the runs of the ensemble to the answer: a finding, a verdict, and what makes most runs hold."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable

import numpy as np

from ampwright.assessment.fold import by_weight, rule_count, use_verdict
from ampwright.assessment.result import Assessment
from ampwright.climate.series import adjusted
from ampwright.findings import Finding, Group, Severity
from ampwright.job.doubt import Doubt
from ampwright.job.records import Job
from ampwright.job.unknowns import unknown_inputs, with_unknown_values, with_values
from ampwright.network.box_air import box_air
from ampwright.said import Said, said, said_together
from ampwright.sizing.bench import Bench
from ampwright.sizing.chance import ALL_GROUPS, Chance, Trial, chance_of, held_count
from ampwright.sizing.doubts import doubted, drawn, unknown_draw
from ampwright.sizing.interval import count_text, plain_chance
from ampwright.sizing.result import Change
from ampwright.sources import own_choice

__all__ = [
    "RUNS_RULE",
    "chance_finding",
    "chance_sentence",
    "hard_bench",
    "hard_member",
    "runs_of",
    "trial_of",
    "with_finding",
    "with_held",
]

RUNS_RULE = "holds-over-runs"
SURE_FRAC = 0.95
"""Essential loads served in at least this share of the runs: suits (docs/choices.md#sure-enough)."""
DOUBTFUL_FRAC = 0.5
"""In at least this share: suits with conditions (docs/choices.md#sure-enough)."""
VERIFIED_CHANGES = 2
"""So many of the cheapest changes go through all runs again."""


def trial_of(bench: Bench, job: Job, found: Assessment) -> Trial | None:
    """Return what the runs of a job are made of; None without weather, runs wanted or an essential load."""
    has_wishes = any(load.is_essential for load in found.design.loads)
    if bench.weather is None or job.doubt.runs == 0 or not has_wishes:
        return None
    return Trial(
        design=found.design,
        unknowns=unknown_inputs(job),
        design_at=lambda values: bench.design_of(with_values(job, values)),
        weather=bench.weather(),
        typical=bench.sun,
        path_ohm=found.network.path_ohm,
        box_air=box_air(found.design, found.network.peak_a),
    )


def chance_finding(chance: Chance) -> Finding:
    """Return what the runs say as a finding of the first verdict."""
    share = chance.held_count / chance.run_count
    failed = chance.run_count - chance.held_count
    worst = said("In the worst run: {what}", what=chance.worst_message) if failed else ""
    return Finding(
        rule=RUNS_RULE,
        group=Group.USE,
        severity=Severity.PASS
        if share >= SURE_FRAC
        else Severity.CONDITION
        if share >= DOUBTFUL_FRAC
        else Severity.FAIL,
        subject="runs",
        message=said_together((_served_message(chance), worst)),
        value=100.0 * share,
        limit=100.0 * SURE_FRAC,
        unit="%",
        at_most=False,
        source=own_choice("sure-enough"),
        way_out=said("See the smallest changes.") if share < SURE_FRAC else "",
    )


def _served_message(chance: Chance) -> Said:
    runs, failed = count_text(chance.held_count, chance.run_count), chance.run_count - chance.held_count
    if not failed:
        return said(
            "All essential loads are served in {runs} of weather and doubt; {chance}.",
            runs=runs,
            chance=plain_chance(0, chance.run_count),
        )
    return said(
        "All essential loads are served in {runs} of weather and doubt; something essential fails {chance}.",
        runs=runs,
        chance=plain_chance(failed, chance.run_count),
    )


def chance_sentence(chance: Chance) -> Said:
    """Return the count of runs that hold in one sentence."""
    return said(
        "Essential loads hold in {runs} of weather and doubt.",
        runs=count_text(chance.held_count, chance.run_count),
    )


def with_finding(found: Assessment, finding: Finding) -> Assessment:
    """Return an assessment with one finding more, its first verdict folded anew."""
    findings = by_weight([*found.findings, finding])
    return dataclasses.replace(
        found,
        findings=findings,
        use_verdict=use_verdict(findings),
        use_rules=rule_count(findings, Group.USE),
    )


def hard_member(chance: Chance) -> int:
    """Return the run that must hold for enough runs to hold."""
    rank = int(np.floor((1.0 - SURE_FRAC) * chance.run_count))
    return int(np.argsort(chance.margin_frac, kind="stable")[rank])


def hard_bench(bench: Bench, trial: Trial, doubt: Doubt, chance: Chance) -> Bench:
    """Return a bench with the weather, doubt and unknown amounts of the run that must hold for enough runs to hold."""
    member = hard_member(chance)
    season = bench.job.season
    draw = drawn(doubt, member, day_count=len(trial.design.days), groups=ALL_GROUPS)
    sun = adjusted(trial.weather.member(member), sun_factor=season.sun_factor, warmer_k=season.warmer_k)
    unknown = unknown_draw(trial.unknowns, doubt.seed, member)
    as_planned = bench.design_of
    return dataclasses.replace(
        bench,
        sun=sun,
        design_of=lambda job: doubted(as_planned(with_unknown_values(job, unknown)), draw),
    )


def with_held(
    bench: Bench, changes: tuple[Change, ...], doubt: Doubt, step: Callable[[], None]
) -> tuple[Change, ...]:
    """Return the changes, the cheapest cures with the count of runs in which they hold."""
    found: list[Change] = []
    for change in changes:
        is_tried = change.is_cure and len(found) < VERIFIED_CHANGES
        held = _held(bench, change.job, doubt, step) if is_tried else None
        found.append(dataclasses.replace(change, held_count=held))
    return tuple(found)


def _held(bench: Bench, job: Job, doubt: Doubt, step: Callable[[], None]) -> int | None:
    found = bench.assessed_design(bench.design_of(job))
    trial = trial_of(bench, job, found)
    return None if trial is None else held_count(trial, doubt, step=step)


def runs_of(trial: Trial | None, doubt: Doubt, step: Callable[[], None]) -> Chance | None:
    """Return what the runs show; None where there is nothing to draw from."""
    if trial is None:
        return None
    return chance_of(trial, doubt, step=step)
