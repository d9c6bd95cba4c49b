"""Rules of small and of split supplies: what starts behind a generator, and what hangs on which leg of 120/240 V."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.assessment.mains_side import (
    NO_OVERRIDE,
    MainsSide,
    is_handed_over,
    mains_finding,
    mains_load_by_inverter_va,
    mains_load_va,
    mains_side,
    number,
    open_questions,
)
from ampwright.assessment.mains_supply import altitude_factor, chargers_input_va, supply_rating_a
from ampwright.assessment.rule import Rule, Studies
from ampwright.findings import Finding, Group, Severity
from ampwright.job.consumer import Load
from ampwright.job.design import Design
from ampwright.job.mains import MainsSupply
from ampwright.network.loads import load_sets
from ampwright.said import capital, said, said_together
from ampwright.sources import Source

__all__ = ["GENERATOR_START", "MAINS_LEGS"]

WIRING = Group.WIRING
JOB = Source(document="job file", place="mains.supply")
SPLIT_PLUG = "nema-14-50"
LEG_V = 120.0
"""Nominal voltage of one leg (ANSI C84.1, second hand)."""
BOTH_LEGS_V = 200.0
"""A device for more than this stands between the legs: 240 V, where 120 V is the other choice."""
LOOSE_NEUTRAL = said("A loose neutral puts up to 240 V on what is made for 120 V.")


def _generator_start(design: Design, _: Studies) -> Iterator[Finding]:
    side = mains_side(design)
    if side is None:
        return
    starting = _starting(design)
    for supply in side.said.supply:
        if supply.kind == "generator" and starting:
            yield _start_finding(design, side, supply, starting)


def _starting(design: Design) -> list[tuple[Load, float]]:
    """Return the handed-over loads that have a motor or say how they start, with their running volt-amperes."""
    written = {load.id: load for load in design.job.load}
    together = {index for one in load_sets(design, states=("hooked-up",)) for index in one.loads}
    return [
        (written[load.id], load.peak_w / load.power_factor / load.count)
        for load in design.loads
        if load.index in together
        and load.id in written
        and is_handed_over(design, load.inverter)
        and (written[load.id].start_va is not None or written[load.id].has_motor)
    ]


def _start_finding(
    design: Design, side: MainsSide, supply: MainsSupply, starting: list[tuple[Load, float]]
) -> Finding:
    make = mains_finding("generator-start", supply.name or supply.kind)
    label_va = number(supply.starting_va) or number(supply.rating_va)
    unsaid = [load.id for load, _ in starting if load.start_va is None]
    asked = (
        [said("what {unsaid} ask while they start", unsaid=said_together(unsaid, between=", "))]
        if unsaid
        else []
    )
    asked += [said("the generator's power in VA")] if label_va is None else []
    if asked or label_va is None:
        return open_questions(make, asked)
    gives_va = label_va * altitude_factor(design)
    running_va = chargers_input_va(side) + mains_load_va(design)
    most, own_va = max(starting, key=_rise_va)
    wanted_va = running_va + (number(most.start_va) or 0.0) - own_va
    is_over = wanted_va > gives_va
    power = (
        said("for a start")
        if supply.starting_va is not None
        else said("running; what it gives for a start is not said")
    )
    return make(
        severity=Severity.CONDITION if is_over else Severity.PASS,
        message=said(
            "{most} starts while the rest runs: {wanted_va:.0f} VA for a moment; the generator gives "
            "{gives_va:.0f} VA {power}.",
            most=most.id,
            wanted_va=wanted_va,
            gives_va=gives_va,
            power=power,
        ),
        value=wanted_va,
        limit=gives_va,
        unit="VA",
        source=JOB,
        way_out=said(
            "Start {most} first and the chargers after it, fit a soft start, or use a larger generator.",
            most=most.id,
        )
        if is_over
        else "",
        caution=said("Exhaust kills without smell: run it outside, far from windows and doors."),
    )


def _rise_va(entry: tuple[Load, float]) -> float:
    load, own_va = entry
    return (number(load.start_va) or 0.0) - own_va


def _mains_legs(design: Design, _: Studies) -> Iterator[Finding]:
    side = mains_side(design)
    if side is None or not _is_split(side):
        return
    on_it = _asked_a(design, side)
    told = {name for leg in side.said.leg for name in leg.feeds}
    unsaid = sorted(name for name, (_, is_both) in on_it.items() if not is_both and name not in told)
    for supply in side.said.supply:
        make = mains_finding("mains-legs", supply.name or supply.kind)
        limit_a = min(
            [
                *((rating,) if (rating := supply_rating_a(design, supply)) is not None else ()),
                *(inlet.rating_a for _, inlet in side.inlets),
            ],
            default=None,
        )
        count = supply.leg_count or (2 if supply.socket == SPLIT_PLUG else None)
        asked = (
            [said("which leg feeds {unsaid}", unsaid=said_together(unsaid, between=", "))]
            if unsaid and count != 1
            else []
        )
        asked += [said("how many legs the supply has")] if count is None else []
        asked += [said("the rating of the supply")] if limit_a is None else []
        if asked or limit_a is None or count is None:
            yield open_questions(make, asked)
        else:
            yield _leg_finding(side, supply, on_it, count=count, limit_a=limit_a)


def _is_split(side: MainsSide) -> bool:
    sockets = {supply.socket for supply in side.said.supply}
    return (
        side.said.inlet_plug == SPLIT_PLUG
        or SPLIT_PLUG in sockets
        or any(supply.leg_count == 2 for supply in side.said.supply)
    )


def _asked_a(design: Design, side: MainsSide) -> dict[str, tuple[float, bool]]:
    """Return what each charger and inverter asks of a leg, and whether it stands between both."""
    found = {
        charger.placed.id: (charger.current_a, charger.mains_v > BOTH_LEGS_V) for charger in side.chargers
    }
    for name, load_va in mains_load_by_inverter_va(design).items():
        before_a, is_both = found.get(name, (0.0, False))
        found[name] = (before_a + load_va / (2.0 * LEG_V if is_both else LEG_V), is_both)
    return found


def _leg_finding(
    side: MainsSide, supply: MainsSupply, on_it: dict[str, tuple[float, bool]], *, count: int, limit_a: float
) -> Finding:
    both_a = sum(current_a for current_a, is_both in on_it.values() if is_both)
    legs = {
        number_: both_a
        + sum(
            on_it[name][0]
            for leg in side.said.leg
            if leg.number == number_
            for name in leg.feeds
            if name in on_it and not on_it[name][1]
        )
        for number_ in (1, 2)
    }
    if count == 1:
        legs = {1: sum(current_a for current_a, _ in on_it.values())}
    fullest = max(legs, key=legs.__getitem__)
    is_over = legs[fullest] > limit_a
    parts = said_together(
        (
            said("leg {number_} {current_a:.1f} A", number_=number_, current_a=current_a)
            for number_, current_a in legs.items()
        ),
        between=", ",
    )
    how = (
        said("{parts} of {limit_a:g} A each", parts=parts, limit_a=limit_a)
        if count == 2
        else said("one leg of {limit_a:g} A carries all: {parts}", limit_a=limit_a, parts=parts)
    )
    apart = both_a > 0.0 and count == 1
    return mains_finding("mains-legs", supply.name or supply.kind)(
        severity=Severity.CONDITION if is_over or apart else Severity.PASS,
        message=capital(how)
        + "."
        + (said(" What is made for 240 V gets none there.") if apart else "")
        + said(" {loose_neutral}", loose_neutral=LOOSE_NEUTRAL),
        value=legs[fullest],
        limit=limit_a,
        unit="A",
        source=JOB,
        way_out=(
            said("Move a charger to the other leg")
            if count == 2
            else said("Set the chargers' input limits lower")
        )
        + said(", or run less at once.")
        if is_over or apart
        else "",
    )


GENERATOR_START = Rule(
    name="generator-start",
    group=WIRING,
    asks="Does the generator start the largest motor while the rest runs?",
    check=_generator_start,
    no_override=NO_OVERRIDE,
)
MAINS_LEGS = Rule(
    name="mains-legs",
    group=WIRING,
    asks="Does each leg of a 120/240 V supply carry what hangs on it?",
    check=_mains_legs,
    no_override=NO_OVERRIDE,
)
