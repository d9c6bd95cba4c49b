"""Which alternator feeds which charger, and each alternator as a vehicle that has only that one."""

from __future__ import annotations

import dataclasses

from ampwright.job.design import Design, DesignPart
from ampwright.job.design_vehicle import DesignVehicle
from ampwright.job.joins import relay_joins
from ampwright.job.nodes import SECOND_NODE, STARTER_NODE

__all__ = ["MAIN", "SECOND", "alternator_name", "is_second_direct", "supply", "supply_names"]

MAIN = "alternator"
SECOND = "second alternator"


def supply_names(design: Design) -> tuple[str, ...]:
    """Return the alternators that feed apart from each other, in words."""
    vehicle = design.vehicle
    first = (MAIN,) if vehicle.alternator_a > 0.0 else ()
    return (*first, *((SECOND,) if vehicle.second is not None else ()))


def supply(design: Design, name: str) -> DesignVehicle:
    """Return the vehicle as what hangs on one alternator sees it: a second one has no load of the vehicle's own."""
    vehicle = design.vehicle
    if name == MAIN or vehicle.second is None:
        return vehicle
    second = vehicle.second
    return dataclasses.replace(
        vehicle,
        regulation=second.regulation,
        alternator_a=second.alternator_a,
        alternator_v=second.alternator_v,
        alternator_low_v=second.alternator_low_v,
        alternator_high_v=second.alternator_high_v,
        hot_road_frac=second.hot_road_frac,
        hot_idle_frac=second.hot_idle_frac,
        own_load_day_a=0.0,
        own_load_night_a=0.0,
    )


def is_second_direct(design: Design) -> bool:
    """Tell whether a second alternator is wired straight to the auxiliary battery, and to it alone."""
    start, battery = design.node_of(SECOND_NODE), design.node_of(design.parts[design.battery].id)
    if start < 0 or design.vehicle.second is None:
        return False
    reached = _reached(design, start)
    return battery in reached and design.node_of(STARTER_NODE) not in reached


def alternator_name(design: Design, placed: DesignPart) -> str:
    """Return the alternator whose node the input of a charger hangs on."""
    goal, start = design.node_of(SECOND_NODE), design.node_of(f"{placed.id}.in")
    if goal < 0 or start < 0:
        return MAIN
    return SECOND if goal in _reached(design, start) else MAIN


def _reached(design: Design, start: int) -> set[int]:
    """Return the nodes that hang together with one; relays between the batteries are open."""
    apart = {join.link for join in relay_joins(design)}
    steps = [(run.start, run.end) for run in design.runs]
    steps += [(link.start, link.end) for index, link in enumerate(design.links) if index not in apart]
    reached, waiting = {start}, [start]
    while waiting:
        here = waiting.pop()
        for one, other in steps:
            beyond = other if one == here else one if other == here else here
            if beyond not in reached:
                reached.add(beyond)
                waiting.append(beyond)
    return reached
