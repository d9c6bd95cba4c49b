"""The lasting corners on the side of the starter battery: alternator at its lowest, usual and highest voltage."""

from __future__ import annotations

import numpy as np

from ampwright.job.design import Design
from ampwright.job.nodes import STARTER_NODE
from ampwright.network.corners import Corner, battery_low_v, with_other_battery
from ampwright.network.demand import Demand, charger_input, load_demand
from ampwright.network.loads import load_sets
from ampwright.network.result import FloatArray
from ampwright.network.situations import Situation
from ampwright.network.sweep import tree_point
from ampwright.network.tree import Tree
from ampwright.parts.charger import AlternatorCharger

__all__ = ["starter_loads", "vehicle_corners"]


def vehicle_corners(design: Design, here: Situation, ohm: FloatArray) -> tuple[Corner, ...]:
    """Return the engine running at each voltage of the alternator, every alternator charger at full output.

    Where the auxiliary battery is joined to this side it charges from empty, without any limit but resistance.
    """
    vehicle = design.vehicle
    tree = here.forest.tree(design.node_of(STARTER_NODE))
    if tree is None or not vehicle.has_alternator:
        return ()
    voltages = (
        ("lowest", vehicle.alternator_low_v),
        ("usual", vehicle.alternator_v),
        ("highest", vehicle.alternator_high_v),
    )
    found: list[Corner] = []
    for loads in starter_loads(design, here, tree):
        demand = load_demand(design, here.forest.root, loads, present=here.present)
        joined = with_other_battery(design, tree, demand, battery_low_v(design))
        for name, source_v in voltages:
            found.append(
                Corner(
                    name=f"engine running, alternator at its {name} voltage{here.suffix}",
                    sources=((tree, source_v),),
                    demand=_with_chargers(design, here, (tree, ohm), joined, source_v),
                )
            )
    return tuple(found)


def starter_loads(design: Design, here: Situation, tree: Tree) -> tuple[tuple[int, ...], ...]:
    """Return the largest sets of loads in the island of the starter battery that can run together."""
    nodes = set(tree.nodes.tolist())
    sets = load_sets(design, here.present) if here.is_planned else ()
    projected = {tuple(i for i in one.loads if design.loads[i].node in nodes) for one in sets} or {()}
    return tuple(sorted(one for one in projected if not any(set(one) < set(other) for other in projected)))


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
