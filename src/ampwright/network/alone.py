"""Loads that one switch turns on: those of each output channel together, all others one by one."""

from __future__ import annotations

from ampwright.job.converters import placed_converters, sides_of
from ampwright.job.design import Design
from ampwright.network.tree import Forest
from ampwright.parts.switchgear import OutputModule
from ampwright.records import record

__all__ = ["AloneGroup", "alone_groups"]


@record
class AloneGroup:
    """Loads that come on together."""

    name: str
    """Node of the channel, or id of the load."""
    node: int
    """Index of the node of the channel, or of the load."""
    link: int
    """Link of the channel; -1 for a load without one."""
    loads: tuple[int, ...]
    """Indices of the loads, ascending."""


def alone_groups(design: Design, forest: Forest) -> tuple[AloneGroup, ...]:
    """Return the groups on the side of the auxiliary battery, channels in order of their links first.

    A load fed by several channels joined into one counts to the one on the shortest way.
    """
    sources = _sources(design)
    channel = _channels(design, forest)
    grouped: dict[int, list[int]] = {}
    single: list[AloneGroup] = []
    for load in design.loads:
        if load.node < 0 or int(forest.root[load.node]) not in sources:
            continue
        link = channel[load.node]
        if link >= 0:
            grouped.setdefault(link, []).append(load.index)
        else:
            single.append(AloneGroup(name=load.id, node=load.node, link=-1, loads=(load.index,)))
    switched = [
        AloneGroup(
            name=design.nodes[design.links[link].end],
            node=design.links[link].end,
            link=link,
            loads=tuple(loads),
        )
        for link, loads in sorted(grouped.items())
    ]
    return (*switched, *single)


def _sources(design: Design) -> frozenset[int]:
    """Return the auxiliary battery and the outputs of the converters it feeds."""
    found = {design.node_of(design.parts[design.battery].id)}
    converters = placed_converters(design)
    sides = sides_of(design) if converters else None
    for placed, _ in converters:
        node = design.node_of(f"{placed.id}.out")
        if sides is not None and not sides.is_vehicle[node]:
            found.add(node)
    return frozenset(found)


def _channels(design: Design, forest: Forest) -> list[int]:
    """Return for each node the link of the output channel nearest above it; -1 = none."""
    channel = [-1] * len(design.nodes)
    first = len(design.runs)
    for tree in forest.trees:
        nodes, branches = tree.nodes.tolist(), tree.branch.tolist()
        for position, up in enumerate(tree.parent.tolist()):
            if up < 0:
                continue
            link = branches[position] - first
            is_output = (
                link >= 0
                and design.links[link].end == nodes[position]
                and isinstance(design.parts[design.links[link].part].part, OutputModule)
            )
            channel[nodes[position]] = link if is_output else channel[nodes[up]]
    return channel
