"""A cold or hot spell in the use, where it does most harm: what is served, how cold or warm the battery gets, what it costs."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Literal, NamedTuple

import numpy as np

from ampwright.assessment.result import Assessment
from ampwright.assessment.run_out import has_limits, run_out
from ampwright.assessment.served import failures
from ampwright.assessment.service import range_text
from ampwright.assessment.when import moment_text
from ampwright.assessment.wording import part_source, temperature_text
from ampwright.climate.daily_weather import DailyWeather
from ampwright.climate.series import SunSeries, repeated
from ampwright.climate.spell import SpellAir, spell_of_runs, with_spell
from ampwright.energy.result import EnergyResult
from ampwright.energy.simulate import energy_results
from ampwright.findings import Finding, Group, Severity
from ampwright.job.place import Spell
from ampwright.network.box_air import box_air
from ampwright.records import record
from ampwright.said import Said, said, said_together
from ampwright.sources import own_choice

__all__ = ["SPELL_RULES", "spell_findings"]

Kind = Literal["cold", "hot"]
SPELL_RULES: tuple[str, ...] = ("cold-spell", "hot-spell")
MOST_STARTS = 8
"""So many first days are tried, evenly spread over the use (docs/choices.md#spell-place)."""


class _Asked(NamedTuple):
    """A spell as the job has it, and what its rarity is counted over."""

    spell: Spell
    counted: str


@record
class _Study:
    """A spell in the use."""

    kind: Kind
    """Cold or hot."""
    title: Said
    """What the spell is, in words."""
    first: int
    """First day of the spell, from 0."""
    day_count: int
    """Days of it that lie in the use."""
    energy: EnergyResult
    """The use with the spell in it."""
    margin_frac: float
    """Margin of what runs out first."""
    is_rare: bool
    """True for a spell by how rare it is, False for one that was asked for."""

    @property
    def steps(self) -> slice:
        """Steps of the spell."""
        per_day = self.energy.steps_per_day
        return slice(self.first * per_day, (self.first + self.day_count) * per_day)


def spell_findings(
    found: Assessment, sun: SunSeries, daily: DailyWeather | None, *, counted: str = "runs"
) -> tuple[Finding, ...]:
    """Return what the spells of the season do to an assessed design.

    Parameters
    ----------
    sun : sun and air of the assessment
    daily : days of the runs that say how rare a spell is; None = there are none
    counted : what these runs are called
    """
    season = found.design.job.season
    asked: tuple[tuple[Kind, Spell | None], ...] = (("cold", season.cold_spell), ("hot", season.hot_spell))
    return tuple(
        finding
        for kind, spell in asked
        if spell is not None
        for finding in _findings(found, sun, daily, kind=kind, asked=_Asked(spell, counted))
    )


def _findings(
    found: Assessment, sun: SunSeries, daily: DailyWeather | None, *, kind: Kind, asked: _Asked
) -> Iterator[Finding]:
    air = _air(found, sun, daily, kind=kind, spell=asked.spell)
    if air is None:
        yield Finding(
            rule=f"{kind}-spell",
            group=Group.USE,
            severity=Severity.NOT_CHECKED,
            subject="loads",
            message=said(
                "How bad a spell is to be reckoned with cannot be said: no runs of weather were made."
            ),
            way_out=said("Set runs in [doubt], or write the temperature of the spell."),
        )
        return
    study = _worst_study(found, sun, air, kind=kind, asked=asked)
    yield _loads(found, study)
    yield _battery(found, study)
    yield from _refrigerators(found, study)
    limits = found.design.job.season
    is_beyond = (
        air.night_degc < limits.coldest_degc if kind == "cold" else air.afternoon_degc > limits.hottest_degc
    )
    if is_beyond:
        yield _beyond(found, study, air)


def _air(
    found: Assessment, sun: SunSeries, daily: DailyWeather | None, *, kind: Kind, spell: Spell
) -> SpellAir | None:
    """Return night and afternoon of a spell; what is not written keeps the range of the season's days."""
    if spell.worse_frac is not None:
        if daily is None or not daily.max_degc.size:
            return None
        told = spell_of_runs(daily, kind, day_count=spell.day_count, worse_frac=spell.worse_frac)
        warmer_k = found.design.job.season.warmer_k
        return SpellAir(told.night_degc + warmer_k, told.afternoon_degc + warmer_k)
    by_day = sun.ambient_degc.reshape(sun.day_count, -1)
    range_k = float((by_day.max(axis=1) - by_day.min(axis=1)).mean())
    if spell.night_degc is not None:
        other = spell.afternoon_degc
        return SpellAir(spell.night_degc, spell.night_degc + range_k if other is None else other)
    assert spell.afternoon_degc is not None  # noqa: S101 - resolving refuses a spell without any figure
    return SpellAir(spell.afternoon_degc - range_k, spell.afternoon_degc)


def _worst_study(found: Assessment, sun: SunSeries, air: SpellAir, *, kind: Kind, asked: _Asked) -> _Study:
    """Return the use with the spell where it leaves the smallest margin."""
    design, network, spell = found.design, found.network, asked.spell
    days = len(design.days)
    count = min(spell.day_count, days)
    whole = sun if sun.day_count == days else repeated(sun, days)
    starts = np.unique(np.linspace(0, days - count, min(MOST_STARTS, days - count + 1)).round().astype(int))
    boxes = box_air(design, network.peak_a)
    firsts = starts.tolist()
    cases = [
        (design, with_spell(whole, air, first=first, day_count=count, sun_factor=spell.sun_factor))
        for first in firsts
    ]
    energies = energy_results(cases, path_ohm=network.path_ohm, box_air=boxes)
    studies = [
        _Study(
            kind=kind,
            title=_title(found, air, kind=kind, asked=asked, count=count),
            first=first,
            day_count=count,
            energy=energy,
            margin_frac=run_out(design, energy).margin_frac,
            is_rare=spell.worse_frac is not None,
        )
        for first, energy in zip(firsts, energies, strict=True)
    ]
    return min(studies, key=lambda study: study.margin_frac)


def _title(found: Assessment, air: SpellAir, *, kind: Kind, asked: _Asked, count: int) -> Said:
    text = partial(temperature_text, found.design)
    filled = {"night": text(air.night_degc), "day": text(air.afternoon_degc)}
    course = (
        said("{night} at night and {day} by day for {days} days", days=count, **filled)
        if count > 1
        else said("{night} at night and {day} by day for one day", **filled)
    )
    title = (
        said("Cold spell, {course}", course=course)
        if kind == "cold"
        else said("Hot spell, {course}", course=course)
    )
    worse_frac = asked.spell.worse_frac
    if worse_frac is None:
        return title
    counted = said("real years") if asked.counted == "real years" else said("runs")
    return said(
        "{title} ({share:.0f} % of the {runs} have a worse one)",
        title=title,
        share=100 * worse_frac,
        runs=counted,
    )


def _finding(study: _Study, severity: Severity, subject: str, message: str, **more: object) -> Finding:
    return Finding(
        rule=f"{study.kind}-spell",
        group=Group.USE,
        severity=severity,
        subject=subject,
        message=message,
        **{"source": own_choice("spell-place"), **more},  # type: ignore[arg-type]
    )


def _loads(found: Assessment, study: _Study) -> Finding:
    """Return whether every essential load is served, and which is not."""
    failing = failures(found.design, study.energy)
    before = np.asarray(failures(found.design, found.energy).any(axis=0), np.bool_)
    essential = [load for load in found.design.loads if load.is_essential]
    short = [load for load in essential if failing[:, load.index].any() and not before[load.index]]
    start = said(
        "{title}, from day {day} on, where it does most harm", title=study.title, day=study.first + 1
    )
    if not short:
        rest = (
            said("no essential load fails that does not fail without it")
            if any(before[load.index] for load in essential)
            else said("all essential loads are served")
        )
        return _finding(study, Severity.PASS, "loads", said("{spell}: {rest}.", spell=start, rest=rest))
    first = min(short, key=lambda load: int(np.argmax(failing[:, load.index])))
    filled = {
        "spell": start,
        "load": first.name,
        "when": moment_text(study.energy, int(np.argmax(failing[:, first.index]))),
    }
    return _finding(
        study,
        Severity.CONDITION if study.is_rare else Severity.FAIL,
        "loads",
        said("{spell}: {load} fails {when}, and {others} more.", others=len(short) - 1, **filled)
        if len(short) > 1
        else said("{spell}: {load} fails {when}.", **filled),
        way_out=said(
            "A heated battery or a warmer place for it, more charge by engine or mains, or a larger battery."
        )
        if study.kind == "cold"
        else said("A cooler place for refrigerator and battery, shade, more panels or a larger battery."),
    )


def _battery(found: Assessment, study: _Study) -> Finding:
    """Return how cold or warm the cells get, for how long they refuse charge, and what the heater takes."""
    battery, energy = found.design.battery_part(), study.energy
    cells = energy.cell_degc[study.steps]
    could = energy.source_possible_w[study.steps].sum(axis=1) > 0.0
    text = partial(temperature_text, found.design)
    name = found.design.parts[found.design.battery].id
    if study.kind == "cold":
        extreme, limit = float(cells.min()), battery.charge_min_degc
        refused = cells < limit
        seen = said("cells down to {degc}, charging from {limit} on", degc=text(extreme), limit=text(limit))
    else:
        extreme, limit = float(cells.max()), battery.charge_max_degc
        refused = cells > limit
        seen = said("cells up to {degc}, charging up to {limit}", degc=text(extreme), limit=text(limit))
    refused_h = float(np.count_nonzero(refused & could)) * energy.step_h
    if refused_h:
        seen = said(
            "{cells}; for {hours:.0f} h a charger could give and the cells refuse",
            cells=seen,
            hours=refused_h,
        )
    message = said("{title}: {name}: {cells}.", title=study.title, name=name, cells=seen)
    heater_wh = max(energy.ledger.heater_wh - found.energy.ledger.heater_wh, 0.0)
    if study.kind == "cold" and battery.heater_w > 0.0:
        heater = said("Its heater takes {wh:.0f} Wh more over the use than without the spell.", wh=heater_wh)
        message = said_together((message, heater))
    return _finding(
        study,
        Severity.ADVICE if refused_h else Severity.PASS,
        name,
        message,
        value=extreme,
        limit=limit,
        unit="°C",
        at_most=study.kind == "hot",
        source=part_source(battery),
        way_out="" if not refused_h else _battery_way_out(study.kind, has_heater=battery.heater_w > 0.0),
    )


def _battery_way_out(kind: Kind, *, has_heater: bool) -> Said:
    if kind == "hot":
        return said("A cooler, shaded or ventilated place for the battery.")
    if has_heater:
        return said("A warmer place, or more power for its heater.")
    return said("A heated battery, or a warmer place for it.")


def _refrigerators(found: Assessment, study: _Study) -> Iterator[Finding]:
    """Return the draw and the contents of each refrigerator in a hot spell; in a cold one where contents may freeze."""
    for column, index in enumerate(study.energy.fridge_loads):
        load = found.design.loads[index]
        used = study.energy.fridge_is_used[study.steps, column]
        if not used.any():
            continue
        degc = study.energy.fridge_degc[study.steps, column][used]
        bottom, top = load.contents_low_degc, load.contents_high_degc
        is_out = (top is not None and degc.max() > top) or (bottom is not None and degc.min() < bottom)
        if study.kind == "cold" and not is_out:
            continue
        mean_wh = float(found.energy.load_wh_per_day[index])
        text = partial(temperature_text, found.design)
        yield _finding(
            study,
            (Severity.CONDITION if study.is_rare else Severity.FAIL) if is_out else Severity.PASS,
            load.id,
            said(
                "{title}: {load} takes {wh:.0f} Wh a day instead of {mean:.0f} Wh; contents {low} to {high}{allowed}.",
                title=study.title,
                load=load.name,
                wh=float(study.energy.load_w[study.steps, index].mean()) * 24.0,
                mean=mean_wh,
                low=text(float(degc.min())),
                high=text(float(degc.max())),
                allowed=said("; allowed {range}", range=range_text(found.design, load))
                if has_limits(load)
                else "",
            ),
            way_out=said("A cooler place or a better insulated refrigerator.") if is_out else "",
            caution=said("Contents that left their range must not be used without asking who is responsible.")
            if is_out
            else "",
        )


def _beyond(found: Assessment, study: _Study, air: SpellAir) -> Finding:
    """Return that a spell by how rare it is goes beyond what panels, cables and charging are reckoned with."""
    season, text = found.design.job.season, partial(temperature_text, found.design)
    is_cold = study.kind == "cold"
    spell, stated = (
        (air.night_degc, season.coldest_degc) if is_cold else (air.afternoon_degc, season.hottest_degc)
    )
    field = "coldest_degc" if is_cold else "hottest_degc"
    return _finding(
        study,
        Severity.CONDITION,
        "season",
        said(
            "{title}, but {field} is {stated}: panel voltage, cables and charging are not reckoned for it.",
            title=study.title,
            field=field,
            stated=text(stated),
        ),
        value=spell,
        limit=stated,
        unit="°C",
        at_most=not is_cold,
        way_out=said("Set {field} to {degc:.0f} or beyond.", field=field, degc=spell),
    )
