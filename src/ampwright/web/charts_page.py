"""The charts of a job on a page: the courses a script draws, and the same figures as tables.

Every figure is the energy study's own, step by step; nothing is thinned here, so that no dip is lost.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
from django.utils.translation import gettext
from numpy.typing import NDArray

from ampwright.assessment.result import Assessment
from ampwright.documents.energy_view import ledger_groups, use_course
from ampwright.documents.quantity_text import energy_text, percent_text
from ampwright.energy.result import EnergyResult
from ampwright.records import record
from ampwright.sizing.chance import Chance
from ampwright.web.answers import Live
from ampwright.web.stretch import clock

__all__ = ["DayRow", "LedgerBar", "chart_data", "day_rows", "ledger_bars", "step_lines"]

Array = NDArray[np.float64]
DAY_MIN = 1440
SOURCES = ("panel", "alternator", "mains")
LEAST_WH = 0.05
"""Energy a day that is left out because it would print as 0 (our own choice, as in the report)."""


@record
class DayRow:
    """One day in figures."""

    day: int
    """Day of the use, from 1."""
    plan: str
    """Its day plan."""
    start: str
    """State of charge at its first midnight."""
    lowest: str
    """Lowest, and when."""
    highest: str
    """Highest, and when."""
    end: str
    """State of charge at its last midnight."""
    runs: str
    """Lowest charge in 9 of 10 runs; empty before there are any."""
    worst: str
    """Lowest in the worst run; empty before there is one."""
    given: str
    """Energy all chargers gave, in Wh."""
    taken: str
    """Energy all loads got, in Wh."""


@record
class LedgerBar:
    """One entry of the books with its bar."""

    group: str
    """Heading it stands under, on its first entry; else empty."""
    kind: str
    """Which books: "in", "out", "lost" or "beside"."""
    name: str
    """What it is."""
    energy: str
    """Energy a day, in Wh."""
    share: str
    """Part of all that came in, or went out; empty beside the books."""
    width: str
    """Length of its bar as a share of the longest."""


def chart_data(live: Live) -> dict[str, Any]:
    """Return what the script draws: courses in thousandths, power in W, times in minutes of the use."""
    found = live.assessment
    if found is None:
        return {"version": live.version, "courses": []}
    energy, course = found.energy, use_course(found)
    chance = live.answer.chance if live.answer is not None else None
    return {
        "version": live.version,
        "step_min": round(60.0 * energy.step_h),
        "plans": [found.design.plans[plan].id for plan in found.design.days],
        "reserve": round(1000.0 * course.reserve_frac),
        "courses": list(_courses(live, found)),
        "band": [] if chance is None else _band(chance),
        "nights": [[round(60.0 * start), round(60.0 * end)] for start, end in course.nights],
        "cut_offs": [[round(60.0 * each.start_h), round(60.0 * each.end_h)] for each in course.cut_offs],
        "power": list(_powers(energy)),
    }


def _courses(live: Live, found: Assessment) -> Iterator[dict[str, Any]]:
    """Yield the courses of the charge: likely values, worst run, everything unknown at its worse end."""
    yield _course("L", gettext("at the likely values"), found.energy.soc_frac)
    answer = live.answer
    if answer is None:
        return
    if answer.chance is not None:
        name = gettext("worst of {count} runs of weather and doubt").format(count=answer.chance.run_count)
        yield _course("W", name, answer.chance.worst_soc_frac)
    if answer.unknown_count:
        name = gettext("everything unknown at its worse end")
        yield _course("U", name, answer.worst.energy.soc_frac)


def _course(letter: str, name: str, values: Array) -> dict[str, Any]:
    return {"letter": letter, "name": name, "values": np.rint(1000.0 * values).astype(int).tolist()}


def _band(chance: Chance) -> list[list[int]]:
    """Return for each day the lowest charge in the runs: 5 %, 50 % and 95 % of them are lower."""
    rows = np.rint(1000.0 * chance.daily_low_frac).astype(int)
    middle = len(chance.band_frac) // 2
    columns = zip(rows[0].tolist(), rows[middle].tolist(), rows[-1].tolist(), strict=True)
    return [list(each) for each in columns]


def _powers(energy: EnergyResult) -> Iterator[dict[str, Any]]:
    names = {"panel": gettext("sun"), "alternator": gettext("alternator"), "mains": gettext("mains")}
    letters = {"panel": "S", "alternator": "A", "mains": "M"}
    for kind in SOURCES:
        own = [index for index, each in enumerate(energy.source_kinds) if each == kind]
        if own:
            yield _power(letters[kind], names[kind], energy.source_w[:, own].sum(axis=1))
    yield _power("O", gettext("loads"), energy.load_w.sum(axis=1))


def _power(letter: str, name: str, values: Array) -> dict[str, Any]:
    return {"letter": letter, "name": name, "values": np.rint(values).astype(int).tolist()}


def day_rows(live: Live) -> tuple[DayRow, ...]:
    """Return the figures of the charts day by day."""
    found = live.assessment
    if found is None:
        return ()
    chance = live.answer.chance if live.answer is not None else None
    return tuple(_day(found, chance, day) for day in range(found.energy.day_count))


def _day(found: Assessment, chance: Chance | None, day: int) -> DayRow:
    energy, count = found.energy, found.energy.steps_per_day
    steps = slice(day * count, (day + 1) * count)
    values = energy.soc_frac[day * count : (day + 1) * count + 1]
    low, high = int(np.argmin(values)), int(np.argmax(values))
    runs, worst = "", ""
    if chance is not None:
        lows = chance.daily_low_frac[:, day]
        runs = gettext("{low} to {high}").format(
            low=percent_text(float(lows[0])), high=percent_text(float(lows[-1]))
        )
        worst = percent_text(float(chance.worst_soc_frac[day * count + 1 : (day + 1) * count + 1].min()))
    return DayRow(
        day=day + 1,
        plan=found.design.plans[found.design.days[day]].id,
        start=percent_text(float(values[0])),
        lowest=_at(float(values[low]), low * energy.step_h),
        highest=_at(float(values[high]), high * energy.step_h),
        end=percent_text(float(values[-1])),
        runs=runs,
        worst=worst,
        given=energy_text(float(energy.source_w[steps].sum()) * energy.step_h),
        taken=energy_text(float(energy.load_w[steps].sum()) * energy.step_h),
    )


def _at(frac: float, hours: float) -> str:
    return gettext("{percent} at {clock}").format(
        percent=percent_text(frac), clock=clock(round(60.0 * hours))
    )


def ledger_bars(live: Live) -> tuple[LedgerBar, ...]:
    """Return the books of the use as a mean of its days, with bars on one scale."""
    if live.assessment is None:
        return ()
    groups = ledger_groups(live.assessment)
    kinds = dict(zip((name for name, _ in groups), ("in", "out", "lost", "beside"), strict=True))
    sums = {kinds[name]: sum(energy_wh for _, energy_wh in entries) for name, entries in groups}
    whole_wh = {
        "in": sums["in"],
        "out": sums["out"] + sums["lost"],
        "lost": sums["out"] + sums["lost"],
        "beside": 0.0,
    }
    longest_wh = max((energy_wh for _, entries in groups for _, energy_wh in entries), default=0.0)
    bars = []
    for name, entries in groups:
        shown = [entry for entry in entries if entry[1] >= LEAST_WH]
        for number, (label, energy_wh) in enumerate(shown):
            whole = whole_wh[kinds[name]]
            bars.append(
                LedgerBar(
                    group=name if number == 0 else "",
                    kind=kinds[name],
                    name=label,
                    energy=energy_text(energy_wh),
                    share=percent_text(energy_wh / whole) if whole > 0.0 else "",
                    width=f"{100.0 * energy_wh / longest_wh:.3f}%",
                )
            )
    return tuple(bars)


def step_lines(live: Live) -> Iterator[str]:
    """Yield every step as lines of a table of commas, a heading first; fractions and watts as reckoned."""
    data = chart_data(live)
    if not data["courses"]:
        return
    per_day = DAY_MIN // data["step_min"]
    courses, powers = data["courses"], data["power"]
    heading = [f"charge_{each['letter']}_frac" for each in courses] + [
        f"power_{each['letter']}_w" for each in powers
    ]
    yield ",".join(["day", "clock", *heading]) + "\n"
    for step in range(len(powers[0]["values"])):
        day, part = divmod(step, per_day)
        charges = [f"{each['values'][step] / 1000.0:.3f}" for each in courses]
        watts = [str(each["values"][step]) for each in powers]
        yield ",".join([str(day + 1), clock(part * data["step_min"]), *charges, *watts]) + "\n"
