"""A log of the finished vehicle against what its job foretells: what differs, what it may come from, what to write down.

The log tells what the weather and the people of those days did; only large differences mean something.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from ampwright.energy.result import EnergyResult
from ampwright.energy.simulate import EnergyModel
from ampwright.fieldwork.log_facts import NIGHT_H, LogFacts, log_facts
from ampwright.fieldwork.log_file import BatteryLog
from ampwright.job.design import Design
from ampwright.job.design_use import DesignLoad
from ampwright.records import record
from ampwright.said import Said, said, said_together

__all__ = ["LogLine", "LogStudy", "Reading", "log_study"]

Array = NDArray[np.float64]
Reading = Literal["agrees", "more", "less", "not told"]
DAYS_FRAC, DRAW_FRAC, DRAW_A, STRONG_FRAC = 0.3, 0.3, 0.05, 0.25
CELL_GROUP_V, TOP_V, LOW_V = 12.0, 0.2, 0.3
RESISTANCE_FACTOR, CAPACITY_FRAC = 2.0, 0.15
"""How far a log may be from the job before it is told (docs/choices.md#log-tolerances)."""
OTHER_FRAC = 0.1
MOST_A = 1e6
"""No reading is too large."""
LEAST_FRIDGE_A = 0.05
ALWAYS_FRAC = 0.999


@record
class LogLine:
    """One figure of the log beside that of the job."""

    what: str
    """What it is."""
    measured: float
    """Of the log; NaN = it does not tell."""
    expected: float
    """Of the job; NaN = it says nothing."""
    low: float
    """From here it agrees."""
    high: float
    """Up to here it agrees."""
    unit: str
    """Unit."""
    causes: tuple[str, ...] = ()
    """What a difference of this direction usually comes from, likeliest first; empty where it agrees."""
    field: str = ""
    """Field of the job file that the figure replaces; empty = none."""
    line: str = ""
    """The line to write there."""

    @property
    def is_open(self) -> bool:
        """True when no reading is too large."""
        return self.high >= MOST_A

    @property
    def reading(self) -> Reading:
        """How the log stands to the job."""
        return _reading(self.measured, self.low, self.high)


@record
class LogStudy:
    """A log against a job."""

    job: str
    """Id of the job."""
    facts: LogFacts
    """What the log says by itself."""
    lines: tuple[LogLine, ...]
    """Figure by figure."""

    @property
    def differing(self) -> tuple[LogLine, ...]:
        """Lines in which log and job differ."""
        return tuple(line for line in self.lines if line.reading in {"more", "less"})


def log_study(design: Design, model: EnergyModel, energy: EnergyResult, log: BatteryLog) -> LogStudy:
    """Return what a log says of a job.

    Parameters
    ----------
    energy : the use as foretold at the likely values
    """
    facts = log_facts(log)
    return LogStudy(
        job=design.job.job.id,
        facts=facts,
        lines=(
            *_charge(facts, model, energy),
            *_voltages(facts, design, model, energy),
            *_draws(facts, design, model, energy),
            _resistance(facts, model),
            *_capacity(facts, model),
        ),
    )


def _reading(measured: float, low: float, high: float) -> Reading:
    if not (math.isfinite(measured) and math.isfinite(low) and math.isfinite(high)):
        return "not told"
    if measured < low:
        return "less"
    return "more" if measured > high else "agrees"


def _line(
    what: str,
    unit: str,
    figures: tuple[float, float, float, float],
    *,
    more: tuple[str, ...],
    less: tuple[str, ...],
) -> LogLine:
    """Return a line from measured, expected and the range that agrees, with the causes of its direction."""
    measured, expected, low, high = figures
    causes = {"more": more, "less": less}.get(_reading(measured, low, high), ())
    return LogLine(
        what=what, unit=unit, measured=measured, expected=expected, low=low, high=high, causes=causes
    )


def _charge(facts: LogFacts, model: EnergyModel, energy: EnergyResult) -> Iterator[LogLine]:
    daily = energy.battery_a.reshape(energy.day_count, -1) * energy.step_h
    given, taken = np.maximum(daily, 0.0).sum(axis=1), np.maximum(-daily, 0.0).sum(axis=1)
    sources = _shares(energy)
    yield _line(
        said("charged a day"),
        "Ah",
        (facts.in_ah_per_day, float(given.mean()), *_between(given)),
        more=(
            said("brighter days or more driving than in the job"),
            said("more was taken out, so more went in"),
        ),
        less=(
            said("a source gives less than foretold, or never starts: {sources}", sources=sources),
            ")duller days, less driving",
        ),
    )
    yield _line(
        said("discharged a day"),
        "Ah",
        (facts.out_ah_per_day, float(taken.mean()), *_between(taken)),
        more=(
            said("a drain that the job does not count"),
            said("loads run longer or draw more than in the job"),
        ),
        less=(said("loads run less than in the job"),),
    )
    strongest = float(energy.battery_a.max(initial=0.0))
    if model.chargers:
        yield _line(
            said("strongest charge, 15 min"),
            "A",
            (facts.strongest_charge_a, strongest, strongest * (1.0 - STRONG_FRAC), MOST_A),
            more=(),
            less=(
                said(
                    "a charger that never starts, is set low or gets too little: {sources}", sources=sources
                ),
                said("a run signal that is not live; a feed that loses too much voltage"),
                said("the battery was never low enough to ask for it"),
            ),
        )


def _shares(energy: EnergyResult) -> Said:
    """Return the sources by what they were to give a day."""
    step_h = energy.step_h
    found = sorted(
        zip(energy.source_labels, (energy.source_w.sum(axis=0) * step_h).tolist(), strict=True), key=_given
    )
    days = energy.day_count
    named = [said("{label} {wh:.0f} Wh", label=label, wh=wh / days) for label, wh in found if wh > 0.0]
    return said_together(named, between=", ") if named else said("none in the job")


def _given(pair: tuple[str, float]) -> float:
    return -pair[1]


def _between(daily_ah: Array) -> tuple[float, float]:
    """Return the range that agrees: the days of the job, and a part of them to both sides."""
    return float(daily_ah.min()) * (1.0 - DAYS_FRAC), float(daily_ah.max()) * (1.0 + DAYS_FRAC)


def _voltages(facts: LogFacts, design: Design, model: EnergyModel, energy: EnergyResult) -> Iterator[LogLine]:
    scale = design.system_v / CELL_GROUP_V
    set_v = max((row.set_v for row in model.chargers), default=math.nan)
    top_v = min(set_v, float(energy.battery_v.max())) if model.chargers else math.nan
    yield _line(
        said("highest voltage"),
        "V",
        (facts.top_v, top_v, top_v - LOW_V * scale, set_v + TOP_V * scale),
        more=(
            said("a charger is set higher than in the job"),
            said("a charger that compensates for cold, or equalises"),
        ),
        less=(
            said("the battery was not full once"),
            said("a charger is set lower, or senses a voltage that its cable lowers"),
        ),
    )
    foretold_v = float(energy.battery_low_v.min())
    yield _line(
        said("lowest voltage"),
        "V",
        (facts.low_v, foretold_v, foretold_v - LOW_V * scale, MOST_A),
        more=(),
        less=(
            said("more was taken out than foretold"),
            said("a heavier load, or more resistance, than in the job"),
        ),
    )


def _draws(facts: LogFacts, design: Design, model: EnergyModel, energy: EnergyResult) -> Iterator[LogLine]:
    is_night, always_a, fridge_a, other_a = _night(model, energy)
    quiet_a = float(always_a[is_night].min()) if is_night.any() else math.nan
    yield _line(
        said("quiet draw at night"),
        "A",
        (facts.quiet_a, quiet_a, quiet_a * (1.0 - DRAW_FRAC) - DRAW_A, quiet_a * (1.0 + DRAW_FRAC) + DRAW_A),
        more=(
            said("a drain that the job does not count: pull fuses one by one and watch the current"),
            said("an inverter or a charger that stays awake"),
        ),
        less=(said("something that the job counts is asleep or not fitted"),),
    )
    night_a = float((always_a + fridge_a + other_a)[is_night].mean()) if is_night.any() else math.nan
    yield _line(
        said("mean draw at night"),
        "A",
        (facts.night_a, night_a, night_a * (1.0 - DRAW_FRAC) - DRAW_A, night_a * (1.0 + DRAW_FRAC) + DRAW_A),
        more=(
            said("a refrigerator that draws more: warm place, dirty condenser, worn seal, set too cold"),
            said("loads at night that the job does not have"),
        ),
        less=(said("a refrigerator that draws less than in the job"), said("cooler nights than in the job")),
    )
    if is_night.any():
        yield from _fridge(facts, design, float(fridge_a[is_night].mean()), float(other_a[is_night].mean()))


def _night(model: EnergyModel, energy: EnergyResult) -> tuple[NDArray[np.bool_], Array, Array, Array]:
    """Return which steps are at night without charge, and the current of what is always on, refrigerators and the rest."""
    steps, table = model.steps, model.consumers.table
    hour = energy.minute_of_step / 60.0
    is_night = (hour >= NIGHT_H[0]) & (hour < NIGHT_H[1]) & (energy.battery_a <= 0.0) & ~energy.is_cut_off
    is_night &= ~energy.is_management_open
    on_w, duty = steps.on_w[steps.row], steps.duty_frac[steps.row]
    is_fridge = table.fridge >= 0
    is_always = (duty >= ALWAYS_FRAC) & ~is_fridge
    always_w = steps.standby_w[steps.row] + (on_w * duty * is_always).sum(axis=1)
    other_w = (on_w * duty * (~is_always & ~is_fridge)).sum(axis=1)
    total_w = -energy.battery_a * energy.battery_v
    fridge_w = np.maximum(total_w - always_w - other_w, 0.0) if is_fridge.any() else np.zeros(total_w.size)
    return is_night, always_w / energy.battery_v, fridge_w / energy.battery_v, other_w / energy.battery_v


def _fridge(facts: LogFacts, design: Design, fridge_a: float, other_a: float) -> Iterator[LogLine]:
    """Tell what one refrigerator alone draws: the mean less the quiet draw, where little else comes and goes at night."""
    fridges = [load for load in design.loads if load.fridge is not None]
    if len(fridges) != 1 or fridge_a < LEAST_FRIDGE_A:
        return
    load, measured_a = fridges[0], facts.night_a - facts.quiet_a
    is_told = math.isfinite(measured_a) and other_a <= OTHER_FRAC * fridge_a
    figures = (fridge_a * (1.0 - DRAW_FRAC), fridge_a * (1.0 + DRAW_FRAC))
    found = _line(
        said("{load}, at night", load=load.name),
        "A",
        (measured_a if is_told else math.nan, fridge_a, *figures),
        more=(said("a warm place, a dirty condenser, a worn seal, a colder setting, or warm goods"),),
        less=(said("cooler nights, a warmer setting, or less opening than in the job"),),
    )
    yield dataclasses.replace(
        found,
        field=f"load '{load.id}' > draw_factor" if is_told else "",
        line=_draw_line(load, load.draw_factor * measured_a / fridge_a, facts) if is_told else "",
    )


def _draw_line(load: DesignLoad, factor: float, facts: LogFacts) -> str:
    nights = f"{facts.night_count} night{'' if facts.night_count == 1 else 's'}"
    return f'draw_factor = {{ measured = {factor:.2f}, how = "battery log, {nights}; {load.draw_factor:g} in the job" }}'


def _resistance(facts: LogFacts, model: EnergyModel) -> LogLine:
    ohm = model.bank.resistance_ohm
    return _line(
        said("battery and its joints"),
        "mΩ",
        (
            1e3 * facts.resistance_ohm,
            1e3 * ohm,
            1e3 * ohm / RESISTANCE_FACTOR,
            1e3 * ohm * RESISTANCE_FACTOR,
        ),
        more=(
            said(
                "a bad joint between battery and meter: feel for warmth under load, measure the drop of each joint"
            ),
            said("a cold or aged battery"),
        ),
        less=(said("the voltage is smoothed by the meter, or is not that of this battery"),),
    )


def _capacity(facts: LogFacts, model: EnergyModel) -> Iterator[LogLine]:
    if math.isfinite(facts.capacity_ah):
        rated = model.bank.rated_ah
        yield _line(
            said("capacity by its own meter"),
            "Ah",
            (facts.capacity_ah, rated, rated * (1.0 - CAPACITY_FRAC), rated * (1.0 + CAPACITY_FRAC)),
            more=(said("its meter drifts: charge until it is full and begin again"),),
            less=(said("an aged or cold battery"), said("its meter is set to another capacity, or drifts")),
        )
