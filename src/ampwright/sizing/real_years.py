"""The same use in every real year of the job's files, all else at its likely values, counted."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from itertools import islice

import numpy as np
from numpy.typing import NDArray

from ampwright.assessment.result import Assessment
from ampwright.assessment.run_out import run_out
from ampwright.assessment.served import failures
from ampwright.climate.real_years import RealWeather
from ampwright.climate.series import SunSeries, adjusted
from ampwright.energy.result import EnergyResult
from ampwright.energy.simulate import LONG_DAYS, energy_results
from ampwright.energy.tables import LANES
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.network.box_air import box_air
from ampwright.records import record
from ampwright.said import Said, said, said_together
from ampwright.sizing.interval import share_interval
from ampwright.sizing.other_weeks import OtherWeeks, other_weeks_sentence
from ampwright.sources import own_choice

__all__ = [
    "YEARS_RULE",
    "RealYears",
    "in_real_years",
    "real_years_finding",
    "real_years_sentences",
    "weeks_sentences",
    "years_text",
]

Array = NDArray[np.float64]
YEARS_RULE = "holds-in-real-years"
DOUBTFUL_FRAC = 0.5
"""In at least this share of the years: suits with conditions (docs/choices.md#sure-enough)."""
MOST_NAMED = 5
LEAST_TOLD = 2
"""A span is written for at least so many years on end."""


@record
class RealYears:
    """What each real year shows; all arrays in the order of `labels`."""

    labels: tuple[str, ...]
    """Name of each year."""
    is_held: tuple[bool, ...]
    """True where every essential load is served."""
    margin_frac: NDArray[np.float64]
    """Margin of what runs out first (n_years,)."""
    sun_kwh_m2_day: NDArray[np.float64]
    """Mean daily irradiation of the days of the use (n_years,)."""
    worst_message: str
    """What runs out first in the year with the smallest margin."""
    left_out: tuple[str, ...]
    """Years whose days are not whole, and why."""
    notes: tuple[str, ...]
    """What a reader should know of the files."""
    other_weeks: OtherWeeks | None = None
    """The same begun some weeks earlier or later; None where that was not looked at."""

    @property
    def held_count(self) -> int:
        """Years in which every essential load is served."""
        return sum(self.is_held)

    @property
    def worst(self) -> int:
        """Return the position of the year with the smallest margin."""
        return int(np.argmin(self.margin_frac))


def in_real_years(found: Assessment, real: RealWeather, step: Callable[[], None]) -> RealYears:
    """Return what the real years show of an assessed design; `step` is called after each."""
    design, season = found.design, found.design.job.season
    path_ohm, air = found.network.path_ohm, box_air(found.design, found.network.peak_a)
    essential = [load.index for load in design.loads if load.is_essential]
    held, margins, messages = [], [], []
    suns = (
        adjusted(member, sun_factor=season.sun_factor, warmer_k=season.warmer_k)
        for member in real.ensemble.members()
    )
    size = LANES if len(design.days) >= LONG_DAYS else 1
    for energy in _energies(design, suns, size, path_ohm=path_ohm, air=air):
        held.append(not bool(failures(design, energy)[:, essential].any()))
        nearest = run_out(design, energy)
        margins.append(nearest.margin_frac)
        messages.append(nearest.message)
        step()
    return RealYears(
        labels=real.labels,
        is_held=tuple(held),
        margin_frac=np.array(margins),
        sun_kwh_m2_day=real.ensemble.daily.irradiation_kwh_m2_day.mean(axis=1),
        worst_message=messages[int(np.argmin(margins))],
        left_out=real.left_out,
        notes=real.notes,
    )


def _energies(
    design: Design, suns: Iterable[SunSeries], size: int, *, path_ohm: Array, air: Mapping[int, Array]
) -> Iterator[EnergyResult]:
    """Yield the energy study under each sun, so many at once."""
    left = iter(suns)
    while part := list(islice(left, size)):
        yield from energy_results([(design, sun) for sun in part], path_ohm=path_ohm, box_air=air)


def real_years_finding(years: RealYears) -> Finding:
    """Return what the real years show as a finding of the first verdict."""
    count = len(years.labels)
    share = years.held_count / count
    return Finding(
        rule=YEARS_RULE,
        group=Group.USE,
        severity=Severity.PASS
        if years.held_count == count
        else Severity.CONDITION
        if share >= DOUBTFUL_FRAC
        else Severity.FAIL,
        subject="real years",
        message=said_together(_count_sentences(years)),
        value=100.0 * share,
        limit=100.0,
        unit="%",
        at_most=False,
        source=own_choice("real-years-held"),
        way_out=""
        if years.held_count == count
        else said('Set weather_from = "real-years" in [doubt]: changes are then looked for in these years.'),
    )


def real_years_sentences(years: RealYears) -> tuple[str, ...]:
    """Return the count of years that hold, which do not, and what was left out of the files."""
    found = list(_count_sentences(years))
    found += weeks_sentences(years)
    if years.left_out:
        found.append(said("Left out for gaps, never filled: {years}.", years=_some(years.left_out, "; ")))
    return (*found, *(f"{note}." for note in years.notes))


def weeks_sentences(years: RealYears) -> tuple[Said, ...]:
    """Return what the years show of a use begun some weeks earlier or later; none where that was not looked at."""
    if years.other_weeks is None:
        return ()
    return (other_weeks_sentence(years.other_weeks, lambda names: _some(names, ", ")),)


def _count_sentences(years: RealYears) -> tuple[Said, ...]:
    count, held = len(years.labels), years.held_count
    low, high = share_interval(held, count)
    counted = {
        "years": years_text(years.labels),
        "held": held,
        "count": count,
        "low": 100 * low,
        "high": 100 * high,
    }
    worst = {"year": years.labels[years.worst], "what": years.worst_message}
    if held == count:
        text = said(
            "Real years {years}, all else at its likely value: essential loads hold in {held} of {count} "
            "({low:.0f}-{high:.0f} %).",
            **counted,
        )
        return (said_together((text, said("Nearest to failing is {year}: {what}", **worst))),)
    failed = tuple(label for label, is_held in zip(years.labels, years.is_held, strict=True) if not is_held)
    return (
        said(
            "Real years {years}, all else at its likely value: essential loads hold in {held} of {count} "
            "({low:.0f}-{high:.0f} %), not in {failed}.",
            failed=_some(failed, ", "),
            **counted,
        ),
        said("Worst is {year}: {what}", **worst),
    )


def _some(names: tuple[str, ...], between: str) -> str:
    rest = len(names) - MOST_NAMED
    listed = between.join(names[:MOST_NAMED])
    return (
        said("{listed}{between}{count} more", listed=listed, between=between, count=rest)
        if rest > 0
        else listed
    )


def years_text(labels: tuple[str, ...]) -> str:
    """Return the names of years, those on end as spans.

    Examples
    --------
    >>> years_text(("2006", "2007", "2008", "2011", "place.epw"))
    '2006-2008, 2011, place.epw'
    """
    spans: list[list[str]] = []
    for label in labels:
        is_next = bool(spans) and label.isdigit() and spans[-1][-1].isdigit()
        if is_next and int(label) == int(spans[-1][-1]) + 1:
            spans[-1].append(label)
        else:
            spans.append([label])
    return ", ".join(f"{span[0]}-{span[-1]}" if len(span) > LEAST_TOLD else ", ".join(span) for span in spans)
