"""The lasting corners on the side of the auxiliary battery and of the panels.

A corner says which sources stand at which voltage, and which loads and chargers are on. What the engine side
adds is in `vehicle_side`, what lasts for moments only in `short_corners`.
"""

from __future__ import annotations

import dataclasses

import numpy as np

from ampwright.job.design import Design, DesignPart
from ampwright.job.device_settings import COMPENSATION_DEGC, compensation_v_per_k
from ampwright.job.joins import closes_hooked_up, relay_joins
from ampwright.job.nodes import SECOND_NODE, STARTER_NODE
from ampwright.job.supply import is_second_direct
from ampwright.job.use import State
from ampwright.network.alone import AloneGroup
from ampwright.network.converted import demand_here
from ampwright.network.corner import Corner
from ampwright.network.demand import (
    Demand,
    charge_setting_v,
    charger_outputs,
    panel_currents,
)
from ampwright.network.loads import certain_loads, load_sets
from ampwright.network.result import FloatArray
from ampwright.network.situations import Situation
from ampwright.network.sweep import tree_point
from ampwright.network.tree import Tree
from ampwright.parts.charger import AlternatorCharger, MainsCharger, PanelController
from ampwright.parts.inverter import Inverter
from ampwright.said import said

__all__ = [
    "alone_corners",
    "battery_full_v",
    "battery_low_corners",
    "battery_low_v",
    "charging_corners",
    "hooked_up_joined",
    "panel_corners",
    "with_other_battery",
]

ON_THE_ROAD = (AlternatorCharger, PanelController)
ON_MAINS = (MainsCharger, Inverter, PanelController)
STARTER_LOW_FRAC = 11.8 / 12.0
"""Rest voltage of an empty lead-acid starter battery over nominal: 1.97 V a cell (docs/choices.md#starter-low)."""
CHARGING: tuple[tuple[str, tuple[type, ...], tuple[State, ...]], ...] = (
    (said("engine running"), ON_THE_ROAD, ("idle", "road")),
    (said("hooked up"), ON_MAINS, ("hooked-up",)),
)
"""Name, chargers that can work together, and states of the vehicle in which they do."""


def battery_low_v(design: Design) -> float:
    """Return the lowest voltage of the auxiliary battery with loads on: load cut-off, else its own."""
    cutoff = design.job.load_cutoff
    own_v = design.battery_part().cutoff_v * design.parts[design.battery].in_series
    return own_v if cutoff is None else cutoff.open_v


def with_other_battery(design: Design, tree: Tree, demand: Demand, open_v: float) -> Demand:
    """Add the battery that is joined to this island: a voltage behind its internal resistance."""
    node = tree.other_battery
    if node < 0:
        return demand
    placed = design.parts[design.battery]
    ohm = (
        design.vehicle.starter_resistance_ohm
        if node == design.node_of(STARTER_NODE)
        else design.battery_part().resistance_ohm * placed.in_series / placed.strings
    )
    current, conductance = demand.current_a.copy(), demand.conductance_siemens.copy()
    current[node] -= open_v / ohm
    conductance[node] += 1.0 / ohm
    return dataclasses.replace(demand, current_a=current, conductance_siemens=conductance)


def battery_full_v(design: Design) -> float:
    """Return the highest voltage the auxiliary battery gives from, as in faults: its absorption voltage."""
    return design.battery_part().charge_v * design.parts[design.battery].in_series


def battery_low_corners(design: Design, here: Situation) -> tuple[Corner, ...]:
    """Return the battery at its lowest with everything that can run together, once for each set of loads."""
    tree = _battery_tree(design, here)
    if tree is None or not here.is_planned:
        return ()
    low_v = battery_low_v(design)
    found: list[Corner] = []
    for one in load_sets(design, here.present):
        demand = demand_here(design, here, one.loads)
        found.append(
            Corner(
                name=(
                    said("battery low, loads of {when}", when=one.when)
                    if one.when
                    else said("battery low, no loads")
                )
                + here.suffix,
                sources=((tree, low_v),),
                demand=with_other_battery(design, tree, demand, low_v),
            )
        )
    return tuple(found)


def charging_corners(design: Design, here: Situation) -> tuple[Corner, ...]:
    """Return chargers that can work together at full output, hardly any load; and with what runs then.

    The first is where voltages are highest; the second counts for loads whose current rises with voltage.
    """
    tree = _battery_tree(design, here)
    if tree is None:
        return ()
    light = demand_here(design, here, certain_loads(design), is_light=True)
    found: list[Corner] = []
    for name, kinds, states in CHARGING:
        charge_v = _charging_v(design, with_engine=kinds == ON_THE_ROAD)
        cases = [(said("charging, {name}", name=name), light)]
        for one in load_sets(design, here.present, states) if here.is_planned else ():
            loads = one.loads if name != "hooked up" else _not_on_mains(design, one.loads)
            demand = demand_here(design, here, loads)
            cases += (
                [(said("charging, {name}, loads of {when}", name=name, when=one.when), demand)]
                if one.when
                else []
            )
        found += [
            Corner(
                name=label + here.suffix,
                sources=((tree, charge_v),),
                demand=with_other_battery(
                    design, tree, _with_outputs(design, here, tree, demand, kinds), charge_v
                ),
            )
            for label, demand in cases
        ]
    return tuple(found)


def hooked_up_joined(design: Design, here: Situation) -> tuple[Corner, ...]:
    """Return mains charging with a relay that closes then: the starter battery, low, is filled through it."""
    tree = _battery_tree(design, here)
    if tree is None or not any(closes_hooked_up(join) for join in relay_joins(design)):
        return ()
    charge_v = _charging_v(design)
    light = demand_here(design, here, certain_loads(design), is_light=True)
    low_v = STARTER_LOW_FRAC * design.vehicle.system_v
    demand = with_other_battery(design, tree, _with_outputs(design, here, tree, light, ON_MAINS), low_v)
    return (
        Corner(
            name=said("charging, hooked up{suffix}, starter battery low", suffix=here.suffix),
            sources=((tree, charge_v),),
            demand=demand,
        ),
    )


def alone_corners(design: Design, here: Situation, groups: tuple[AloneGroup, ...]) -> tuple[Corner, ...]:
    """Return, for each channel and each load without one: it alone, at low battery and while charging."""
    tree = _battery_tree(design, here)
    if tree is None:
        return ()
    low_v, charge_v = battery_low_v(design), _charging_v(design)
    kinds = max(
        (kinds for _, kinds, _ in CHARGING), key=lambda x: sum(a for _, a in charger_outputs(design, x))
    )
    found: list[Corner] = []
    for group in groups:
        demand, light = (
            demand_here(design, here, group.loads, is_light=is_light) for is_light in (False, True)
        )
        charged = _with_outputs(design, here, tree, light, kinds)
        for name, source_v, wanted in (
            (said("battery low"), low_v, demand),
            (said("charging"), charge_v, charged),
        ):
            found.append(
                Corner(
                    name=said("{name}, {name_2} alone", name=name, name_2=group.name),
                    sources=((tree, source_v),),
                    demand=with_other_battery(design, tree, wanted, source_v),
                )
            )
    return tuple(found)


def _battery_tree(design: Design, here: Situation) -> Tree | None:
    return here.forest.tree(design.node_of(design.parts[design.battery].id))


def _charging_v(design: Design, *, with_engine: bool = False) -> float:
    """Return the highest set charge voltage; a charger below the bank's nominal voltage cannot charge it.

    With the engine a second alternator straight on the battery holds its highest voltage. Chargers that compensate
    hold more on the coldest morning.
    """
    battery, series = design.battery_part(), design.parts[design.battery].in_series
    highest_v = max((_coldest_charge_v(design, part) for part in design.parts), default=0.0)
    second = design.vehicle.second
    if with_engine and second is not None and is_second_direct(design):
        highest_v = max(highest_v, second.alternator_high_v)
    return highest_v if highest_v > battery.nominal_v * series else battery.charge_v * series


def _coldest_charge_v(design: Design, placed: DesignPart) -> float:
    """Return the charge voltage of a part with the battery at the coldest of the season; 0 where it does not charge."""
    chemistry = design.battery_part().chemistry
    slope = compensation_v_per_k(placed, chemistry=chemistry, system_v=design.system_v)
    return charge_setting_v(placed) + slope * max(COMPENSATION_DEGC - design.job.season.coldest_degc, 0.0)


def _not_on_mains(design: Design, loads: tuple[int, ...]) -> tuple[int, ...]:
    """Leave out the AC loads that a transfer switch puts on the mains while hooked up."""
    switched = {placed.index for placed, part in design.placed(Inverter) if part.transfer_s > 0.0}
    return tuple(index for index in loads if design.loads[index].inverter not in switched)


def _with_outputs(
    design: Design, here: Situation, tree: Tree, demand: Demand, kinds: tuple[type, ...]
) -> Demand:
    """Subtract what chargers of some kinds, and panels wired straight to the battery, give at most."""
    current = demand.current_a.copy()
    direct = tuple((node, full_a) for node, full_a, _ in panel_currents(design) if node in tree.nodes)
    for node, output_a in (*charger_outputs(design, kinds, here.present), *direct):
        current[node] -= output_a
    second = design.vehicle.second
    if kinds == ON_THE_ROAD and second is not None and is_second_direct(design):
        current[design.node_of(SECOND_NODE)] -= second.alternator_a
    return dataclasses.replace(demand, current_a=current)


def panel_corners(design: Design, here: Situation, ohm: FloatArray) -> tuple[Corner, ...]:
    """Return every panel at its short-circuit current, none above its voltage at maximum power.

    An island of panels with a load on it is left out: the panels' voltage is then no choice of the controller.
    """
    panels, root = panel_currents(design), here.forest.root
    current = np.zeros(len(design.nodes))
    for node, short_circuit_a, _ in panels:
        current[node] -= short_circuit_a
    zero = np.zeros(len(design.nodes))
    demand = Demand(power_w=zero, current_a=current, conductance_siemens=zero)
    battery, starter = design.node_of(design.parts[design.battery].id), design.node_of(STARTER_NODE)
    loaded = {int(root[load.node]) for load in design.loads if load.node >= 0}
    sources: list[tuple[Tree, float]] = []
    for tree in here.forest.trees:
        voltage = {node: max_power_v for node, _, max_power_v in panels if root[node] == tree.root}
        if tree.root in {battery, starter} or not voltage or tree.root in loaded:
            continue
        highest_v = max(voltage.values())
        point = tree_point(tree, ohm, demand=demand, source_v=highest_v)
        at = dict(zip(tree.nodes.tolist(), point.node_v.tolist(), strict=True))
        sources.append((tree, highest_v + min(voltage[node] - at[node] for node in voltage)))
    if not sources:
        return ()
    return (Corner(name=said("panels in full sun"), sources=tuple(sources), demand=demand),)
