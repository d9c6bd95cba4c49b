"""How each cable run is fed and what protects it: the wired tree seen from its sources."""

from __future__ import annotations

from ampwright.job.design import Design, DesignDevice, DesignRun
from ampwright.job.nodes import STARTER_NODE
from ampwright.network.result import NetworkResult
from ampwright.parts.protection import Breaker, Fuse
from ampwright.records import record

__all__ = ["Circuit", "Circuits", "Protection", "circuits"]


@record
class Protection:
    """A fuse or breaker and how far along its run it sits."""

    device: DesignDevice
    """The device."""
    run: int
    """Index of its run."""
    distance_m: float
    """Cable between the feeding end of the run and the device."""

    @property
    def rating_a(self) -> float:
        """Rated current of the device."""
        return self.device.part.rating_a


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
    """"battery", "starter", "panel", or "" where nothing feeds it."""
    own: Protection | None
    """First fuse or breaker of the run itself, counted from the feeding end."""
    upstream: Protection | None
    """Nearest fuse or breaker between the source and this run."""
    channel_link: int
    """Index of the link of the output channel directly before it; -1 = none."""


@record
class Circuits:
    """All runs of a design, by index."""

    by_run: tuple[Circuit, ...]
    """One for each run."""


def circuits(design: Design, network: NetworkResult) -> Circuits:
    """Return how each run is fed, by a walk from every source along runs and links."""
    neighbours = _neighbours(design, network)
    found: dict[int, Circuit] = {}
    for root in sorted({int(node) for node in network.root if node >= 0}):
        kind = _root_kind(design, root)
        waiting: list[tuple[int, Protection | None, int]] = [(root, None, -1)]
        seen = {root}
        while waiting:
            node, upstream, link = waiting.pop()
            for other, run_index, link_index in neighbours[node]:
                if other in seen:
                    continue
                seen.add(other)
                if run_index < 0:
                    waiting.append((other, upstream, link_index))
                    continue
                run = design.runs[run_index]
                own = _own_protection(run, node)
                found[run_index] = Circuit(
                    run=run_index,
                    feeding_node=node,
                    far_node=other,
                    root_kind=kind,
                    own=own,
                    upstream=upstream,
                    channel_link=link,
                )
                waiting.append((other, own or upstream, -1))
    return Circuits(
        by_run=tuple(found.get(run.index, _unfed(run)) for run in design.runs),
    )


def _unfed(run: DesignRun) -> Circuit:
    return Circuit(
        run=run.index,
        feeding_node=-1,
        far_node=run.end,
        root_kind="",
        own=None,
        upstream=None,
        channel_link=-1,
    )


def _root_kind(design: Design, root: int) -> str:
    if root == design.node_of(design.parts[design.battery].id):
        return "battery"
    return "starter" if design.nodes[root] == STARTER_NODE else "panel"


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
            run=run.index,
            distance_m=device.distance_m
            if (device.end == "from") == fed_from_start
            else max(run.length_m - device.distance_m, 0.0),
        )
        for device in run.devices
        if isinstance(device.part, Fuse | Breaker)
    ]
    return min(placed, key=_distance, default=None)


def _distance(protection: Protection) -> float:
    return protection.distance_m
