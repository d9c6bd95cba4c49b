"""How each cable run is fed and what protects it: the wired tree seen from its sources."""

from __future__ import annotations

import dataclasses

from ampwright.job.design import Design
from ampwright.job.design_wiring import DesignDevice, DesignRun
from ampwright.job.nodes import SECOND_NODE, STARTER_NODE
from ampwright.network.result import NetworkResult
from ampwright.parts.converter import Converter
from ampwright.parts.protection import Breaker, Fuse
from ampwright.parts.switchgear import OutputModule
from ampwright.records import record
from ampwright.said import said

__all__ = ["Circuit", "Circuits", "Protection", "channel_limit_a", "circuits", "converter_limit_a"]


@record
class Protection:
    """A fuse or breaker and how far along its run it sits."""

    device: DesignDevice
    """The device."""
    part: Fuse | Breaker
    """Its catalogue record."""
    run: int
    """Index of its run."""
    distance_m: float
    """Cable between the feeding end of the run and the device."""

    @property
    def rating_a(self) -> float:
        """Rated current of the device."""
        return self.part.rating_a


@record
class Circuit:
    """One run as seen from the source that feeds it."""

    run: int
    """Index of the run."""
    feeding_node: int
    """Node on the side of the source; -1 where nothing feeds the run."""
    far_node: int
    """Node on the other side."""
    root_kind: str
    """"battery", "starter", "alternator", "converter", "panel", or "" where nothing feeds it."""
    own: Protection | None
    """First fuse or breaker of the run itself, counted from the feeding end."""
    upstream: Protection | None
    """Nearest fuse or breaker between the source and this run."""
    is_in_loop: bool
    """True where current can come from both sides: no device of one side protects it."""
    channel_link: int
    """Index of the link of the output channel that feeds it, no device between; -1 = none."""

    @property
    def why_unknown(self) -> str:
        """Why nothing can be said of its protection; empty where it can."""
        if self.is_in_loop:
            return said("it lies in a loop and is fed from both sides")
        return "" if self.root_kind else said("nothing feeds it")


@record
class Circuits:
    """All runs of a design, by index."""

    by_run: tuple[Circuit, ...]
    """One for each run."""


@record
class _Step:
    """One step of the walk away from a source, into a node."""

    node: int
    """Node it comes from."""
    run: int
    """Index of the run; -1 for a link."""
    depth: int
    """Steps from the source."""


def circuits(design: Design, network: NetworkResult) -> Circuits:
    """Return how each run is fed, by a walk from every source along runs and links."""
    neighbours = _neighbours(design, network)
    found: dict[int, Circuit] = {}
    looped: set[int] = set()
    for root in sorted({int(node) for node in network.root if node >= 0}):
        kind = _root_kind(design, root)
        into = {root: _Step(node=-1, run=-1, depth=0)}
        waiting: list[tuple[int, Protection | None, int]] = [(root, None, -1)]
        while waiting:
            node, upstream, link = waiting.pop()
            for other, run_index, link_index in neighbours[node]:
                if int(network.root[other]) != root:
                    continue  # beyond a joint with another battery, fed from there
                if other in into:
                    if run_index >= 0 and run_index not in found:
                        looped |= {run_index, *_loop(into, node, other)}
                    continue
                into[other] = _Step(node=node, run=run_index, depth=into[node].depth + 1)
                if run_index < 0:
                    waiting.append(
                        (other, upstream, link_index if _is_output(design, link_index, other) else link)
                    )
                    continue
                own = _own_protection(design.runs[run_index], node)
                found[run_index] = Circuit(
                    run=run_index,
                    feeding_node=node,
                    far_node=other,
                    root_kind=kind,
                    own=own,
                    upstream=upstream,
                    is_in_loop=False,
                    channel_link=link,
                )
                waiting.append((other, own or upstream, link if own is None else -1))
    looped |= set(network.meshed)
    return Circuits(by_run=tuple(_one(found, run, is_in_loop=run.index in looped) for run in design.runs))


def _one(found: dict[int, Circuit], run: DesignRun, *, is_in_loop: bool) -> Circuit:
    return dataclasses.replace(found.get(run.index, _unfed(run)), is_in_loop=is_in_loop)


def _loop(into: dict[int, _Step], first: int, second: int) -> set[int]:
    """Return the runs of the walk between two nodes it has reached: with one more run they make a loop."""
    runs: set[int] = set()
    while first != second:
        if into[first].depth < into[second].depth:
            first, second = second, first
        runs.add(into[first].run)
        first = into[first].node
    return runs - {-1}


def _is_output(design: Design, link_index: int, other: int) -> bool:
    """Return True where a step along a link goes out of an output module; a current sensor switches nothing."""
    link = design.links[link_index]
    return link.end == other and isinstance(design.parts[link.part].part, OutputModule)


def _unfed(run: DesignRun) -> Circuit:
    return Circuit(
        run=run.index,
        feeding_node=-1,
        far_node=run.end,
        root_kind="",
        own=None,
        upstream=None,
        is_in_loop=False,
        channel_link=-1,
    )


def _root_kind(design: Design, root: int) -> str:
    if root == design.node_of(design.parts[design.battery].id):
        return "battery"
    if root in {design.node_of(f"{placed.id}.out") for placed, _ in design.placed(Converter)}:
        return "converter"
    return {STARTER_NODE: "starter", SECOND_NODE: "alternator"}.get(design.nodes[root], "panel")


def _neighbours(design: Design, network: NetworkResult) -> list[list[tuple[int, int, int]]]:
    neighbours: list[list[tuple[int, int, int]]] = [[] for _ in design.nodes]
    for run in design.runs:
        if run.index not in network.loops:
            neighbours[run.start].append((run.end, run.index, -1))
            neighbours[run.end].append((run.start, run.index, -1))
    for index, link in enumerate(design.links):
        neighbours[link.start].append((link.end, -1, index))
        neighbours[link.end].append((link.start, -1, index))
    return neighbours


def _own_protection(run: DesignRun, feeding_node: int) -> Protection | None:
    """Return the first fuse or breaker of a run; isolators protect nothing."""
    fed_from_start = feeding_node == run.start
    placed = [
        Protection(
            device=device,
            part=device.part,
            run=run.index,
            distance_m=device.distance_m
            if (device.end == "from") == fed_from_start
            else max(run.length_m - device.distance_m, 0.0),
        )
        for device in run.devices
        if isinstance(device.part, Fuse | Breaker)
    ]
    return min(placed, key=_distance, default=None)


def channel_limit_a(design: Design, circuit: Circuit) -> float | None:
    """Return the set limit of the output channel that feeds a run; None without one, or where it is not described."""
    if circuit.channel_link < 0:
        return None
    node = design.links[circuit.channel_link].end
    return next((channel.limit_a for channel in design.channels if channel.node == node), None)


def converter_limit_a(design: Design, network: NetworkResult, circuit: Circuit) -> float | None:
    """Return the current limit of the converter that alone feeds a run; None where another source does."""
    if circuit.root_kind != "converter":
        return None
    root = int(network.root[circuit.feeding_node])
    return next(
        (
            part.limit_a
            for placed, part in design.placed(Converter)
            if design.node_of(f"{placed.id}.out") == root
        ),
        None,
    )


def _distance(protection: Protection) -> float:
    return protection.distance_m
