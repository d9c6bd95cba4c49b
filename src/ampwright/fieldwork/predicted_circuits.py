"""Predicted readings of each circuit with its load alone on: current, drop, resistance of the loop, voltage at the device.

The drop is taken between the posts of the battery and the terminals of the device, so the battery's own sag is in neither
reading; drop over current is the resistance of the loop, whatever the load takes.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator
from functools import partial

from ampwright.assessment.result import Assessment
from ampwright.energy.bank import bank_table, rest_v
from ampwright.fieldwork.bench import Bench, FeedingSource, WayDrop, way_drop
from ampwright.fieldwork.predicted import PredictedTest
from ampwright.fieldwork.tolerance import (
    CLAMP,
    MULTIMETER,
    Contribution,
    combined_tolerance,
    reading_half_width,
)
from ampwright.fieldwork.two_batteries import shared_way
from ampwright.job.converters import placed_converters, sides_of
from ampwright.job.design import Design
from ampwright.job.nodes import STARTER_NODE
from ampwright.network.demand import load_current_a, load_demand
from ampwright.parts.inverter import Inverter
from ampwright.parts.inverter_loss import inverter_dc_w
from ampwright.records import record

__all__ = [
    "LOAD_FRAC",
    "NO_STEADY_VOLTAGE",
    "TEST_SOC_FRAC",
    "TWO_BATTERIES",
    "UNSOLVED",
    "WARM_UP_MINUTES",
    "battery_source",
    "circuit_tests",
    "loop_doubts",
]

TWO_BATTERIES = "two batteries"
NO_STEADY_VOLTAGE = "no steady voltage"
UNSOLVED = "unsolved"
"""Notes of a test: what feeds it, or why nothing is predicted."""
TEST_SOC_FRAC = 0.8
TEST_SOC_LOW_FRAC = 0.6
TEST_SOC_HIGH_FRAC = 0.95
"""Charge of the battery for these tests, and its edges (docs/choices.md#test-charge)."""
LOAD_FRAC = 0.25
"""How far a load's current may be from what the job says (docs/choices.md#test-doubts)."""
WARM_UP_MINUTES = 5.0
"""Minutes a load runs before it is read (docs/choices.md#test-charge)."""
CONVERTER_FRAC = 0.02
"""How far a converter's output may be from its label (docs/choices.md#test-doubts)."""
STARTER_CELL_V = 2.07
STARTER_CELL_HALF_V = 0.03
"""A lead-acid starter battery at rest, half charged to full: the open-circuit table of `energy`, flooded."""
LEAD_CELL_V = 2.0
VOLT_METERS_COUNT = 2
"""A drop is the difference of two readings, or one reading with a long lead that adds as much."""


@record
class _Target:
    """A device under test with the loads that come on with it."""

    subject: str
    """Id of the load or inverter."""
    node: int
    """Where its voltage is read."""
    loads: tuple[int, ...]
    """Indices of the loads that are on."""
    is_alone: bool
    """True when nothing else on its way carries current."""


def battery_source(design: Design) -> FeedingSource:
    """Return the auxiliary battery as the tests find it."""
    low, here, high = (
        rest_v(design, frac) for frac in (TEST_SOC_LOW_FRAC, TEST_SOC_FRAC, TEST_SOC_HIGH_FRAC)
    )
    return FeedingSource(
        rest_v=here, half_v=max(high - here, here - low), resistance_ohm=bank_table(design).resistance_ohm
    )


def circuit_tests(found: Assessment, bench: Bench) -> Iterator[PredictedTest]:
    """Yield the readings of each wired load, and of each inverter with its heaviest load."""
    for each in _targets(found):
        target, note = each, ""
        source = _source(found, target.node)
        if bench.joined_island(target.node) is not None:
            # drop over current is no resistance where the current comes from two sides
            target, note = dataclasses.replace(each, is_alone=False), TWO_BATTERIES
            source = battery_source(found.design)
        way = None if source is None else _loaded_way(found, bench, target, source)
        make = partial(
            PredictedTest,
            subject=target.subject,
            at=found.design.nodes[target.node],
            source_node=_source_node(found, target.node),
            state="load",
            switched_on=tuple(found.design.loads[index].id for index in target.loads),
            warm_up_minutes=WARM_UP_MINUTES,
        )
        if source is None or way is None:
            why = NO_STEADY_VOLTAGE if bench.is_solvable(target.node) else UNSOLVED
            yield make(kind="voltage-drop", unit="V", expected=None, note=why)
        else:
            taken_a = _taken_a(found.design, target, way.at_v)
            yield from _readings(partial(make, load_a=taken_a, note=note), target, way, source)


def _targets(found: Assessment) -> Iterator[_Target]:
    design, root = found.design, found.network.root
    for group in found.network.alone:
        nodes = dict.fromkeys(design.loads[index].node for index in group.loads)
        for node in nodes:
            here = [index for index in group.loads if design.loads[index].node == node]
            subject = design.loads[here[0]].id if len(here) == 1 else design.nodes[node]
            yield _Target(subject=subject, node=node, loads=group.loads, is_alone=len(nodes) == 1)
    grouped = {index for group in found.network.alone for index in group.loads}
    for load in design.loads:
        if load.node >= 0 and load.index not in grouped and root[load.node] >= 0:
            yield _Target(subject=load.id, node=load.node, loads=(load.index,), is_alone=True)
    for placed, _ in design.placed(Inverter):
        node = design.node_of(placed.id)
        fed = [load for load in design.loads if load.inverter == placed.index]
        if fed and root[node] >= 0:
            heaviest = max(fed, key=lambda load: load.peak_w)
            yield _Target(subject=placed.id, node=node, loads=(heaviest.index,), is_alone=True)


def _source(found: Assessment, node: int) -> FeedingSource | None:
    """Return what feeds a node; None where it is neither a battery nor a converter."""
    design = found.design
    root = int(found.network.root[node])
    if root == design.node_of(design.parts[design.battery].id):
        return battery_source(design)
    if root == design.node_of(STARTER_NODE):
        cells = design.vehicle.system_v / LEAD_CELL_V
        return FeedingSource(
            rest_v=STARTER_CELL_V * cells,
            half_v=STARTER_CELL_HALF_V * cells,
            resistance_ohm=design.vehicle.starter_resistance_ohm,
        )
    for placed, converter in placed_converters(design):
        if root == design.node_of(f"{placed.id}.out"):
            half_v = CONVERTER_FRAC * converter.output_v
            return FeedingSource(rest_v=converter.output_v, half_v=half_v, resistance_ohm=0.0, cause="device")
    return None


def _source_node(found: Assessment, node: int) -> str:
    """Return the terminals of the converter that feeds a node; empty for a battery."""
    name = found.design.nodes[int(found.network.root[node])]
    return name if any(name == f"{placed.id}.out" for placed, _ in placed_converters(found.design)) else ""


def _loaded_way(found: Assessment, bench: Bench, target: _Target, source: FeedingSource) -> WayDrop | None:
    """Return the way to a device, the source sagging by its own resistance under the load."""
    demand = load_demand(found.design, found.network.root, target.loads)
    if bench.joined_island(target.node) is not None:
        return shared_way(bench, target.node, demand=demand, source=source)
    first = way_drop(bench, target.node, demand=demand, source_v=source.rest_v)
    if first is None:
        return None
    sag_v = source.resistance_ohm * _taken_a(found.design, target, first.at_v)
    return way_drop(bench, target.node, demand=demand, source_v=source.rest_v - sag_v)


def _taken_a(design: Design, target: _Target, at_v: float) -> float:
    here = [design.loads[index] for index in target.loads if design.loads[index].node == target.node]
    if here:
        nominal_v = sides_of(design).nominal_at(target.node, design.system_v)
        return sum(load_current_a(load, at_v, nominal_v) for load in here)
    inverter = next(part for placed, part in design.placed(Inverter) if placed.id == target.subject)
    ac_w = sum(design.loads[index].peak_w for index in target.loads)
    return inverter_dc_w(inverter, min(ac_w, inverter.overload_w)) / at_v


def _readings(
    make: partial[PredictedTest], target: _Target, way: WayDrop, source: FeedingSource
) -> Iterator[PredictedTest]:
    taken_a = float(make.keywords["load_a"])
    current = (
        Contribution(cause="instrument", half_width=reading_half_width(CLAMP, taken_a)),
        Contribution(cause="load", half_width=LOAD_FRAC * taken_a),
    )
    spread_a = combined_tolerance(current)
    yield make(
        kind="load-current",
        unit="A",
        expected=taken_a,
        contributions=current,
        low=taken_a - spread_a,
        high=taken_a + spread_a,
    )
    drop_half_v = VOLT_METERS_COUNT * reading_half_width(MULTIMETER, way.drop_v)
    drop = (
        Contribution(cause="instrument", half_width=drop_half_v),
        *way.doubts,
        Contribution(cause="load", half_width=LOAD_FRAC * way.drop_v),
    )
    yield make(
        kind="voltage-drop",
        unit="V",
        expected=way.drop_v,
        contributions=drop,
        high=way.drop_v + combined_tolerance(drop),
    )
    if target.is_alone and taken_a > 0.0:
        ohm, doubts = loop_doubts(way, taken_a, drop_half_v)
        yield make(
            kind="loop-resistance",
            unit="Ω",
            expected=ohm,
            contributions=doubts,
            high=ohm + combined_tolerance(doubts),
        )
    sag_v = source.resistance_ohm * taken_a
    at = (
        Contribution(cause="instrument", half_width=reading_half_width(MULTIMETER, way.at_v)),
        *way.doubts,
        Contribution(cause="load", half_width=LOAD_FRAC * (way.drop_v + sag_v)),
        Contribution(cause=source.cause, half_width=source.half_v),
    )
    yield make(
        kind="device-voltage",
        unit="V",
        expected=way.at_v,
        contributions=at,
        low=way.at_v - combined_tolerance(at),
        high=way.at_v + combined_tolerance(at),
    )


def loop_doubts(way: WayDrop, current_a: float, drop_half_v: float) -> tuple[float, tuple[Contribution, ...]]:
    """Return the resistance drop over current gives, and what makes it doubtful: both meters, length, joints, temperature.

    JCGM 100:2008, 5.1.2 with y = V / I: the sensitivities are 1 / I and V / I².
    """
    ohm = way.drop_v / current_a
    by_current = ohm * reading_half_width(CLAMP, current_a) / current_a
    meters = math.hypot(drop_half_v / current_a, by_current)
    return ohm, (
        Contribution(cause="instrument", half_width=meters),
        *(Contribution(cause=each.cause, half_width=each.half_width / current_a) for each in way.doubts),
    )
