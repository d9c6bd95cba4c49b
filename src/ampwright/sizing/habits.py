"""Candidates that cost no parts: more driving, idling with its cautions, shorter hours."""

from __future__ import annotations

import dataclasses
from collections import Counter
from collections.abc import Iterator
from typing import Literal

from ampwright.assessment.charging import IDLING
from ampwright.assessment.result import Assessment
from ampwright.job.clock import minutes_of_clock
from ampwright.job.consumer import When
from ampwright.job.quantity import likely_value
from ampwright.job.records import Job
from ampwright.job.use import DayPlan, Period
from ampwright.parts.catalogue import Catalogue
from ampwright.said import Said, said
from ampwright.sizing.candidate import Candidate, Family

__all__ = ["less_comfort", "more_driving", "more_idling", "shorter_hours"]

MORE_MINUTES = (30, 60, 120)
SHORTER_FRAC = 0.5


def more_driving(job: Job, found: Assessment, catalogue: Catalogue) -> Iterator[Family]:
    """Propose longer driving on the most frequent kind of day."""
    del catalogue
    yield from _longer(job, found, "road")


def more_idling(job: Job, found: Assessment, catalogue: Catalogue) -> Iterator[Family]:
    """Propose idling, with its cautions and what the hot alternator can spare."""
    del catalogue
    yield from _longer(job, found, "idle")


def _longer(job: Job, found: Assessment, state: Literal["road", "idle"]) -> Iterator[Family]:
    if not found.design.vehicle.has_alternator:
        return
    names = Counter(found.design.plans[index].id for index in found.design.days)
    name = names.most_common(1)[0][0]
    plan = next(plan for plan in job.day if plan.id == name)
    vehicle = found.design.vehicle
    frac = vehicle.hot_road_frac if state == "road" else vehicle.hot_idle_frac
    spare_a = frac * vehicle.alternator_a - vehicle.own_load_day_a
    family: list[Candidate] = []
    for minutes in MORE_MINUTES:
        changed = _plan_with(plan, state, minutes)
        if changed is None:
            continue
        days = tuple(changed if each.id == name else each for each in job.day)
        family.append(
            Candidate(
                kind="driving" if state == "road" else "idling",
                description=_more(state, hours=minutes / 60, day=name, spare_a=spare_a),
                cost_eur=0.0,
                job=dataclasses.replace(job, day=days),
                caution=IDLING if state == "idle" else "",
            )
        )
    yield tuple(family)


def _more(state: Literal["road", "idle"], **blanks: object) -> Said:
    if state == "road":
        return said(
            "{hours:g} h more driving on each '{day}' day (hot, by day, the alternator can spare {spare_a:.0f} A on the "
            "road)",
            **blanks,
        )
    return said(
        "{hours:g} h more idling on each '{day}' day (hot, by day, the alternator can spare {spare_a:.0f} A at idle)",
        **blanks,
    )


def _plan_with(plan: DayPlan, state: Literal["road", "idle"], minutes: int) -> DayPlan | None:
    """Return the plan with a free stretch of the day given to a state; None where none is free."""
    taken = [False] * 1440
    for period in plan.period:
        start, end = minutes_of_clock(period.start) or 0, minutes_of_clock(period.end) or 0
        for minute in [*range(start, end)] if end > start else [*range(start, 1440), *range(end)]:
            taken[minute] = True
    for start in [*range(600, 1440 - minutes, 15), *range(0, 600 - minutes, 15)]:
        if not any(taken[start : start + minutes]):
            end = start + minutes
            period = Period(
                start=f"{start // 60:02d}:{start % 60:02d}",
                end=f"{end // 60:02d}:{end % 60:02d}",
                state=state,
            )
            return dataclasses.replace(plan, period=(*plan.period, period))
    return None


def shorter_hours(job: Job, found: Assessment, catalogue: Catalogue) -> Iterator[Family]:
    """Propose half the hours of each load whose user would accept that."""
    del catalogue, found
    for load in job.load:
        if not load.hours_could_be_less or not load.when:
            continue
        when = tuple(
            dataclasses.replace(entry, uses=max(1, round(entry.uses * SHORTER_FRAC)))
            if entry.uses is not None
            else dataclasses.replace(entry, duty_frac=likely_value(entry.duty_frac) * SHORTER_FRAC)
            for entry in load.when
        )
        changed = dataclasses.replace(load, when=when)
        loads = tuple(changed if each.id == load.id else each for each in job.load)
        yield (
            Candidate(
                kind="habit",
                description=said("half the hours of {load}", load=load.name),
                cost_eur=0.0,
                job=dataclasses.replace(job, load=loads),
            ),
        )


def less_comfort(job: Job, found: Assessment, catalogue: Catalogue) -> Iterator[Family]:
    """Propose to do without all comfort loads."""
    del catalogue, found
    comfort = [load for load in job.load if load.priority == "comfort" and not load.part]
    if not comfort:
        return
    loads = tuple(
        dataclasses.replace(
            load,
            when=tuple(
                dataclasses.replace(w, duty_frac=0.0, uses=None, use_minutes=None)
                for w in load.when or (When(),)
            ),
        )
        if load.priority == "comfort" and not load.part
        else load
        for load in job.load
    )
    yield (
        Candidate(
            kind="habit",
            description=said(
                "leave all comfort loads off: {loads}", loads=", ".join(load.name for load in comfort)
            ),
            cost_eur=0.0,
            job=dataclasses.replace(job, load=loads),
        ),
    )
