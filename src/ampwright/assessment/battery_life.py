"""Rules on what becomes of the battery over the years: its expected life, and lead-acid that is rarely full."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import temperature_text
from ampwright.energy.ageing import (
    AGEING_SOURCE,
    LEAD_SOURCE,
    MOST_YEARS,
    BatteryLife,
    battery_life,
    longest_gap_days,
)
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.said import Said, said
from ampwright.sources import COMMON_PRACTICE

__all__ = ["BATTERY_LIFE", "CHARGED_FULL", "life_text"]

USE = Group.USE
SHORT_YEARS = 3.0
"""A battery that may not last so long is worth a word (docs/choices.md#short-life)."""
FULL_EVERY_DAYS = 7.0
"""Lead-acid should be full as often as this (docs/choices.md#full-every)."""
HARMFUL_DAYS = 21.0
"""Longer without is a condition (docs/choices.md#full-every)."""


def life_text(low_years: float, high_years: float) -> Said:
    """Return a range of years.

    Examples
    --------
    >>> life_text(2.2, 4.96), life_text(9.0, 15.0), life_text(15.0, 15.0)
    ('2 to 5 years', '9 to more than 15 years', 'more than 15 years')
    """
    if low_years >= MOST_YEARS:
        return said("more than {years:.0f} years", years=MOST_YEARS)
    if high_years >= MOST_YEARS:
        return said("{low:.0f} to more than {years:.0f} years", low=low_years, years=MOST_YEARS)
    low, high = (
        said("{years:.1f}", years=years) if years < 2.0 else said("{years:.0f}", years=years)
        for years in (low_years, high_years)
    )
    if low == high:
        return said("about {years} years", years=low)
    return said("{low} to {high} years", low=low, high=high)


def _battery_life(design: Design, studies: Studies) -> Iterator[Finding]:
    placed = design.parts[design.battery]
    make = partial(Finding, rule="battery-life", group=USE, subject=placed.id)
    life = battery_life(design, studies.energy)
    wanted = design.job.use.battery_years
    if life is None:
        yield make(
            severity=Severity.NOT_CHECKED if wanted is not None else Severity.ADVICE,
            message=said(
                "{part}: neither its cycles nor its life in float service are stated.", part=placed.id
            ),
            way_out=said(
                "Ask its maker for cycles by depth, and give cycle_life and float_life_years of the part."
            ),
        )
        return
    least = SHORT_YEARS if wanted is None else wanted
    severity = Severity.PASS
    if life.low_years < least:
        severity = Severity.ADVICE if wanted is None else Severity.CONDITION
    yield make(
        severity=severity,
        message=_sentence(design, life, wanted),
        value=life.low_years,
        limit=least,
        unit="years",
        at_most=False,
        source=AGEING_SOURCE if design.battery_part().chemistry == "lfp" else LEAD_SOURCE,
        way_out=said("A larger or cooler battery, or one with more cycles; put a new one into the price.")
        if severity != Severity.PASS
        else "",
    )


def _sentence(design: Design, life: BatteryLife, wanted: float | None) -> str:
    placed = design.parts[design.battery]
    age = said("{age_share_frac:.0f} % of the loss is age", age_share_frac=100 * life.age_share_frac)
    missing = ""
    if not life.has_cycles:
        missing = said("; its cycles are not stated and not in it")
    elif not life.has_age:
        missing = said("; its life in float service is not stated: heat is not in it")
    asked = said("; {wanted:g} years are wanted", wanted=wanted) if wanted is not None else ""
    return said(
        "{part} should hold 80 % of its label for {life}, all months like this one "
        "({temperature} in the mean, {full_cycles_per_year_count:.0f} full cycles a year; "
        "{age}{missing}){asked}.",
        part=placed.id,
        life=life_text(life.low_years, life.high_years),
        temperature=temperature_text(design, life.mean_degc),
        full_cycles_per_year_count=life.full_cycles_per_year_count,
        age=age,
        missing=missing,
        asked=asked,
    )


def _charged_full(design: Design, studies: Studies) -> Iterator[Finding]:
    """Lead sulphate that stays for weeks turns coarse and is not changed back by charging."""
    if design.battery_part().chemistry == "lfp":
        return
    placed = design.parts[design.battery]
    gap_days = longest_gap_days(studies.energy)
    severity = Severity.PASS
    if gap_days > FULL_EVERY_DAYS:
        severity = Severity.CONDITION if gap_days > HARMFUL_DAYS else Severity.ADVICE
    yield Finding(
        rule="charged-full",
        group=USE,
        severity=severity,
        subject=placed.id,
        message=said(
            "{part} goes {gap_days:.0f} days without being full; lead-acid sulphates for good when "
            "that lasts for weeks, and is best full every {full_every_days:.0f} days.",
            part=placed.id,
            gap_days=gap_days,
            full_every_days=FULL_EVERY_DAYS,
        )
        if severity != Severity.PASS
        else said(
            "{part} is full at least every {gap_days:.0f} days.", part=placed.id, gap_days=max(gap_days, 1.0)
        ),
        value=gap_days,
        limit=FULL_EVERY_DAYS,
        unit="days",
        source=COMMON_PRACTICE,
        way_out=said("Charge it full from mains once a week and before storage, or charge more.")
        if severity != Severity.PASS
        else "",
    )


BATTERY_LIFE = Rule(
    name="battery-life",
    group=USE,
    asks="For how many years does the battery hold 80 % of its label?",
    check=_battery_life,
)
CHARGED_FULL = Rule(
    name="charged-full",
    group=USE,
    asks="Is a lead-acid battery full often enough?",
    check=_charged_full,
)
