"""The cheapest or lightest set of cables for a job, and what complete assessments say of the job that has it."""

from __future__ import annotations

from ampwright.assessment.assess import studies_of
from ampwright.findings import Finding, Severity
from ampwright.sizing.bench import Bench
from ampwright.sizing.cable_mend import CableMender, cable_failures, present
from ampwright.sizing.cable_options import (
    CableOption,
    Options,
    allowed,
    every_cable,
    without_figure,
)
from ampwright.sizing.cable_records import By, CableAnswer, CableChoice, Proof
from ampwright.sizing.cable_set import HARDLY, CableSearch, Chosen
from ampwright.sizing.cable_trials import LIKELY, Cables, CableTrials
from ampwright.sizing.wiring_trial import Paths, paths

__all__ = ["cable_answer"]


def cable_answer(bench: Bench, by: By) -> CableAnswer:
    """Return a set of cables that costs or weighs less, in which nothing is worse, and how far that is proved."""
    every = every_cable(bench.design, bench.catalogue, by)
    warm, studies = studies_of(bench.design, bench.sun, on=bench.on)
    options = allowed(every, warm, studies)
    trials = CableTrials(bench)
    near = paths(warm, studies.network)
    mender = CableMender(options, lambda chosen: trials.assessed(_laid(options, chosen)), near)
    start = mender.mended(trials.before[LIKELY])
    if start != present(options):
        trials.keep_as_standard(_laid(options, start))
    chosen, proof, tries_count = _searched(options, trials, start, near)
    cables = _laid(options, chosen)
    before, after = trials.before[LIKELY], trials.assessed(cables)
    left = cable_failures(after)
    choices = _Choices(bench, every, trials, cables)
    return CableAnswer(
        by=by,
        choices=tuple(choices.of(run, options[run][number]) for run, number in chosen.items()),
        proof=proof,
        tries_count=tries_count,
        case_count=len(trials.before),
        mended=tuple(sorted({_name(f) for f in cable_failures(before)} - {_name(f) for f in left})),
        left=left,
        new_findings=trials.new_findings(cables),
        without_figure=without_figure(bench.design, bench.catalogue, by),
        margin_before_frac=before.run_out.margin_frac,
        margin_after_frac=after.run_out.margin_frac,
        use_before=before.use_verdict,
        use_after=after.use_verdict,
        wiring_before=before.wiring_verdict,
        wiring_after=after.wiring_verdict,
    )


def _searched(options: Options, trials: CableTrials, start: Chosen, near: Paths) -> tuple[Chosen, Proof, int]:
    """Return the set found, its proof and the sets tried; a case in which it turns out worse is held from then on, and the search begins anew."""
    tries_count = 0
    while True:
        search = CableSearch(
            options,
            lambda chosen: trials.is_sound(_laid(options, chosen)),
            lambda one, other: not set(near.by_run[one]).isdisjoint(near.by_run[other]),
        )
        chosen, proof = search.least(start)
        tries_count += search.tries_count
        if not trials.hold_more(_laid(options, chosen)):
            return chosen, proof, tries_count


def _laid(options: Options, chosen: Chosen) -> Cables:
    """Return what has to be laid anew, by index of the run."""
    picked = {run: options[run][number] for run, number in chosen.items()}
    return {run: option.cable for run, option in picked.items() if not option.is_present}


def _name(finding: Finding) -> str:
    return f"{finding.rule} of {finding.subject}"


def _bound_by(finding: Finding) -> str:
    """Name a finding; one that was not checked is said to be so, since it forbids only what makes it more doubtful."""
    return _name(finding) + (" (not checked)" if finding.severity == Severity.NOT_CHECKED else "")


class _Choices:
    """Tells of each run what it gets and what forbids the next cheaper or lighter cable."""

    def __init__(self, bench: Bench, every: Options, trials: CableTrials, cables: Cables) -> None:
        """Keep what was found."""
        self._runs = bench.design.runs
        self._every = every
        self._trials = trials
        self._cables = cables

    def of(self, index: int, option: CableOption) -> CableChoice:
        """Return what one run gets."""
        run = self._runs[index]
        old = next(each for each in self._every[index] if each.is_present)
        less = [each for each in self._every[index] if each.total < option.total - HARDLY]
        binding: tuple[Finding, ...] = ()
        if less:
            others = {key: cable for key, cable in self._cables.items() if key != index}
            tried = others if less[-1].is_present else {**others, index: less[-1].cable}
            binding = self._trials.worse_in_held(tried)
        return CableChoice(
            run=run.id,
            old_cable=run.cable,
            new_cable=option.cable,
            is_changed=not option.is_present,
            old_price_eur=old.price_eur,
            new_price_eur=option.price_eur,
            old_mass_kg=old.mass_kg,
            new_mass_kg=option.mass_kg,
            next_cable=less[-1].cable.id if less else "",
            binds=tuple(dict.fromkeys(_bound_by(f) for f in binding)),
        )
