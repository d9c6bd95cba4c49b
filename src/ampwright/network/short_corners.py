"""Corners that last for moments: engine start, and an inverter in overload.

They say nothing about what a cable carries for long; they decide what drops out meanwhile.
"""

from __future__ import annotations

import dataclasses
import math

from ampwright.job.design import Design, DesignPart
from ampwright.job.nodes import STARTER_NODE
from ampwright.network.converted import demand_here, input_powers
from ampwright.network.corner import Corner
from ampwright.network.corners import battery_low_v, with_other_battery
from ampwright.network.demand import Demand, charger_input, inverter_w, load_demand
from ampwright.network.loads import load_sets
from ampwright.network.result import FloatArray
from ampwright.network.situations import Situation
from ampwright.network.sweep import tree_point
from ampwright.network.tree import Tree
from ampwright.network.vehicle_side import other_battery_states, starter_loads
from ampwright.parts.charger import AlternatorCharger
from ampwright.parts.converter import Converter
from ampwright.parts.inverter import Inverter
from ampwright.parts.inverter_loss import inverter_dc_w
from ampwright.said import said
from ampwright.sources import Source

__all__ = ["CRANK_SOURCE", "crank_corners", "overload_corners"]

CRANK_FRAC = 8.0 / 12.0
"""Voltage of the starter battery while the starter turns, over nominal: 8 V of 12 V."""
SAG_ROUNDS = 60
"""Most rounds of the battery's voltage against its current; each closes most of the gap."""
SAG_V = 1e-9
"""Change of the battery's voltage at which it is found."""
CRANK_S = 1.0
"""Time the starter holds it there, from the same profile."""
CRANK_SOURCE = Source(
    document="ISO 16750-2",
    edition="2012",
    place="starting profile, 12 V, level I: 8 V while the engine turns",
    standing="from memory",
)


def crank_corners(design: Design, here: Situation, ohm: FloatArray) -> tuple[Corner, ...]:
    """Return the engine start: the starter battery's terminals sag, loads there stay on.

    An alternator charger still takes its full input unless its own terminals fall below its lock-out.
    """
    tree = here.forest.tree(design.node_of(STARTER_NODE))
    if tree is None:
        return ()
    source_v = CRANK_FRAC * design.vehicle.system_v
    found: list[Corner] = []
    for loads in starter_loads(design, here, tree):
        demand = load_demand(design, here.forest.root, loads, present=here.present)
        for state, open_v in other_battery_states(design, tree):
            joined = with_other_battery(design, tree, demand, open_v)
            found.append(
                Corner(
                    name=said("engine start{suffix}{state}", suffix=here.suffix, state=state),
                    sources=((tree, source_v),),
                    demand=_with_awake_chargers(design, here, (tree, ohm), joined, source_v),
                    lasts_s=CRANK_S,
                )
            )
    return tuple(found)


def _with_awake_chargers(
    design: Design, here: Situation, wiring: tuple[Tree, FloatArray], demand: Demand, source_v: float
) -> Demand:
    """Add the chargers and converters that do not lock out by the voltage of their input without them."""
    tree, ohm = wiring
    point = tree_point(tree, ohm, demand=demand, source_v=source_v)
    at = dict(zip(tree.nodes.tolist(), point.node_v.tolist(), strict=True))
    power = demand.power_w.copy()
    for placed, part in design.placed(AlternatorCharger):
        node = design.node_of(f"{placed.id}.in")
        set_v = placed.setting.stop_v if placed.setting is not None else None
        stop_v = part.input_stop_v if set_v is None else set_v
        if placed.part_of in here.present and node in at and at[node] >= stop_v:
            power_w, limit_a = charger_input(placed, part)
            power[node] += power_w if limit_a is None else min(power_w, limit_a * at[node])
    powers = input_powers(design, here, demand)
    for placed, converter in design.placed(Converter):
        node = design.node_of(f"{placed.id}.in")
        if node in at and at[node] >= converter.input_stop_v:
            power[node] += powers.get(node, 0.0)
    return dataclasses.replace(demand, power_w=power)


def overload_corners(design: Design, here: Situation, ohm: FloatArray) -> tuple[Corner, ...]:
    """Return each inverter at its overload power, battery low, all else that can run with it running.

    What the overload adds makes the battery sag below the voltage it stood at before.
    """
    tree = here.forest.tree(design.node_of(design.parts[design.battery].id))
    if tree is None or not here.is_planned:
        return ()
    low_v = battery_low_v(design)
    found: list[Corner] = []
    for placed, part in design.placed(Inverter):
        node = design.node_of(placed.id)
        if placed.part_of not in here.present or node not in tree.nodes:
            continue
        for loads, when in _beside(design, here, placed):
            demand = demand_here(design, here, loads)
            power = demand.power_w.copy()
            power[node] += inverter_dc_w(part, part.overload_w) - inverter_w(design, placed, part, loads)
            overloaded = dataclasses.replace(demand, power_w=power)
            sagged_v = _sagged_v(design, (tree, ohm), (demand, overloaded), low_v)
            found.append(
                Corner(
                    name=said(
                        "{part} in overload{when}{suffix}", part=placed.id, when=when, suffix=here.suffix
                    ),
                    sources=((tree, sagged_v),),
                    demand=with_other_battery(design, tree, overloaded, sagged_v),
                    lasts_s=part.overload_s,
                )
            )
    return tuple(found)


def _sagged_v(
    design: Design, wiring: tuple[Tree, FloatArray], demands: tuple[Demand, Demand], low_v: float
) -> float:
    """Return the battery's voltage in overload: at the load cut-off before it, less its resistance times what is added.

    The cut-off waits for its delay meanwhile. Without one the battery's own management opens at the lowest
    voltage at once, so that no lower one is ever fed. Where no steady voltage exists the last trial is kept.
    """
    if design.job.load_cutoff is None:
        return low_v
    tree, ohm = wiring
    placed = design.parts[design.battery]
    bank_ohm = design.battery_part().resistance_ohm * placed.in_series / placed.strings
    before_a = float(tree_point(tree, ohm, demand=demands[0], source_v=low_v).branch_a[0])
    sagged_v = low_v
    for _ in range(SAG_ROUNDS):
        point = tree_point(tree, ohm, demand=demands[1], source_v=sagged_v)
        added_a = float(point.branch_a[0]) - before_a
        next_v = low_v - bank_ohm * max(added_a, 0.0)
        if not point.is_found or math.isnan(added_a) or abs(next_v - sagged_v) < SAG_V:
            break
        sagged_v = next_v
    return sagged_v


def _beside(design: Design, here: Situation, inverter: DesignPart) -> tuple[tuple[tuple[int, ...], str], ...]:
    """Return the largest sets of loads that can run beside an inverter, its own left out, and when."""
    sets: dict[tuple[int, ...], str] = {}
    for one in load_sets(design, here.present):
        others = tuple(i for i in one.loads if design.loads[i].inverter != inverter.index)
        sets.setdefault(others, said(", loads of {when}", when=one.when) if others else "")
    return tuple(
        (loads, when) for loads, when in sets.items() if not any(set(loads) < set(other) for other in sets)
    )
