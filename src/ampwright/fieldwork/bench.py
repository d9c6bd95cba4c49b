"""The wiring as it stands on the day of the test: cool conductors, and the same with each doubt at its edge.

Uses the solver of `network`; what differs is the temperature, the source's voltage and what is on.
"""

from __future__ import annotations

import math

import numpy as np

from ampwright.fieldwork.tolerance import Cause, Contribution
from ampwright.job.design import Design
from ampwright.network.demand import Demand
from ampwright.network.result import FloatArray
from ampwright.network.sweep import tree_point
from ampwright.network.tree import Tree, forest_of
from ampwright.records import record
from ampwright.standards.iec_60228.temperature import resistance_at_ohm_per_km

__all__ = ["BENCH_DEGC", "Bench", "FeedingSource", "WayDrop", "bench_of", "bench_ohm", "way_drop"]

BENCH_DEGC = 25.0
BENCH_HALF_K = 15.0
"""Conductors on the day of the test: 10 to 40 degC (docs/choices.md#test-doubts)."""
LENGTH_FRAC = 0.05
JOINT_FRAC = 0.5
CONTACT_FRAC = 0.25
"""Doubts of a prediction (docs/choices.md#test-doubts): lengths, joints and chassis, devices with plugs and contacts."""


@record
class Bench:
    """One design with its branches' resistances, as likely and with each doubt at its upper edge."""

    design: Design
    """What was built."""
    trees: tuple[Tree, ...]
    """Its islands."""
    ohm: FloatArray
    """Resistance of each branch at 25 degC (n_runs + n_links,)."""
    long_ohm: FloatArray
    """With every length at its upper edge."""
    joint_ohm: FloatArray
    """With every joint and contact at its upper edge."""
    warm_ohm: FloatArray
    """With conductors at the upper edge of temperature."""

    def island(self, node: int) -> Tree | None:
        """Return the island that holds a node; None where nothing or two batteries feed it, or it cannot be solved."""
        found = next((tree for tree in self.trees if node in tree.nodes), None)
        return found if found is not None and found.is_solvable and found.other_battery < 0 else None

    def joined_island(self, node: int) -> Tree | None:
        """Return the island of two batteries that holds a node; None elsewhere, or where it cannot be solved."""
        found = next((tree for tree in self.trees if node in tree.nodes), None)
        return found if found is not None and found.is_solvable and found.other_battery >= 0 else None

    def is_solvable(self, node: int) -> bool:
        """Tell whether the island of a node is one the network solves at all."""
        return any(node in tree.nodes and tree.is_solvable for tree in self.trees)


@record
class FeedingSource:
    """What feeds a circuit under test."""

    rest_v: float
    """Its rest voltage."""
    half_v: float
    """How far that may be off."""
    resistance_ohm: float
    """Its internal resistance."""
    cause: Cause = "charge"
    """What moves its voltage."""


@record
class WayDrop:
    """Voltage lost between a source and a node, and how far each doubt moves it."""

    drop_v: float
    """Lost on the way, both conductors."""
    at_v: float
    """Left at the node."""
    doubts: tuple[Contribution, ...]
    """Length, joints and temperature, each in volts."""


def bench_ohm(
    design: Design,
    *,
    conductor_degc: float = BENCH_DEGC,
    length_factor: float = 1.0,
    joint_factor: float = 1.0,
    contact_factor: float = 1.0,
) -> FloatArray:
    """Return the resistance of each branch on the day of the test (n_runs + n_links,)."""
    runs = [
        resistance_at_ohm_per_km(run.conductor_20_ohm * length_factor, conductor_degc=conductor_degc)
        + joint_factor * (run.joint_ohm + run.chassis_ohm)
        + contact_factor * (run.fixed_ohm - run.joint_ohm - run.chassis_ohm)
        for run in design.runs
    ]
    links = [contact_factor * link.resistance_ohm for link in design.links]
    return np.array(runs + links, dtype=np.float64)


def bench_of(design: Design) -> Bench:
    """Return a design as it stands on the day of the test."""
    return Bench(
        design=design,
        trees=forest_of(design).trees,
        ohm=bench_ohm(design),
        long_ohm=bench_ohm(design, length_factor=1.0 + LENGTH_FRAC),
        joint_ohm=bench_ohm(design, joint_factor=1.0 + JOINT_FRAC, contact_factor=1.0 + CONTACT_FRAC),
        warm_ohm=bench_ohm(design, conductor_degc=BENCH_DEGC + BENCH_HALF_K),
    )


def way_drop(bench: Bench, node: int, *, demand: Demand, source_v: float) -> WayDrop | None:
    """Return the voltage lost from a source to a node with a demand; None where there is no steady answer."""
    tree = bench.island(node)
    if tree is None:
        return None
    position = int(np.flatnonzero(tree.nodes == node)[0])

    def left_v(ohm: FloatArray) -> float:
        point = tree_point(tree, ohm, demand=demand, source_v=source_v)
        return float(point.node_v[position]) if point.is_found else math.nan

    at_v = left_v(bench.ohm)
    doubted = {
        "length": left_v(bench.long_ohm),
        "joints": left_v(bench.joint_ohm),
        "temperature": left_v(bench.warm_ohm),
    }
    if not all(math.isfinite(each) for each in (at_v, *doubted.values())):
        return None
    return WayDrop(
        drop_v=source_v - at_v,
        at_v=at_v,
        doubts=(
            Contribution(cause="length", half_width=abs(at_v - doubted["length"])),
            Contribution(cause="joints", half_width=abs(at_v - doubted["joints"])),
            Contribution(cause="temperature", half_width=abs(at_v - doubted["temperature"])),
        ),
    )
