"""A first job from a customer's story: the smallest parts, then larger ones for as long as the rules ask for them."""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from ampwright.assessment.result import Assessment
from ampwright.climate.ensemble import Ensemble
from ampwright.climate.series import SunSeries
from ampwright.errors import JobError
from ampwright.findings import Group, Severity
from ampwright.job.design import Design
from ampwright.job.intake.story import Story
from ampwright.job.intake.write import starting_text
from ampwright.job.load import job_from_text
from ampwright.job.records import Job
from ampwright.job.resolve import resolve
from ampwright.job.text_edit import with_value
from ampwright.parts.catalogue import Catalogue
from ampwright.records import record
from ampwright.sizing.bench import Bench
from ampwright.sizing.candidate import Candidate, Proposer
from ampwright.sizing.changes import Trouble, troubles
from ampwright.sizing.larger_parts import (
    larger_bonds,
    larger_gear,
    more_panels_with_controller,
    stronger_battery,
)
from ampwright.sizing.repairs import BY_DEVICE, BY_LOAD, BY_RUN, fitting_devices, larger_cables
from ampwright.sizing.supply import larger_charger
from ampwright.sizing.sureness import chance_finding, hard_bench, runs_of, trial_of

__all__ = ["StoryClimate", "first_job_text"]

NAME = Path("first-job.toml")
SUPPLY: tuple[Proposer, ...] = (stronger_battery, more_panels_with_controller, larger_charger)
WIRING: tuple[Proposer, ...] = (larger_gear, larger_cables, fitting_devices, larger_bonds)
"""What may become larger, in the order in which it is tried."""
REPAIRED = BY_RUN | BY_LOAD | BY_DEVICE
"""Rules whose new failures are repaired before a larger part is judged."""
MOST_REPAIRS = 2
MOST_BROKEN = 2
SUPPLY_TRIALS = 150
WIRING_TRIALS = 100
"""Bounds of the search, in counts so that the same story gives the same job (docs/choices.md#intake-start)."""


@record
class StoryClimate:
    """How the climate of a story's place is read."""

    sun_of: Callable[[Design], SunSeries]
    """Sun and air of a design's place and month."""
    weather_of: Callable[[Design], Ensemble]
    """Runs of weather over the days of its use."""


def first_job_text(
    story: Story,
    *,
    on: dt.date,
    catalogue: Catalogue,
    climate: StoryClimate,
    say: Callable[[str], str] = str,
) -> str:
    """Return the text of a first job, its parts as large as the rules ask for at the likely values and over the runs.

    Parameters
    ----------
    on : date of the revision
    climate : sun and weather of the place
    say : puts the plain names of vehicles and appliances into the customer's language
    """
    text = starting_text(story, on=on, catalogue=catalogue, say=say)
    loaded = job_from_text(text, NAME)

    def design_of(job: Job) -> Design:
        return resolve(job, catalogue, definition=None, loaded=loaded)

    design = design_of(loaded.job)
    bench = Bench(
        job=loaded.job,
        design=design,
        design_of=design_of,
        catalogue=catalogue,
        sun=climate.sun_of(design),
        weather=lambda: climate.weather_of(design),
    )
    return _rewritten(text, loaded.job, _made_sure(bench, _sized(bench)))


@record
class _Step:
    """A changed job and what is found about it."""

    job: Job
    """The changed job."""
    found: Assessment
    """What is found."""
    mended: tuple[int, int]
    """Failures, then conditions, that are fewer than before."""
    gain_frac: float
    """What the first to run out gains."""
    cost_eur: float
    """Price of the parts."""


def _sized(bench: Bench) -> Job:
    """Return the job after every change that mends something and breaks nothing.

    Wiring comes first, so that a larger supply is not judged by faults that were there before, and once more last.
    """
    search = _Search(bench)
    search.mend_all(WIRING, WIRING_TRIALS)
    search.supply(SUPPLY_TRIALS)
    search.mend_all(WIRING, WIRING_TRIALS)
    return search.job


def _made_sure(bench: Bench, job: Job) -> Job:
    """Return the job with the supply that holds in the run of weather and doubt that must hold for enough runs to hold."""
    found = bench.assessed_design(bench.design_of(job))
    trial = trial_of(bench, job, found)
    chance = runs_of(trial, job.doubt, lambda: None)
    if trial is None or chance is None or chance_finding(chance).severity == Severity.PASS:
        return job
    hard = _Search(dataclasses.replace(hard_bench(bench, trial, job.doubt, chance), job=job))
    hard.supply(SUPPLY_TRIALS)
    last = _Search(dataclasses.replace(bench, job=hard.job))
    last.mend_all(WIRING, WIRING_TRIALS)
    return last.job


class _Search:
    """Makes one part after the other larger; the number of trials is bounded."""

    def __init__(self, bench: Bench) -> None:
        """Begin with the job as it is."""
        self._bench = bench
        self._left_count = 0
        self.job = bench.job
        self._found = bench.assessed_design(bench.design_of(bench.job))

    def mend_all(self, proposers: tuple[Proposer, ...], trial_count: int) -> None:
        """Take changes of these kinds until none mends anything, with so many trials."""
        self._left_count = trial_count
        is_changed = True
        while is_changed:
            is_changed = False
            for proposer in proposers:
                is_changed = self._mend(proposer) or is_changed

    def supply(self, trial_count: int) -> None:
        """Take larger supplies until none mends anything and the use gains nothing more."""
        self._left_count = trial_count
        while (step := self._supplied()) is not None:
            self.job, self._found = step.job, step.found

    def _supplied(self) -> _Step | None:
        """Return the supply that mends most; else, while the use fails, that which gains most for its price."""
        steps = [step for proposer in SUPPLY for family in self._families(proposer) for step in family]
        mending = [step for step in steps if step.mended > (0, 0)]
        if mending:
            return max(mending, key=lambda step: (step.mended, -step.cost_eur))
        before = troubles(self._found)
        if not any(each.is_failure and each.group == Group.USE for each in before):
            return None
        gains = [step for step in steps if step.gain_frac > 0.0 and step.mended[0] >= 0]
        return max(gains, key=lambda step: step.gain_frac / max(step.cost_eur, 1.0), default=None)

    def _mend(self, proposer: Proposer) -> bool:
        """Take changes of one kind for as long as they mend something; tell whether any did."""
        is_changed = False
        while (step := self._mending(proposer)) is not None:
            self.job, self._found, is_changed = step.job, step.found, True
        return is_changed

    def _mending(self, proposer: Proposer) -> _Step | None:
        for family in self._families(proposer):
            mending = [step for step in family if step.mended > (0, 0)]
            if mending:
                return max(mending, key=lambda step: (step.mended, -step.cost_eur))
        return None

    def _families(self, proposer: Proposer) -> Iterator[list[_Step]]:
        """Yield what each candidate of a family achieves, its wiring repaired where its proposer adds supply."""
        before = troubles(self._found)
        if not before:
            return
        for family in proposer(self.job, self._found, self._bench.catalogue):
            steps = [self._tried(each, before, is_repaired=proposer in SUPPLY) for each in family]
            yield [step for step in steps if step is not None]

    def _tried(self, candidate: Candidate, before: frozenset[Trouble], *, is_repaired: bool) -> _Step | None:
        """Return what a candidate achieves; None where it cannot be built or breaks something."""
        kept = {(each.rule, each.subject) for each in before}
        job, cost_eur = candidate.job, candidate.cost_eur
        after = self._assessed(job)
        for _ in range(MOST_REPAIRS if is_repaired else 0):
            repair = None if after is None else self._repair(job, after, kept)
            if repair is None:
                break
            job, cost_eur = repair.job, cost_eur + repair.cost_eur
            after = self._assessed(job)
        if after is None or _broken(after, kept):
            return None
        left = troubles(after)
        return _Step(
            job=job,
            found=after,
            mended=(_fail_count(before) - _fail_count(left), len(before) - len(left)),
            gain_frac=after.run_out.margin_frac - self._found.run_out.margin_frac,
            cost_eur=cost_eur,
        )

    def _repair(self, job: Job, after: Assessment, kept: set[tuple[str, str]]) -> Candidate | None:
        """Return the first cable or device that leaves less broken."""
        broken = _broken(after, kept)
        if not broken or len(broken) > MOST_BROKEN or any(each.rule not in REPAIRED for each in broken):
            return None
        for proposer in (larger_cables, fitting_devices):
            for family in proposer(job, after, self._bench.catalogue):
                for each in family:
                    again = self._assessed(each.job)
                    if again is not None and len(_broken(again, kept)) < len(broken):
                        return each
        return None

    def _assessed(self, job: Job) -> Assessment | None:
        if self._left_count <= 0:
            return None
        self._left_count -= 1
        try:
            return self._bench.assessed_design(self._bench.design_of(job))
        except JobError:
            return None


def _broken(after: Assessment, kept: set[tuple[str, str]]) -> list[Trouble]:
    return [each for each in troubles(after) if each.is_failure and (each.rule, each.subject) not in kept]


def _fail_count(found: frozenset[Trouble]) -> int:
    return sum(each.is_failure for each in found)


def _rewritten(text: str, old: Job, new: Job) -> str:
    """Return the text with the parts, strings, cables and devices of the sized job; comments stay."""
    for path, value in _differences(old, new):
        text = with_value(text, path, value)
    return text


def _differences(old: Job, new: Job) -> Iterator[tuple[tuple[str | int, ...], Any]]:
    """Yield place and value of everything that a search may have changed."""
    for index, (was, part) in enumerate(zip(old.part, new.part, strict=True)):
        yield from _changed(("part", index), was, part, ("part", "strings", "string_device"))
    for index, (tied, bond) in enumerate(zip(old.bond, new.bond, strict=True)):
        yield from _changed(("bond", index), tied, bond, ("cable",))
    for index, (laid, run) in enumerate(zip(old.run, new.run, strict=True)):
        yield from _changed(("run", index), laid, run, ("cable",))
        for number, (had, device) in enumerate(zip(laid.device, run.device, strict=True)):
            yield from _changed(("run", index, "device", number), had, device, ("part",))


def _changed(
    path: tuple[str | int, ...], old: object, new: object, names: tuple[str, ...]
) -> Iterator[tuple[tuple[str | int, ...], Any]]:
    for name in names:
        if getattr(old, name) != getattr(new, name):
            yield (*path, name), getattr(new, name)
