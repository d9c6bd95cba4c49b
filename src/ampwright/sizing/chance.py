"""How sure the answer is: the same use through many runs of weather and doubt, counted.

Every run is one energy study; wiring rules are not asked again. Shares of the doubt are told by drawing one
group at a time.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator, Mapping
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from ampwright.assessment.run_out import run_out
from ampwright.assessment.served import failures
from ampwright.climate.ensemble import Ensemble
from ampwright.climate.series import SunSeries, adjusted
from ampwright.energy.result import EnergyResult
from ampwright.energy.simulate import LONG_DAYS, energy_results
from ampwright.energy.tables import LANES
from ampwright.job.design import Design
from ampwright.job.doubt import Doubt
from ampwright.job.unknowns import Path, UnknownInput
from ampwright.records import record
from ampwright.sizing.contents import Contents, ContentsChance, contents_of, contents_over
from ampwright.sizing.doubts import Group, can_matter, doubted, drawn, unknown_draw

__all__ = ["ALL_GROUPS", "SHARE_NAMES", "Chance", "LoadChance", "Trial", "chance_of", "held_count"]

T = TypeVar("T")
Array = NDArray[np.float64]
MOST_THREADS = 4
BAND = (0.05, 0.25, 0.5, 0.75, 0.95)
ALL_GROUPS: frozenset[Group] = frozenset({"fridge", "hours", "shade", "forget", "parts", "unknown"})
SHARE_NAMES: Mapping[str, str] = {
    "weather": "weather",
    "fridge": "draw of refrigerators",
    "hours": "hours of other loads",
    "shade": "shade and dirt",
    "forget": "forgotten charging",
    "parts": "battery and alternator",
    "unknown": "what the job calls unknown",
}


@record
class LoadChance:
    """How often one load fails over the runs."""

    load: str
    """Id."""
    name: str
    """Plain description."""
    is_essential: bool
    """True when it decides the verdict."""
    failed_count: int
    """Runs in which it fails."""
    missing_wh: float
    """Energy not served over the use, mean of the runs."""
    worst_missing_wh: float
    """The same in its worst run."""


@record
class Chance:
    """What the runs show."""

    run_count: int
    """Runs of weather and doubt."""
    seed: int
    """Number the draws begin with."""
    held_count: int
    """Runs in which every essential load was served."""
    loads: tuple[LoadChance, ...]
    """Each load's count."""
    band_frac: tuple[float, ...]
    """Shares of the runs below each row of the band."""
    daily_low_frac: Array
    """Lowest state of charge of each day, one row for each share of the band (n_band, n_days)."""
    margin_frac: Array
    """Margin of what runs out first in each run (n_runs,)."""
    worst_run: int
    """The run with the smallest margin."""
    worst_message: str
    """What runs out first in it."""
    worst_soc_frac: Array
    """State of charge in it, at the start of each step and at the end of the last (n_steps + 1,)."""
    first_failure_day: tuple[int, ...]
    """Day, from 1, of the first failing essential load in each run that has one."""
    sun_kwh_m2_day: Array
    """Mean daily irradiation of each run (n_runs,)."""
    shares_frac: Mapping[str, float]
    """Share of each group in the spread of the margin, by name; they add up to 1, or are all 0 without spread."""
    contents: tuple[ContentsChance, ...] = ()
    """What the contents of each refrigerator go through."""


@record
class Trial:
    """What the runs are made of."""

    design: Design
    """The design at the likely values."""
    unknowns: tuple[UnknownInput, ...]
    """Amounts the job calls unknown."""
    design_at: Callable[[Mapping[Path, float]], Design]
    """Resolves the job with these values put for unknown amounts."""
    weather: Ensemble
    """Runs of weather over the days of the use."""
    typical: SunSeries
    """The weather of the plain answer, season's factors applied."""
    path_ohm: Array
    """Loop resistance to each node at the likely values (n_nodes,)."""
    box_air: Mapping[int, Array]
    """Air in the enclosures (see the energy study)."""


def chance_of(
    trial: Trial, doubt: Doubt, *, step: Callable[[], None] | None = None, has_shares: bool = True
) -> Chance:
    """Return what the runs show; `step` is called after each.

    Parameters
    ----------
    trial : its weather must have at least `doubt.runs` members
    has_shares : False leaves out each group's share in the spread, four times as many runs
    """
    design = trial.design
    runs = list(_runs(trial, doubt, step))
    failed = np.array([one.failed for one in runs])
    essential = np.array([load.is_essential for load in design.loads], np.bool_)
    first = [one.first_failure_day for one in runs if one.first_failure_day > 0]
    lows = np.array([one.daily_low_frac for one in runs])
    margins = np.array([one.margin_frac for one in runs])
    worst = int(np.argmin(margins))
    return Chance(
        run_count=doubt.runs,
        seed=doubt.seed,
        held_count=int(np.count_nonzero(~failed[:, essential].any(axis=1))),
        loads=tuple(
            LoadChance(
                load=load.id,
                name=load.name,
                is_essential=load.is_essential,
                failed_count=int(np.count_nonzero(failed[:, load.index])),
                missing_wh=float(np.mean([one.missing_wh[load.index] for one in runs])),
                worst_missing_wh=float(max(one.missing_wh[load.index] for one in runs)),
            )
            for load in design.loads
        ),
        band_frac=BAND,
        daily_low_frac=np.quantile(lows, BAND, axis=0),
        margin_frac=margins,
        worst_run=worst,
        worst_message=runs[worst].message,
        worst_soc_frac=next(_studied(trial, doubt, [worst], ALL_GROUPS))[1].soc_frac,
        first_failure_day=tuple(first),
        sun_kwh_m2_day=trial.weather.daily.irradiation_kwh_m2_day.mean(axis=1)[: doubt.runs],
        shares_frac=_shares(trial, doubt) if has_shares else {},
        contents=contents_over(design, [one.contents for one in runs], runs[0].fridges),
    )


def held_count(trial: Trial, doubt: Doubt, *, step: Callable[[], None] | None = None) -> int:
    """Return the runs in which every essential load is served."""
    essential = [load.index for load in trial.design.loads if load.is_essential]
    return sum(not bool(one.failed[essential].any()) for one in _runs(trial, doubt, step))


@record
class _Run:
    """What is kept of one run."""

    failed: NDArray[np.bool_]
    """Loads that fail (n_loads,)."""
    missing_wh: Array
    """Energy not served (n_loads,)."""
    daily_low_frac: Array
    """Lowest state of charge of each day (n_days,)."""
    margin_frac: float
    """Margin of what runs out first."""
    message: str
    """What runs out first."""
    first_failure_day: int
    """Day of the first failing essential load, from 1; 0 = none."""
    fridges: tuple[int, ...]
    """Loads that are refrigerators."""
    contents: tuple[Contents | None, ...]
    """What the contents of each go through."""


def _runs(trial: Trial, doubt: Doubt, step: Callable[[], None] | None) -> Iterator[_Run]:
    """Yield every run in turn; `step` is called after each."""

    def made(members: range) -> list[_Run]:
        return [_run(design, energy) for design, energy in _studied(trial, doubt, members, ALL_GROUPS)]

    for one in _each(trial, doubt, made):
        if step is not None:
            step()
        yield one


def _each(trial: Trial, doubt: Doubt, made: Callable[[range], list[T]]) -> Iterator[T]:
    """Yield what is made of every run; of long ones side by side and on threads, since the kernel holds no lock."""
    is_long = len(trial.design.days) >= LONG_DAYS
    size = LANES if is_long else 1
    parts = [range(first, min(first + size, doubt.runs)) for first in range(0, doubt.runs, size)]
    if not is_long:
        for part in parts:
            yield from made(part)
        return
    with ThreadPoolExecutor(min(os.cpu_count() or 1, MOST_THREADS)) as pool:
        for found in pool.map(made, parts):
            yield from found


def _run(design: Design, energy: EnergyResult) -> _Run:
    failing = failures(design, energy)
    essential = [load.index for load in design.loads if load.is_essential]
    at = np.flatnonzero(failing[:, essential].any(axis=1))
    found = run_out(design, energy)
    return _Run(
        failed=np.asarray(failing.any(axis=0), np.bool_),
        missing_wh=energy.unserved_wh,
        daily_low_frac=energy.daily_low_frac,
        margin_frac=found.margin_frac,
        message=found.message,
        first_failure_day=int(energy.day_of_step[at[0]]) + 1 if at.size else 0,
        fridges=energy.fridge_loads,
        contents=contents_of(design, energy),
    )


def _studied(
    trial: Trial,
    doubt: Doubt,
    members: Iterable[int],
    groups: frozenset[Group],
    sun: SunSeries | None = None,
) -> Iterator[tuple[Design, EnergyResult]]:
    """Yield design and energy of some runs; `sun` in place of each run's own weather."""
    cases = [_case(trial, doubt, member, groups, sun) for member in members]
    energies = energy_results(cases, path_ohm=trial.path_ohm, box_air=trial.box_air)
    for (design, _), energy in zip(cases, energies, strict=True):
        yield design, energy


def _case(
    trial: Trial, doubt: Doubt, member: int, groups: frozenset[Group], sun: SunSeries | None
) -> tuple[Design, SunSeries]:
    """Return design and weather of one run."""
    design = trial.design
    if trial.unknowns and "unknown" in groups:
        design = trial.design_at(unknown_draw(trial.unknowns, doubt.seed, member))
    design = doubted(design, drawn(doubt, member, day_count=len(design.days), groups=groups))
    season = design.job.season
    weather = sun or adjusted(
        trial.weather.member(member), sun_factor=season.sun_factor, warmer_k=season.warmer_k
    )
    return design, weather


def _shares(trial: Trial, doubt: Doubt) -> dict[str, float]:
    """Return each group's share in the spread: its variance alone over the sum of all (docs/choices.md#doubt-shares)."""
    variance: dict[str, float] = {}
    for name in SHARE_NAMES:
        groups = frozenset(group for group in ALL_GROUPS if group == name)
        is_idle = name == "unknown" and not trial.unknowns
        if is_idle or not all(can_matter(trial.design, group) for group in groups):
            variance[name] = 0.0
            continue
        sun = None if name == "weather" else trial.typical
        variance[name] = float(
            np.var(list(_each(trial, doubt, partial(_margins, trial, doubt, groups, sun))))
        )
    whole = sum(variance.values())
    return {name: value / whole if whole > 0.0 else 0.0 for name, value in variance.items()}


def _margins(
    trial: Trial, doubt: Doubt, groups: frozenset[Group], sun: SunSeries | None, members: Iterable[int]
) -> list[float]:
    """Return the margin of what runs out first in some runs."""
    return [
        run_out(design, energy).margin_frac for design, energy in _studied(trial, doubt, members, groups, sun)
    ]
