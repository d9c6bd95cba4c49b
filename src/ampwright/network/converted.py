"""Step-down converters at a corner: their own islands behind, and what they take from the island before.

The far side is solved first, at the voltage the converter holds; what flows into it gives the power at its input.
"""

from __future__ import annotations

import dataclasses

from ampwright.job.converters import placed_converters
from ampwright.job.design import Design, DesignPart
from ampwright.network.corner import Corner
from ampwright.network.demand import Demand, load_demand
from ampwright.network.resistance import working_ohm
from ampwright.network.result import Collapse, FloatArray
from ampwright.network.situations import Situation
from ampwright.network.sweep import tree_point
from ampwright.network.tree import Tree
from ampwright.parts.converter import Converter, converter_input_w

__all__ = ["demand_here", "input_powers", "over_limit", "with_converted"]


def demand_here(design: Design, here: Situation, loads: tuple[int, ...], *, is_light: bool = False) -> Demand:
    """Return the demand of some loads, each converter's input included."""
    demand = load_demand(design, here.forest.root, loads, is_light=is_light, present=here.present)
    powers = input_powers(design, here, demand, is_light=is_light)
    if not powers:
        return demand
    power_w = demand.power_w.copy()
    for node, wanted_w in powers.items():
        power_w[node] += wanted_w
    return dataclasses.replace(demand, power_w=power_w)


def input_powers(
    design: Design, here: Situation, demand: Demand, *, is_light: bool = False
) -> dict[int, float]:
    """Return what each converter takes at the node of its input, those behind others first.

    `is_light` leaves out the idle draw of those that are not always on and give nothing.
    """
    found: dict[int, float] = {}
    present = [pair for pair in placed_converters(design) if pair[0].part_of in here.present]
    ohm = working_ohm(design) if present else None
    power_w = demand.power_w.copy()
    for placed, part in reversed(present):
        inlet = design.node_of(f"{placed.id}.in")
        tree = here.forest.tree(design.node_of(f"{placed.id}.out"))
        given_w = 0.0
        if tree is not None and ohm is not None:
            given_w = _given_w(part, tree, ohm, dataclasses.replace(demand, power_w=power_w))
        if (
            given_w > 0.0
            or placed.is_on_when == "always"
            or not (is_light or placed.is_on_when == "loads-use")
        ):
            found[inlet] = converter_input_w(part, given_w)
            power_w[inlet] += found[inlet]
    return found


def _given_w(part: Converter, tree: Tree, ohm: FloatArray, demand: Demand) -> float:
    """Return what flows out at the held voltage, never more than the current limit allows."""
    most_w = part.output_v * part.limit_a
    if not tree.is_solvable:
        return most_w
    point = tree_point(tree, ohm, demand=demand, source_v=part.output_v)
    return min(max(part.output_v * float(point.branch_a[0]), 0.0), most_w) if point.is_found else most_w


def over_limit(design: Design, tree: Tree, current_a: float) -> Collapse | None:
    """Return the collapse of an island whose converter would have to give more than it limits at.

    Its voltage sinks then, and loads of constant power only ask for more.
    """
    for placed, part in design.placed(Converter):
        if design.node_of(f"{placed.id}.out") == tree.root and current_a > part.limit_a:
            return Collapse(
                node=tree.root,
                source_v=part.output_v,
                loop_ohm=0.0,
                available_w=part.output_v * part.limit_a,
                wanted_w=part.output_v * current_a,
                bearable_frac=part.limit_a / current_a,
            )
    return None


def with_converted(design: Design, here: Situation, corners: tuple[Corner, ...]) -> tuple[Corner, ...]:
    """Return corners with the islands behind the converters that their own islands feed."""
    converters = placed_converters(design)
    if not converters:
        return corners
    return tuple(
        dataclasses.replace(corner, sources=_all_sources(design, here, converters, corner))
        for corner in corners
    )


def _all_sources(
    design: Design, here: Situation, converters: tuple[tuple[DesignPart, Converter], ...], corner: Corner
) -> tuple[tuple[Tree, float], ...]:
    sources = list(corner.sources)
    for placed, part in converters:
        inlet, tree = design.node_of(f"{placed.id}.in"), here.forest.tree(design.node_of(f"{placed.id}.out"))
        is_fed = any(inlet in above.nodes for above, _ in sources)
        if tree is not None and is_fed and placed.part_of in here.present:
            sources.append((tree, part.output_v))
    return tuple(sources)
