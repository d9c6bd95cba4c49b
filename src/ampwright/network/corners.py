"""The corners at which the network is solved: which sources at which voltage, which loads and chargers on."""

from __future__ import annotations

import dataclasses

import numpy as np

from ampwright.job.design import Design
from ampwright.job.nodes import STARTER_NODE
from ampwright.network.demand import (
    Demand,
    charge_setting_v,
    charger_input,
    charger_outputs,
    load_demand,
    panel_currents,
)
from ampwright.network.loads import LoadSet, certain_loads, load_sets
from ampwright.network.result import FloatArray
from ampwright.network.sweep import tree_point
from ampwright.network.tree import Forest, Tree
from ampwright.parts.charger import AlternatorCharger, MainsCharger, PanelController
from ampwright.parts.inverter import Inverter
from ampwright.records import record

__all__ = ["Corner", "corners"]

ON_THE_ROAD = (AlternatorCharger, PanelController)
ON_MAINS = (MainsCharger, Inverter, PanelController)


@record
class Corner:
    """One steady condition of one or more trees."""

    name: str
    """In words."""
    sources: tuple[tuple[Tree, float], ...]
    """Trees solved here, each with the voltage of its root."""
    demand: Demand
    """What every node takes or gives."""


def corners(design: Design, forest: Forest, ohm: FloatArray) -> tuple[Corner, ...]:
    """Return all corners of a design.

    Parameters
    ----------
    ohm : (n_branches,) resistance of every branch at working temperature
    """
    sets = load_sets(design)
    return (
        *_battery_low(design, forest, sets),
        *_charging(design, forest),
        *_vehicle_side(design, forest, ohm, sets),
        *_panel_side(design, forest, ohm),
    )


def _battery_low(design: Design, forest: Forest, sets: tuple[LoadSet, ...]) -> tuple[Corner, ...]:
    placed = design.parts[design.battery]
    tree = forest.tree(design.node_of(placed.id))
    if tree is None:
        return ()
    cutoff = design.job.load_cutoff
    low_v = cutoff.open_v if cutoff is not None else design.battery_part().cutoff_v * placed.in_series
    return tuple(
        Corner(
            name=f"battery low, loads of {one.when}" if one.when else "battery low, no loads",
            sources=((tree, low_v),),
            demand=load_demand(design, forest.root, one.loads),
        )
        for one in sets
    )


def _charging(design: Design, forest: Forest) -> tuple[Corner, ...]:
    """Chargers that can work together at full output into the auxiliary battery, hardly any load."""
    placed = design.parts[design.battery]
    tree = forest.tree(design.node_of(placed.id))
    if tree is None:
        return ()
    full_v = design.battery_part().charge_v * placed.in_series
    charge_v = max((charge_setting_v(part) for part in design.parts), default=0.0) or full_v
    light = load_demand(design, forest.root, certain_loads(design), is_light=True)
    direct = tuple((node, full_a) for node, full_a, _ in panel_currents(design) if node in tree.nodes)
    found: list[Corner] = []
    for name, kinds in (("engine running", ON_THE_ROAD), ("hooked up", ON_MAINS)):
        outputs = charger_outputs(design, kinds)
        current = light.current_a.copy()
        for node, output_a in (*outputs, *direct):
            current[node] -= output_a
        found.append(
            Corner(
                name=f"charging, {name}",
                sources=((tree, charge_v),),
                demand=dataclasses.replace(light, current_a=current),
            )
        )
    return tuple(found)


def _vehicle_side(
    design: Design, forest: Forest, ohm: FloatArray, sets: tuple[LoadSet, ...]
) -> tuple[Corner, ...]:
    """Alternator at its lowest, usual and highest voltage, every alternator charger at full output."""
    vehicle = design.vehicle
    tree = forest.tree(design.node_of(STARTER_NODE))
    if tree is None or not vehicle.has_alternator:
        return ()
    here = set(tree.nodes.tolist())
    projected = {tuple(i for i in one.loads if design.loads[i].node in here) for one in sets}
    heaviest = [one for one in projected if not any(set(one) < set(other) for other in projected)]
    voltages = (
        ("lowest", vehicle.alternator_low_v),
        ("usual", vehicle.alternator_v),
        ("highest", vehicle.alternator_high_v),
    )
    return tuple(
        Corner(
            name=f"engine running, alternator at its {name} voltage",
            sources=((tree, source_v),),
            demand=_with_chargers(design, tree, ohm, load_demand(design, forest.root, loads), source_v),
        )
        for loads in sorted(heaviest)
        for name, source_v in voltages
    )


def _with_chargers(design: Design, tree: Tree, ohm: FloatArray, loads: Demand, source_v: float) -> Demand:
    """Add the inputs of the alternator chargers: constant power, or the set limit where that is reached."""
    inputs = [
        (design.node_of(f"{placed.id}.in"), *charger_input(placed, part))
        for placed, part in design.placed(AlternatorCharger)
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


def _panel_side(design: Design, forest: Forest, ohm: FloatArray) -> tuple[Corner, ...]:
    """Every panel at its short-circuit current, none above its voltage at maximum power.

    A tree of panels with a load on it is left out: the panels' voltage is then no choice of the controller.
    """
    panels = panel_currents(design)
    current = np.zeros(len(design.nodes))
    for node, short_circuit_a, _ in panels:
        current[node] -= short_circuit_a
    zero = np.zeros(len(design.nodes))
    demand = Demand(power_w=zero, current_a=current, conductance_siemens=zero)
    battery, starter = design.node_of(design.parts[design.battery].id), design.node_of(STARTER_NODE)
    loaded = {int(forest.root[load.node]) for load in design.loads if load.node >= 0}
    sources: list[tuple[Tree, float]] = []
    for tree in forest.trees:
        voltage = {node: max_power_v for node, _, max_power_v in panels if forest.root[node] == tree.root}
        if tree.root in {battery, starter} or not voltage or tree.root in loaded:
            continue
        highest_v = max(voltage.values())
        point = tree_point(tree, ohm, demand=demand, source_v=highest_v)
        at = dict(zip(tree.nodes.tolist(), point.node_v.tolist(), strict=True))
        sources.append((tree, highest_v + min(voltage[node] - at[node] for node in voltage)))
    if not sources:
        return ()
    return (Corner(name="panels in full sun", sources=tuple(sources), demand=demand),)
