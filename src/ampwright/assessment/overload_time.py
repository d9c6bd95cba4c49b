"""Rule on the inverter's overload as a budget: it says how long it lasts and which pauses it needs.

What runs by the clock may always be on; what is used by hand has its minutes, its order is not known. The worse
arrangement is taken: everything of a set together, its uses one straight after another, all ending together.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from functools import partial

from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import temperature_text
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design, DesignPart
from ampwright.job.design_use import DesignLoad, DesignWhen
from ampwright.job.quantity import span
from ampwright.network.heat import output_frac
from ampwright.network.loads import load_sets
from ampwright.parts.inverter import Inverter
from ampwright.parts.inverter_overload import (
    OVERLOAD_SOURCE,
    Stretch,
    ThermalBudget,
    highest_start_level,
    level_after,
    overload_budget,
    pause_s,
    time_to_limit_s,
)
from ampwright.records import record
from ampwright.said import said, said_together

__all__ = ["INVERTER_OVERLOAD_TIME"]

PEAK_S = 60.0
"""How long a peak above a load's power is taken to last (docs/choices.md#inverter-peak-minute)."""
MINUTES_PER_DAY = 1440


@record
class _Ask:
    """What one load asks of the inverter."""

    load: DesignLoad
    """The load."""
    use_s: float
    """One use, or all of its time where it runs by the clock."""
    train_s: float
    """All its uses of a stretch, one straight after another."""
    gap_s: float
    """Mean pause between its uses; infinite where there is one use."""
    is_by_clock: bool
    """True where no use by hand is described."""


@record
class _Case:
    """One set of loads that can run together on one inverter."""

    budget: ThermalBudget
    """The inverter's budget."""
    when: str
    """First time they can."""
    steady: tuple[_Ask, ...]
    """Loads that run by the clock."""
    used: tuple[_Ask, ...]
    """Loads used by hand."""

    @property
    def steady_ratio(self) -> float:
        """Load of what runs by the clock, peaks left out."""
        return self.budget.ratio(
            sum(ask.load.power_w for ask in self.steady),
            sum(ask.load.power_w / ask.load.power_factor for ask in self.steady),
        )


def _inverter_overload_time(design: Design, studies: Studies) -> Iterator[Finding]:
    sets = load_sets(design)
    for placed, part in design.placed(Inverter):
        if not any(load.inverter == placed.index for load in design.loads):
            continue
        air_degc = _air_degc(design, studies, placed)
        share = output_frac(part, air_degc)
        make = partial(
            Finding,
            rule="inverter-overload-time",
            group=Group.USE,
            subject=placed.id,
            source=OVERLOAD_SOURCE,
        )
        if share <= 0.0:
            yield make(
                severity=Severity.NOT_CHECKED,
                message=said(
                    "{part}: in air of {temperature} it may give nothing at all.",
                    part=placed.id,
                    temperature=temperature_text(design, air_degc),
                ),
                way_out=said("Mount it in a cooler place."),
            )
            continue
        budget = overload_budget(part, output_frac=share)
        gives = said(
            "In air of {temperature} {part} gives {continuous_w:.0f} W for long",
            temperature=temperature_text(design, air_degc),
            part=placed.id,
            continuous_w=budget.continuous_w,
        )
        cases = [
            case
            for one in sets
            if (case := _case(design, placed, one.loads, one.when, budget)).used or case.steady
        ]
        yield _verdict(make, gives, cases, part)


def _air_degc(design: Design, studies: Studies, placed: DesignPart) -> float:
    """Return the air an inverter stands in: its enclosure's, its zone's, else the hottest outside."""
    for box in studies.heat:
        if box.part == placed.inside:
            return box.air_degc
    return placed.zone.ambient_max_degc if placed.zone else design.job.season.hottest_degc


def _case(
    design: Design, placed: DesignPart, loads: Iterable[int], when: str, budget: ThermalBudget
) -> _Case:
    own = [_ask(design.loads[index]) for index in loads if design.loads[index].inverter == placed.index]
    return _Case(
        budget=budget,
        when=when,
        steady=tuple(ask for ask in own if ask.is_by_clock),
        used=tuple(ask for ask in own if not ask.is_by_clock),
    )


def _ask(load: DesignLoad) -> _Ask:
    by_hand = [_hand_use(when) for when in load.when if when.written.uses is not None]
    if len(by_hand) < len(load.when):
        longest_s = max(60.0 * _window_min(when) for when in load.when)
        return _Ask(load=load, use_s=longest_s, train_s=longest_s, gap_s=math.inf, is_by_clock=True)
    return _Ask(
        load=load,
        use_s=max(use_s for use_s, _, _ in by_hand),
        train_s=max(train_s for _, train_s, _ in by_hand),
        gap_s=min(gap_s for _, _, gap_s in by_hand),
        is_by_clock=False,
    )


def _hand_use(when: DesignWhen) -> tuple[float, float, float]:
    """Return one use, all of them, and the mean pause between them, in seconds."""
    minutes = when.written.use_minutes
    use_s = 60.0 * (span(minutes)[1] if minutes is not None else 0.0)
    count = when.written.uses or 1
    spare_s = max(60.0 * _window_min(when) - count * use_s, 0.0)
    return use_s, count * use_s, spare_s / (count - 1) if count > 1 else math.inf


def _window_min(when: DesignWhen) -> float:
    length = when.end_min - when.start_min
    return float(length if length > 0 else length + MINUTES_PER_DAY)


def _stretches(case: _Case, chosen: Iterable[tuple[_Ask, float]]) -> tuple[Stretch, ...]:
    """Return some loads over what runs by the clock, the longest first, all ending together at their peaks."""
    blocks = [(lasts_s, ask.load.power_w, ask.load.power_factor) for ask, lasts_s in chosen]
    blocks += [
        (min(lasts_s, PEAK_S), ask.load.peak_w - ask.load.power_w, ask.load.power_factor)
        for ask, lasts_s in (*chosen, *((ask, ask.use_s) for ask in case.steady))
        if ask.load.peak_w > ask.load.power_w
    ]
    power_w = sum(ask.load.power_w for ask in case.steady)
    power_va = sum(ask.load.power_w / ask.load.power_factor for ask in case.steady)
    blocks.sort(reverse=True)
    found = []
    for position, (lasts_s, block_w, factor) in enumerate(blocks):
        power_w, power_va = power_w + block_w, power_va + block_w / factor
        next_s = blocks[position + 1][0] if position + 1 < len(blocks) else 0.0
        if lasts_s > next_s:
            found.append(Stretch(lasts_s=lasts_s - next_s, load_factor=case.budget.ratio(power_w, power_va)))
    return tuple(found)


@record
class _Over:
    """A use, or several, that spend the budget too early."""

    case: _Case
    """When."""
    asks: tuple[_Ask, ...]
    """What runs."""
    lasts_s: float
    """How long it holds."""
    wanted_s: float
    """How long it is asked for."""


def _over(case: _Case, chosen: tuple[tuple[_Ask, float], ...]) -> _Over | None:
    """Return what is over where these loads spend the budget; none where it holds or rises at once too high."""
    stretches = _stretches(case, chosen)
    held_s = time_to_limit_s(case.budget, stretches, start=min(case.steady_ratio**2, 1.0))
    if math.isinf(held_s):
        return None
    return _Over(
        case=case,
        asks=tuple(ask for ask, _ in chosen) or case.steady,
        lasts_s=held_s,
        wanted_s=sum(stretch.lasts_s for stretch in stretches),
    )


def _verdict(make: partial[Finding], gives: str, cases: list[_Case], part: Inverter) -> Finding:
    cases = [case for case in cases if _is_within_overload(case.steady, part)]
    steady = [case for case in cases if case.steady_ratio > 1.0]
    if steady:
        return _steady_finding(make, gives, max(steady, key=lambda case: case.steady_ratio))
    singles = [
        over
        for case in cases
        for chosen in ((), *((ask,) for ask in case.used))
        if _is_within_overload((*case.steady, *chosen), part)
        and (over := _over(case, tuple((ask, ask.use_s) for ask in chosen))) is not None
    ]
    if singles:
        return _single_finding(make, gives, min(singles, key=_single_weight))
    whole = [case for case in cases if _is_within_overload((*case.steady, *case.used), part)]
    together = [
        over
        for case in whole
        if (over := _over(case, tuple((ask, ask.train_s) for ask in case.used))) is not None
    ]
    if together:
        return _pause_finding(make, gives, min(together, key=lambda over: over.lasts_s))
    level = max((_level(case) for case in whole), default=0.0)
    left_out = (
        ""
        if len(whole) == len(cases)
        else said(" What exceeds its overload power at once is left to inverter-power.")
    )
    return make(
        severity=Severity.PASS,
        message=said(
            "{gives}; all its loads of a time together, uses straight after one another, bring its "
            "overload budget to {level:.0f} %.{left_out}",
            gives=gives,
            level=100 * level,
            left_out=left_out,
        ),
        value=100 * level,
        limit=100.0,
        unit="%",
    )


def _is_within_overload(asks: tuple[_Ask, ...], part: Inverter) -> bool:
    """Tell whether some loads at their peaks stay within the overload power; the rest is for inverter-power."""
    most_va = part.overload_w * part.continuous_va / part.continuous_w
    return (
        sum(ask.load.peak_w for ask in asks) <= part.overload_w
        and sum(ask.load.peak_w / ask.load.power_factor for ask in asks) <= most_va
    )


def _level(case: _Case) -> float:
    stretches = _stretches(case, tuple((ask, ask.train_s) for ask in case.used))
    start = case.steady_ratio**2
    return max(start, level_after(case.budget, stretches, start=start))


def _single_weight(over: _Over) -> tuple[bool, float]:
    return not any(ask.load.is_essential for ask in over.asks), over.lasts_s


def _steady_finding(make: partial[Finding], gives: str, case: _Case) -> Finding:
    loads = [ask.load for ask in case.steady]
    asked_w = sum(load.power_w for load in loads)
    asked_va = sum(load.power_w / load.power_factor for load in loads)
    is_watts = asked_w / case.budget.continuous_w >= asked_va / case.budget.continuous_va
    value, limit = (asked_w, case.budget.continuous_w) if is_watts else (asked_va, case.budget.continuous_va)
    unit = "W" if is_watts else "VA"
    return make(
        severity=Severity.FAIL if any(load.is_essential for load in loads) else Severity.CONDITION,
        message=said(
            "{gives}, {continuous_va:.0f} VA; {names} may take {value:.0f} {unit} for as long as they like.",
            gives=gives,
            continuous_va=case.budget.continuous_va,
            names=_names(loads),
            value=value,
            unit=unit,
        ),
        value=value,
        limit=limit,
        unit=unit,
        way_out=said("A larger inverter, a cooler place for it, or fewer loads at a time."),
    )


def _single_finding(make: partial[Finding], gives: str, over: _Over) -> Finding:
    loads = [ask.load for ask in over.asks]
    peak_w = sum(load.peak_w for load in loads)
    others = [ask.load for ask in over.case.steady if ask not in over.asks]
    beside = said(" beside {names}", names=_names(others)) if others else ""
    return make(
        severity=Severity.FAIL if any(load.is_essential for load in loads) else Severity.CONDITION,
        message=said(
            "{gives}; {names} with {peak_w:.0f} W{beside} would spend its overload in {time}, asked "
            "for {time_2}.",
            gives=gives,
            names=_names(loads),
            peak_w=peak_w,
            beside=beside,
            time=_time(over.lasts_s),
            time_2=_time(over.wanted_s),
        ),
        value=over.lasts_s,
        limit=over.wanted_s,
        unit="s",
        at_most=False,
        way_out=said("A larger inverter, a cooler place for it, a shorter use or a smaller load."),
    )


def _pause_finding(make: partial[Finding], gives: str, over: _Over) -> Finding:
    """Say which pause makes the uses fit one after another, where together or back to back they do not."""
    case = over.case
    wait_s, first, then = max(
        ((_pause_s(case, a, b), a, b) for a in case.used for b in case.used if a is not b or _repeats(a)),
        key=lambda found: found[0],
        default=(0.0, case.used[0], case.used[0]),
    )
    fits_once = _over(case, tuple((ask, ask.use_s) for ask in case.used)) is None
    is_easy = fits_once and all(wait_s <= ask.gap_s for ask in case.used)
    order = said("between two uses of") if first is then else said("between")
    names = (
        first.load.name
        if first is then
        else said("{name} and {name_2}", name=first.load.name, name_2=then.load.name)
    )
    way_out = (
        said(
            "One after another, with at least {time} {order} {names}; a shorter pause does not restore it.",
            time=_time(wait_s),
            order=order,
            names=names,
        )
        if wait_s > 0.0
        else said("One after another, not together.")
    )
    return make(
        severity=Severity.ADVICE if is_easy else Severity.CONDITION,
        message=said("{gives}; {names} ", gives=gives, names=_names(ask.load for ask in over.asks))
        + (said("straight after one another") if fits_once else said("together"))
        + said(
            " spend its overload in {time} (of {time_2}, order not known, the worst taken).",
            time=_time(over.lasts_s),
            time_2=_time(over.wanted_s),
        ),
        value=over.lasts_s,
        limit=over.wanted_s,
        unit="s",
        at_most=False,
        way_out=way_out,
    )


def _repeats(ask: _Ask) -> bool:
    return ask.train_s > ask.use_s


def _pause_s(case: _Case, first: _Ask, then: _Ask) -> float:
    """Return the pause between two uses, the first begun from rest, the loads on the clock going on."""
    rest = case.steady_ratio
    after = level_after(case.budget, _stretches(case, ((first, first.use_s),)), start=rest**2)
    wanted = highest_start_level(case.budget, _stretches(case, ((then, then.use_s),)))
    return pause_s(case.budget, level=after, wanted=wanted, rest_ratio=rest)


def _names(loads: Iterable[DesignLoad]) -> str:
    return said_together((load.name for load in loads), between=", ")


def _time(seconds: float) -> str:
    if seconds < 120.0:
        return said("{seconds:.0f} s", seconds=seconds)
    return (
        said("{seconds:.1f} min", seconds=seconds / 60.0)
        if seconds < 600.0
        else said("{seconds:.0f} min", seconds=seconds / 60.0)
    )


INVERTER_OVERLOAD_TIME = Rule(
    name="inverter-overload-time",
    group=Group.USE,
    asks="Does the inverter's overload last as long as its loads ask, and which pauses does it need?",
    check=_inverter_overload_time,
)
