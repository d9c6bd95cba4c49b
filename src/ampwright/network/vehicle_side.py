"""The lasting corners on the side of the starter battery: alternator at its lowest, usual and highest voltage."""

from __future__ import annotations

import numpy as np

from ampwright.job.converters import placed_converters, sides_of
from ampwright.job.design import Design
from ampwright.job.nodes import SECOND_NODE, STARTER_NODE
from ampwright.job.supply import MAIN, SECOND, supply, supply_names
from ampwright.network.converted import demand_here
from ampwright.network.corner import Corner
from ampwright.network.corners import battery_full_v, battery_low_v, with_other_battery
from ampwright.network.demand import Demand, charger_input
from ampwright.network.loads import load_sets
from ampwright.network.result import FloatArray
from ampwright.network.situations import Situation
from ampwright.network.sweep import tree_point
from ampwright.network.tree import Tree
from ampwright.parts.charger import AlternatorCharger
from ampwright.said import said

__all__ = ["other_battery_states", "starter_loads", "vehicle_corners"]


STARTER_FULL_FRAC = 12.8 / 12.0
"""Rest voltage of a full lead-acid starter battery over nominal (docs/choices.md#alternator-into-a-battery)."""
HALVINGS = 30
"""Halvings of the alternator's voltage, to 1e-8 V."""


def vehicle_corners(design: Design, here: Situation, ohm: FloatArray) -> tuple[Corner, ...]:
    """Return the engine running at each voltage of the alternator, every alternator charger at full output.

    Where the auxiliary battery is joined to this side it charges from empty, limited by resistance and by
    the alternator's label; and,
    full, it feeds back into an alternator that is held low.
    """
    return tuple(
        corner
        for name, node in ((MAIN, STARTER_NODE), (SECOND, SECOND_NODE))
        if name in supply_names(design)
        for corner in _corners_of(design, here, ohm, name=name, node=node)
    )


def _corners_of(
    design: Design, here: Situation, ohm: FloatArray, *, name: str, node: str
) -> tuple[Corner, ...]:
    """Return those of one alternator and the island that hangs on its node."""
    tree = here.forest.tree(design.node_of(node))
    if tree is None:
        return ()
    vehicle = supply(design, name)
    voltages = (
        (said("lowest"), vehicle.alternator_low_v),
        (said("usual"), vehicle.alternator_v),
        (said("highest"), vehicle.alternator_high_v),
    )
    found: list[Corner] = []
    for loads in starter_loads(design, here, tree):
        demand = demand_here(design, here, loads)
        for state, open_v in other_battery_states(design, tree):
            joined = with_other_battery(design, tree, demand, open_v)
            for word, source_v in voltages:
                held_v = _held_v(design, (tree, ohm), joined, source_v)
                found.append(
                    Corner(
                        name=said(
                            "engine running, {name} at its {word} voltage{suffix}{state}",
                            name=said(name),
                            word=word,
                            suffix=here.suffix,
                            state=state,
                        ),
                        sources=((tree, held_v),),
                        demand=_with_chargers(design, here, (tree, ohm), joined, held_v),
                    )
                )
    return tuple(found)


def _held_v(design: Design, wiring: tuple[Tree, FloatArray], demand: Demand, source_v: float) -> float:
    """Return the voltage an alternator holds into a joined battery: it sinks where its whole label is taken.

    It never sinks below its starter battery at rest, which then helps, and chargers beside
    the join count as off for it (docs/choices.md#alternator-into-a-battery).
    """
    tree, ohm = wiring
    vehicle = design.vehicle
    floor_v = STARTER_FULL_FRAC * vehicle.system_v
    if tree.other_battery < 0 or source_v <= floor_v:
        return source_v
    limit_a = max(vehicle.alternator_a - vehicle.own_load_day_a, 0.0)

    def is_more(volts: float) -> bool:
        point = tree_point(tree, ohm, demand=demand, source_v=volts)
        return not point.is_found or float(point.branch_a[0]) > limit_a

    if not is_more(source_v):
        return source_v
    low_v, high_v = floor_v, source_v
    for _ in range(HALVINGS):
        middle_v = 0.5 * (low_v + high_v)
        low_v, high_v = (low_v, middle_v) if is_more(middle_v) else (middle_v, high_v)
    return low_v


def other_battery_states(design: Design, tree: Tree) -> tuple[tuple[str, float], ...]:
    """Return in words and volts how full an auxiliary battery joined to this side may be."""
    if tree.other_battery < 0:
        return (("", battery_low_v(design)),)
    return (("", battery_low_v(design)), (said(", auxiliary battery full"), battery_full_v(design)))


def starter_loads(design: Design, here: Situation, tree: Tree) -> tuple[tuple[int, ...], ...]:
    """Return the largest sets of loads in the island of the starter battery that can run together."""
    nodes = {*tree.nodes.tolist(), *_behind(design, tree)}
    sets = load_sets(design, here.present) if here.is_planned else ()
    projected = {tuple(i for i in one.loads if design.loads[i].node in nodes) for one in sets} or {()}
    return tuple(sorted(one for one in projected if not any(set(one) < set(other) for other in projected)))


def _behind(design: Design, tree: Tree) -> tuple[int, ...]:
    """Return the nodes that converters of this island feed."""
    found: set[int] = set(tree.nodes.tolist())
    sides = sides_of(design)
    for placed, _ in placed_converters(design):
        if design.node_of(f"{placed.id}.in") in found:
            found |= {node for node in range(len(design.nodes)) if sides.behind(node, placed.index)}
    return tuple(found)


def _with_chargers(
    design: Design, here: Situation, wiring: tuple[Tree, FloatArray], loads: Demand, source_v: float
) -> Demand:
    """Add the inputs of the alternator chargers: constant power, or the set limit where that is reached."""
    tree, ohm = wiring
    inputs = [
        (design.node_of(f"{placed.id}.in"), *charger_input(placed, part))
        for placed, part in design.placed(AlternatorCharger)
        if placed.part_of in here.present
    ]
    limited: set[int] = set()
    while True:
        demand = Demand(
            power_w=loads.power_w.copy(),
            current_a=loads.current_a.copy(),
            conductance_siemens=loads.conductance_siemens,
        )
        for position, (node, power_w, limit_a) in enumerate(inputs):
            if position in limited and limit_a is not None:
                demand.current_a[node] += limit_a
            else:
                demand.power_w[node] += power_w
        point = tree_point(tree, ohm, demand=demand, source_v=source_v)
        node_v = np.full(len(design.nodes), np.nan)
        node_v[tree.nodes] = point.node_v
        reached = {
            position
            for position, (node, power_w, limit_a) in enumerate(inputs)
            if limit_a is not None and not node_v[node] * limit_a >= power_w
        }
        if reached <= limited:
            return demand
        limited |= reached
