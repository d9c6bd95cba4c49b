"""Energy study -> what is drawn and listed of it: the course for the chart, the lines of the ledger.

Answers which series go on paper and how the books are grouped; every figure is the study's own.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from ampwright.assessment.result import Assessment
from ampwright.documents.report_records import LedgerLine
from ampwright.documents.use_course import CutOff, FridgeCourse, Stretch, StretchKind, UseCourse
from ampwright.documents.words.words import Words
from ampwright.energy.result import EnergyResult
from ampwright.job.design import Design
from ampwright.job.design_use import DesignPlan
from ampwright.said import said
from ampwright.sizing.chance import Chance

__all__ = ["LEAST_WH", "ledger_groups", "ledger_lines", "use_course"]

Entry = tuple[str, float]

MOST_ENTRIES = 10
"""Loads listed by name; own choice, so that the first page holds the ledger."""
LEAST_WH = 0.05
"""Energy a day that is left out because it would print as 0; own choice."""
DAY_MIN = 1440
SOURCE_WORD = {"panel": said("sun"), "alternator": said("alternator"), "mains": said("mains")}
DRAWN_STATES: tuple[StretchKind, ...] = ("road", "idle", "hooked-up", "stored")


def use_course(assessment: Assessment, chance: Chance | None = None) -> UseCourse:
    """Return the course of the use for the chart, with the span of the runs where there are any."""
    design, energy = assessment.design, assessment.energy
    return UseCourse(
        step_h=energy.step_h,
        day_count=energy.day_count,
        soc_frac=energy.soc_frac,
        reserve_frac=design.job.use.reserve_frac,
        nights=tuple(_spans_h(_has_no_sun(energy), energy.step_h)),
        stretches=tuple(_stretches(design)),
        cut_offs=tuple(
            CutOff(start_h=start_h, end_h=end_h)
            for start_h, end_h in _spans_h(energy.is_cut_off | energy.is_management_open, energy.step_h)
        ),
        runs_frac=() if chance is None else _run_spans(chance),
        legs=energy.leg_of_day,
        fridges=tuple(_fridges(design, energy)),
    )


def _run_spans(chance: Chance) -> tuple[tuple[float, float], ...]:
    """Return the lowest and the highest row of the band, day by day."""
    rows = chance.daily_low_frac
    return tuple((float(low), float(high)) for low, high in zip(rows[0], rows[-1], strict=True))


def _has_no_sun(energy: EnergyResult) -> NDArray[np.bool_]:
    """Return where no panel could give anything; nowhere without a panel."""
    panels = [i for i, kind in enumerate(energy.source_kinds) if kind == "panel"]
    if not panels:
        return np.zeros(energy.day_of_step.size, dtype=np.bool_)
    none: NDArray[np.bool_] = energy.source_possible_w[:, panels].sum(axis=1) <= 0.0
    return none


def _spans_h(flags: NDArray[np.bool_], step_h: float) -> Iterator[tuple[float, float]]:
    edges = np.flatnonzero(np.diff(flags.astype(np.int8), prepend=0, append=0)).tolist()
    for start, end in zip(edges[::2], edges[1::2], strict=True):
        yield start * step_h, end * step_h


def _stretches(design: Design) -> Iterator[Stretch]:
    by_plan = [_states_of_day(plan) for plan in design.plans]
    for kind in DRAWN_STATES:
        days = [by_plan[plan] == kind for plan in design.days]
        for start_h, end_h in _spans_h(np.concatenate(days), 1.0 / 60.0):
            yield Stretch(kind=kind, start_h=start_h, end_h=end_h)


def _states_of_day(plan: DesignPlan) -> NDArray[np.str_]:
    states = np.full(DAY_MIN, plan.otherwise, dtype="<U9")
    for period in plan.periods:
        if period.end_min > period.start_min:
            states[period.start_min : period.end_min] = period.state
        else:
            states[period.start_min :] = period.state
            states[: period.end_min] = period.state
    return states


def _fridges(design: Design, energy: EnergyResult) -> Iterator[FridgeCourse]:
    for column, index in enumerate(energy.fridge_loads):
        load = design.loads[index]
        if load.contents_low_degc is None and load.contents_high_degc is None:
            continue
        yield FridgeCourse(
            name=load.name,
            low_degc=load.contents_low_degc,
            high_degc=load.contents_high_degc,
            contents_degc=energy.fridge_degc[:, column],
        )


def ledger_lines(assessment: Assessment, words: Words) -> tuple[LedgerLine, ...]:
    """Return the books of the use as a mean of its days, in Wh a day."""
    groups = dict(ledger_groups(assessment, most_count=MOST_ENTRIES))
    in_wh = sum(energy_wh for _, energy_wh in groups["In"])
    out_wh = sum(energy_wh for _, energy_wh in (*groups["Out"], *groups["Lost"]))
    return (
        *_group(words("In"), groups["In"], in_wh, words),
        _sum(words("all that came in"), words.energy(in_wh)),
        *_group(words("Out"), groups["Out"], out_wh, words),
        *_group(words("Lost"), groups["Lost"], out_wh, words),
        _sum(words("all that went out or was lost"), words.energy(out_wh)),
        *_group(words("Not part of these books"), groups["Not part of these books"], 0.0, words),
    )


def ledger_groups(
    assessment: Assessment, *, most_count: int | None = None
) -> tuple[tuple[str, list[Entry]], ...]:
    """Return the entries of the books under their headings, a mean of the days of the use, in Wh a day.

    Parameters
    ----------
    most_count : consumers told by name, the largest ones; None = all
    """
    design, energy = assessment.design, assessment.energy
    books, days = energy.ledger, float(energy.day_count)
    stored = books.stored_change_wh / days
    came_in = _by_source(energy)
    if stored < -LEAST_WH:
        came_in.append((said("out of the battery's store"), -stored))
    taken = _largest(
        [(load.name, float(books.load_wh[load.index]) / days) for load in design.loads]
        + [
            (said("own consumption of parts"), books.standby_wh / days),
            (said("cell heaters"), books.heater_wh / days),
        ],
        most_count,
    )
    if books.returned_wh > 0.0:
        taken.append((said("given back to the vehicle"), books.returned_wh / days))
    if stored > LEAST_WH:
        taken.append((said("into the battery's store"), stored))
    lost: list[Entry] = [
        (said("inverters"), books.inverter_loss_wh / days),
        *([(said("converters"), books.converter_loss_wh / days)] if books.converter_loss_wh > 0.0 else []),
        (said("cables"), books.cable_loss_wh / days),
        (said("battery resistance"), books.battery_loss_wh / days),
        (said("charging efficiency"), books.coulombic_loss_wh / days),
        (said("self-discharge"), books.self_discharge_wh / days),
    ]
    beside: list[Entry] = [
        (said("lost in chargers before their outputs"), books.charger_loss_wh / days),
        (said("loads straight from mains"), float(books.mains_load_wh.sum()) / days),
        (said("wanted by loads and not given"), float(energy.unserved_wh.sum()) / days),
    ]
    return (("In", came_in), ("Out", taken), ("Lost", lost), ("Not part of these books", beside))


def _by_source(energy: EnergyResult) -> list[Entry]:
    each = zip(energy.source_labels, energy.source_kinds, energy.source_wh_per_day.tolist(), strict=True)
    return [
        (said("{source}, {part}", source=SOURCE_WORD[kind], part=label), energy_wh)
        for label, kind, energy_wh in each
    ]


def _largest(entries: list[Entry], most_count: int | None) -> list[Entry]:
    """Return the largest entries by name and the rest as one."""
    ordered = sorted(entries, key=lambda entry: -entry[1])
    if most_count is None or len(ordered) <= most_count:
        return ordered
    rest = ordered[most_count - 1 :]
    return [
        *ordered[: most_count - 1],
        (said("{count} smaller ones", count=len(rest)), sum(wh for _, wh in rest)),
    ]


def _group(name: str, entries: list[Entry], whole_wh: float, words: Words) -> tuple[LedgerLine, ...]:
    shown = [entry for entry in entries if entry[1] >= LEAST_WH]
    if not shown:
        return ()
    lines = (
        LedgerLine(
            kind="entry",
            name=words.said(label),
            energy=words.energy(energy_wh),
            share=words.percent(energy_wh / whole_wh) if whole_wh > 0.0 else "",
        )
        for label, energy_wh in shown
    )
    return (LedgerLine(kind="heading", name=name, energy="", share=""), *lines)


def _sum(name: str, energy: str) -> LedgerLine:
    return LedgerLine(kind="sum", name=name, energy=energy, share="")
