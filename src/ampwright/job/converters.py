"""Step-down converters in a design: what hangs behind each, and which nominal voltage each node has."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.job.design import Design, DesignPart
from ampwright.job.joins import relay_joins
from ampwright.job.nodes import SECOND_NODE, STARTER_NODE
from ampwright.parts.converter import Converter
from ampwright.records import record

__all__ = ["Sides", "placed_converters", "sides_of"]


@record
class Sides:
    """The converter behind which each node lies, and the nominal voltage there."""

    converter: tuple[int, ...]
    """(n_nodes,) index of the part; -1 = none."""
    nominal_v: tuple[float, ...]
    """(n_nodes,) nominal voltage."""
    is_vehicle: tuple[bool, ...]
    """(n_nodes,) True where the vehicle's own side feeds it, through converters or straight."""

    def behind(self, node: int, part: int) -> bool:
        """Tell whether a node is fed by this converter; False for an AC load or one that is not wired."""
        return node >= 0 and self.converter[node] == part

    def nominal_at(self, node: int, otherwise_v: float) -> float:
        """Return the nominal voltage at a node; that given for -1."""
        return self.nominal_v[node] if node >= 0 else otherwise_v


def placed_converters(design: Design) -> tuple[tuple[DesignPart, Converter], ...]:
    """Return the converters, each after those that feed it."""
    found = design.placed(Converter)
    if len(found) < 2:
        return found
    depths = _depths(design)
    return tuple(sorted(found, key=lambda pair: depths[pair[0].index]))


def sides_of(design: Design) -> Sides:
    """Return on which side of a converter every node lies."""
    count = len(design.nodes)
    vehicle = _vehicle_nodes(design)
    nominal = [design.vehicle.system_v if node in vehicle else design.system_v for node in range(count)]
    behind, is_vehicle = [-1] * count, [node in vehicle for node in range(count)]
    for placed, part in placed_converters(design):
        feeds_from = design.node_of(f"{placed.id}.in")
        for node in _reached(design, (design.node_of(f"{placed.id}.out"),)):
            behind[node], nominal[node] = placed.index, part.output_nominal_v
            is_vehicle[node] = is_vehicle[feeds_from]
    return Sides(converter=tuple(behind), nominal_v=tuple(nominal), is_vehicle=tuple(is_vehicle))


def _vehicle_nodes(design: Design) -> frozenset[int]:
    """Return what hangs on starter battery or second alternator, but not on one that the auxiliary battery is joined to."""
    battery = design.node_of(design.parts[design.battery].id)
    found: frozenset[int] = frozenset()
    for node in (design.node_of(STARTER_NODE), design.node_of(SECOND_NODE)):
        there = _reached(design, (node,)) if node >= 0 else frozenset[int]()
        found |= there if battery not in there else frozenset()
    return found


def _depths(design: Design) -> dict[int, int]:
    """Return by part how many converters feed each one; one that feeds itself in a ring counts as the deepest."""
    found = design.placed(Converter)
    fed_by = {
        placed.index: {
            other.index
            for other, _ in found
            if design.node_of(f"{placed.id}.in") in _reached(design, (design.node_of(f"{other.id}.out"),))
        }
        for placed, _ in found
    }
    depth = dict.fromkeys(fed_by, 0)
    for _ in found:
        depth = {
            index: min(1 + max((depth[one] for one in above), default=-1), len(found))
            for index, above in fed_by.items()
        }
    return depth


def _reached(design: Design, starts: tuple[int, ...]) -> frozenset[int]:
    """Return the nodes that hang together with some by runs and paths inside parts."""
    neighbours: list[list[int]] = [[] for _ in design.nodes]
    for start, end in _ways(design):
        neighbours[start].append(end)
        neighbours[end].append(start)
    found, waiting = set(starts), list(starts)
    while waiting:
        for other in neighbours[waiting.pop()]:
            if other not in found:
                found.add(other)
                waiting.append(other)
    return frozenset(found)


def _ways(design: Design) -> Iterator[tuple[int, int]]:
    apart = {join.link for join in relay_joins(design)}
    yield from ((run.start, run.end) for run in design.runs)
    yield from ((link.start, link.end) for index, link in enumerate(design.links) if index not in apart)
