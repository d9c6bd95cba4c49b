"""Rules on the use: are the loads served, is there a reserve, do contents stay in range."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

import numpy as np

from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.run_out import has_limits
from ampwright.assessment.when import moment_text
from ampwright.assessment.wording import part_source, temperature_text
from ampwright.energy.endurance import storage_days
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design, DesignPart
from ampwright.job.design_use import DesignLoad
from ampwright.parts.inverter import Inverter
from ampwright.said import Said, said, said_together
from ampwright.sources import Source, own_choice

__all__ = [
    "COMFORT_LOADS",
    "CONTENTS_TEMPERATURE",
    "ESSENTIAL_LOADS",
    "INVERTER_POWER",
    "RESERVE",
    "STORAGE",
    "TREND",
    "range_text",
]

USE = Group.USE
JOB = Source(document="job file")
STEADY_FRAC = 0.02
"""A use that ends this much lower than it began is not in balance (docs/choices.md#trend)."""


def _essential_loads(design: Design, studies: Studies) -> Iterator[Finding]:
    for load in design.loads:
        # a refrigerator whose contents have limits is judged by their temperature: a gap is no failure
        if load.is_essential and not has_limits(load):
            yield _served(studies, load, "essential-loads")


def _comfort_loads(design: Design, studies: Studies) -> Iterator[Finding]:
    for load in design.loads:
        if not load.is_essential and not has_limits(load):
            yield _served(studies, load, "comfort-loads")


def _served(studies: Studies, load: DesignLoad, rule: str) -> Finding:
    energy = studies.energy
    missing_wh = float(energy.unserved_wh[load.index])
    got_wh = float(energy.load_w[:, load.index].sum() * energy.step_h)
    is_short = bool(energy.is_unserved[:, load.index].any())
    if is_short:
        first = int(np.argmax(energy.is_unserved[:, load.index]))
        hours = float(np.count_nonzero(energy.is_unserved[:, load.index])) * energy.step_h
        message = said(
            "{load}: goes off {when}; {hours:.0f} h and {missing_wh:.0f} Wh of {all_wh:.0f} Wh are missing over the "
            "{days} days.",
            load=load.name,
            when=moment_text(energy, first),
            hours=hours,
            missing_wh=missing_wh,
            all_wh=got_wh + missing_wh,
            days=energy.day_count,
        )
    else:
        message = said(
            "{load}: served throughout, {energy_wh:.0f} Wh a day.",
            load=load.name,
            energy_wh=got_wh / energy.day_count,
        )
    weight = Severity.FAIL if load.is_essential else Severity.CONDITION
    return Finding(
        rule=rule,
        group=USE,
        severity=weight if is_short else Severity.PASS,
        subject=load.id,
        message=message,
        value=missing_wh,
        limit=0.0,
        unit="Wh",
        source=JOB,
        way_out=said("See the smallest changes.") if is_short else "",
    )


def _contents_temperature(design: Design, studies: Studies) -> Iterator[Finding]:
    energy = studies.energy
    for column, index in enumerate(energy.fridge_loads):
        load = design.loads[index]
        if not has_limits(load):
            continue
        used = energy.fridge_is_used[:, column]
        degc = energy.fridge_degc[:, column][used]
        if degc.size == 0:
            continue
        low, high = float(degc.min()), float(degc.max())
        bottom, top = load.contents_low_degc, load.contents_high_degc
        too_warm = top is not None and high > top
        too_cold = bottom is not None and low < bottom
        gap_h = float(np.count_nonzero(energy.is_unserved[:, index])) * energy.step_h
        held = (
            said("The supply has gaps of {gap_h:.0f} h in all; the cold store bridges them.", gap_h=gap_h)
            if gap_h
            else ""
        )
        is_out = too_warm or too_cold
        if is_out:
            steps = np.flatnonzero(used)
            wrong = (degc > top) if too_warm and top is not None else (degc < (bottom or 0.0))
            when = moment_text(energy, int(steps[int(np.argmax(wrong))]))
            held = said("It leaves the range {when}.", when=when)
        yield Finding(
            rule="contents-temperature",
            group=USE,
            severity=Severity.FAIL if is_out else Severity.PASS,
            subject=load.id,
            message=said_together(
                (
                    said(
                        "{load}: contents between {low} and {high}; allowed {range}.",
                        load=load.name,
                        low=temperature_text(design, low),
                        high=temperature_text(design, high),
                        range=range_text(design, load),
                    ),
                    held,
                )
            ),
            value=high if not too_cold else low,
            limit=top if not too_cold else bottom,
            unit="°C",
            at_most=not too_cold,
            source=Source(document="job file", place=f"load {load.id}"),
            way_out=said("See the smallest changes.") if is_out else "",
            caution=said("Contents that left their range must not be used without asking who is responsible.")
            if is_out
            else "",
        )


def range_text(design: Design, load: DesignLoad) -> Said:
    """Return the range the contents of a refrigerator may have."""
    low, high = load.contents_low_degc, load.contents_high_degc
    if low is not None and high is not None:
        return said("{low} to {high}", low=temperature_text(design, low), high=temperature_text(design, high))
    if high is not None:
        return said("up to {high}", high=temperature_text(design, high))
    return said("from {low}", low=temperature_text(design, low or 0.0))


def _reserve(design: Design, studies: Studies) -> Iterator[Finding]:
    energy = studies.energy
    lowest = float(energy.soc_frac.min())
    reserve = design.job.use.reserve_frac
    step = max(int(np.argmin(energy.soc_frac)) - 1, 0)
    is_low = lowest < reserve
    yield Finding(
        rule="reserve",
        group=USE,
        severity=Severity.CONDITION if is_low else Severity.PASS,
        subject=design.parts[design.battery].id,
        message=said(
            "The battery is lowest {when}, with {left:.0f} % left; {reserve:.0f} % is to be kept.",
            when=moment_text(energy, step),
            left=100 * lowest,
            reserve=100 * reserve,
        ),
        value=100 * lowest,
        limit=100 * reserve,
        unit="%",
        at_most=False,
        source=JOB,
        way_out=said("See the smallest changes.") if is_low else "",
    )


def _trend(design: Design, studies: Studies) -> Iterator[Finding]:
    energy = studies.energy
    fall = -energy.trend_frac
    falls = fall > STEADY_FRAC
    per_day = fall / energy.day_count
    usable = float(energy.soc_frac[-1]) - design.job.use.reserve_frac
    more = usable / per_day if falls and per_day > 0 else math.inf
    message = said("The battery ends the use as full as it began it, or fuller.")
    if falls and more >= 1.0:
        message = said(
            "The battery ends the use {points:.0f} points lower than it began; going on like this the reserve is reached "
            "after {more:.0f} more days. Charge it before the next use.",
            points=100 * fall,
            more=more,
        )
    elif falls:
        message = said(
            "The battery ends the use {points:.0f} points lower than it began. Charge it before the next use.",
            points=100 * fall,
        )
    yield Finding(
        rule="trend",
        group=USE,
        severity=Severity.ADVICE if falls else Severity.PASS,
        subject=design.parts[design.battery].id,
        message=message,
        value=100 * fall,
        limit=100 * STEADY_FRAC,
        unit="%",
        source=own_choice("trend"),
    )


def _inverter_power(design: Design, studies: Studies) -> Iterator[Finding]:
    energy = studies.energy
    for column, index in enumerate(energy.inverter_parts):
        placed = design.parts[index]
        if isinstance(placed.part, Inverter):
            peak_w = float(energy.inverter_peak_w[:, column].max(initial=0.0))
            peak_va = float(energy.inverter_peak_va[:, column].max(initial=0.0))
            yield _inverter_finding(placed, placed.part, peak_w, peak_va)


def _inverter_finding(placed: DesignPart, part: Inverter, peak_w: float, peak_va: float) -> Finding:
    make = partial(Finding, rule="inverter-power", group=USE, subject=placed.id, source=part_source(part))
    overload_va = part.overload_w * part.continuous_va / part.continuous_w
    asked = said(
        "{part}: its loads ask up to {peak_w:.0f} W and {peak_va:.0f} VA together",
        part=placed.id,
        peak_w=peak_w,
        peak_va=peak_va,
    )
    gives = {"asked": asked, "overload_w": part.overload_w, "overload_va": overload_va}
    if peak_w > part.overload_w or peak_va > overload_va:
        is_watts = peak_w / part.overload_w >= peak_va / overload_va
        return make(
            severity=Severity.FAIL,
            message=said(
                "{asked}; even for {overload_s:g} s it gives no more than {overload_w:g} W and {overload_va:.0f} VA.",
                overload_s=part.overload_s,
                **gives,
            ),
            value=peak_w if is_watts else peak_va,
            limit=part.overload_w if is_watts else overload_va,
            unit="W" if is_watts else "VA",
            way_out=said("Do not run them together, or use a larger inverter."),
        )
    is_watts = peak_w / part.overload_w >= peak_va / overload_va
    return make(
        severity=Severity.PASS,
        message=said("{asked}; for moments it gives {overload_w:g} W and {overload_va:.0f} VA.", **gives),
        value=peak_w if is_watts else peak_va,
        limit=part.overload_w if is_watts else overload_va,
        unit="W" if is_watts else "VA",
    )


def _storage(design: Design, _: Studies) -> Iterator[Finding]:
    days = storage_days(design)
    wanted = design.job.season.storage_days
    is_short = days < wanted
    time = said("{days:.0f} days", days=days) if math.isfinite(days) else said("for ever")
    yield Finding(
        rule="storage",
        group=USE,
        severity=Severity.CONDITION if is_short else Severity.PASS,
        subject=design.parts[design.battery].id,
        message=said(
            "Full and in store, with what is always on, the battery lasts {time}; {wanted} days are planned.",
            time=time,
            wanted=wanted,
        ),
        value=days if math.isfinite(days) else None,
        limit=float(wanted),
        unit="days",
        at_most=False,
        source=JOB,
        way_out=said("Open the isolator in store, or charge in between.") if is_short else "",
    )


ESSENTIAL_LOADS = Rule(
    name="essential-loads",
    group=USE,
    asks="Is every essential load served all the time?",
    check=_essential_loads,
)
COMFORT_LOADS = Rule(
    name="comfort-loads", group=USE, asks="Is every comfort load served all the time?", check=_comfort_loads
)
CONTENTS_TEMPERATURE = Rule(
    name="contents-temperature",
    group=USE,
    asks="Do contents with limits stay in their temperature range, gaps in the supply included?",
    check=_contents_temperature,
)
RESERVE = Rule(name="reserve", group=USE, asks="Does the battery keep its reserve?", check=_reserve)
TREND = Rule(name="trend", group=USE, asks="Does the battery end the use as full as it began?", check=_trend)
INVERTER_POWER = Rule(
    name="inverter-power",
    group=USE,
    asks="Does the inverter give, for moments at least, what its loads ask together?",
    check=_inverter_power,
)
STORAGE = Rule(
    name="storage", group=USE, asks="Does the battery last through the planned time in store?", check=_storage
)
