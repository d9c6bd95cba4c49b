"""The outlook and the runs in plain sentences, each with the number behind it."""

from __future__ import annotations

import math

import numpy as np

from ampwright.assessment.battery_life import life_text
from ampwright.said import Said, said, said_together
from ampwright.sizing.chance import Chance, LoadChance
from ampwright.sizing.interval import plain_chance
from ampwright.sizing.outlook import LoadEnergy, Outlook

__all__ = [
    "band_sentence",
    "customer_sentence",
    "days_text",
    "endurance_sentences",
    "first_failure_sentence",
    "lowest_sentence",
    "missing_sentence",
    "source_sentences",
]

MOST_DAYS = 10
"""Days named one by one in the band; of longer uses that many are chosen evenly."""
MOST_LOADS = 4
SURPLUS_FACTOR = 1.5
"""From here on the panels are told as more than is used (docs/choices.md#panel-surplus)."""
LEAST_WH = 0.5


def days_text(hours: float) -> Said:
    """Return a time in days, in hours below two days, or what stands for infinite.

    Examples
    --------
    >>> days_text(20.0), days_text(76.0), days_text(math.inf)
    ('20 h', '3.2 days', 'more than 60 days')
    """
    if math.isinf(hours):
        return said("more than 60 days")
    return (
        said("{hours_h:.0f} h", hours_h=hours) if hours < 48.0 else said("{days:.1f} days", days=hours / 24.0)
    )


def endurance_sentences(outlook: Outlook) -> tuple[Said, ...]:
    """Return how long a full battery lasts: nothing charging, on dull days, in store."""
    found = [
        said(
            "With nothing charging, a full battery carries the essential loads for {time}.",
            time=days_text(outlook.autonomy_h),
        )
    ]
    if outlook.dull_autonomy_h is not None and outlook.dull_day_kwh_m2 is not None:
        found.append(
            said(
                "With the panels alone and one dull day after another ({sun:.1f} kWh/m² on the level; 1 day in 20 is duller) "
                "it lasts for {time}.",
                sun=outlook.dull_day_kwh_m2,
                time=days_text(outlook.dull_autonomy_h),
            )
        )
    if math.isfinite(outlook.storage_days):
        found.append(
            said(
                "In store, nothing charging, it lasts {days:.0f} days from full to cut-off.",
                days=outlook.storage_days,
            )
        )
    if outlook.life is not None:
        years = life_text(outlook.life.low_years, outlook.life.high_years)
        found.append(said("The battery should hold 80 % of its label for {years}.", years=years))
    return tuple(found)


def source_sentences(outlook: Outlook, *, day_count: int) -> tuple[Said, ...]:
    """Return what the panels could give beside what is taken, and the hours of engine and mains."""
    found: list[Said] = []
    if outlook.panel_possible_wh > 0.0:
        found.append(_panel_sentence(outlook, day_count))
    engine = (
        said(
            "The engine drives for {road_h:.0f} h and idles for {idle_h:.0f} h, charging in {charging_h:.0f} h",
            road_h=outlook.road_h,
            idle_h=outlook.idle_h,
            charging_h=outlook.engine_charging_h,
        )
        if outlook.road_h + outlook.idle_h > 0.0
        else said("The engine does not run")
    )
    mains = (
        said(
            "mains is there for {mains_h:.0f} h, charging in {charging_h:.0f} h.",
            mains_h=outlook.mains_h,
            charging_h=outlook.mains_charging_h,
        )
        if outlook.mains_h > 0.0
        else said("there is no mains.")
    )
    return (*found, said_together((engine, mains), between="; "))


def _panel_sentence(outlook: Outlook, day_count: int) -> Said:
    possible_wh, factor = outlook.panel_possible_wh / day_count, outlook.panel_surplus_factor
    if factor is None:
        return said("The panels could give {wh:,.0f} Wh a day; none of it is taken.", wh=possible_wh)
    if factor >= SURPLUS_FACTOR:
        return said(
            "The panels could give {wh:,.0f} Wh a day, {factor:.1f} times what is used of it.",
            wh=possible_wh,
            factor=factor,
        )
    return said(
        "The panels could give {wh:,.0f} Wh a day; {share:.0f} % of it is used.",
        wh=possible_wh,
        share=100.0 / factor,
    )


def missing_sentence(outlook: Outlook) -> str:
    """Return what is not served at the likely values, by load; empty where nothing is missing."""
    short = sorted(
        (one for one in outlook.loads if one.missing_wh >= LEAST_WH), key=_missing_wh, reverse=True
    )
    if not short:
        return ""
    named = [f"{one.name} {one.missing_wh:,.0f} Wh" for one in short[:MOST_LOADS]]
    rest = short[MOST_LOADS:]
    if rest:
        named.append(f"{len(rest)} more {math.fsum(one.missing_wh for one in rest):,.0f} Wh")
    return f"Not served over the use: {', '.join(named)}."


def _missing_wh(one: LoadEnergy) -> float:
    return one.missing_wh


def customer_sentence(chance: Chance) -> Said:
    """Return how often something essential fails in words for a customer."""
    failed = chance.run_count - chance.held_count
    if failed == 0:
        return said("For the customer: {chance}.", chance=plain_chance(0, chance.run_count))
    return said(
        "For the customer: something essential fails {chance}.", chance=plain_chance(failed, chance.run_count)
    )


def first_failure_sentence(chance: Chance) -> str:
    """Return when the first essential load fails in the runs that have a failure; empty where none has."""
    days = sorted(chance.first_failure_day)
    if not days:
        return ""
    loads = [one for one in chance.loads if one.is_essential and one.failed_count]
    most = max(loads, key=_failed_count)
    which = said(
        "{load} fails in {count} of {total}.", load=most.name, count=most.failed_count, total=chance.run_count
    )
    of_runs = (
        said("in the {count} runs that fail", count=len(days))
        if len(days) > 1
        else said("in the one run that fails")
    )
    if days[0] == days[-1]:
        first = said("First failure {of_runs}: day {day}.", of_runs=of_runs, day=days[0])
    else:
        first = said(
            "First failure {of_runs}: day {day} to {last_day}, half of them by day {middle}.",
            of_runs=of_runs,
            day=days[0],
            last_day=days[-1],
            middle=days[(len(days) - 1) // 2],
        )
    return said_together((first, which))


def _failed_count(one: LoadChance) -> int:
    return one.failed_count


def lowest_sentence(chance: Chance) -> str:
    """Return the lowest charge of the middle run and of the worst twentieth."""
    lows = [100.0 * float(row.min()) for row in chance.daily_low_frac]
    return f"Lowest charge: {lows[2]:.0f} % in the middle run, {lows[0]:.0f} % in the worst twentieth."


def band_sentence(chance: Chance) -> str:
    """Return the lowest charge of each day in nine of ten runs, of longer uses that of some days."""
    low, high = 100.0 * chance.daily_low_frac[0], 100.0 * chance.daily_low_frac[-1]
    count = low.size
    chosen = np.unique(np.linspace(0, count - 1, min(count, MOST_DAYS)).round().astype(int))
    days = ", ".join(f"day {day + 1} {low[day]:.0f}-{high[day]:.0f} %" for day in chosen)
    return f"Lowest charge of the day in 9 of 10 runs: {days}."
