"""Which loads hang on which output channel, and the current each is asked for."""

from __future__ import annotations

from ampwright.job.converters import sides_of
from ampwright.job.design import Design
from ampwright.parts.switchgear import OutputModule
from ampwright.records import record

__all__ = ["ChannelLoads", "ModuleLoads", "SwitchPlan", "switch_plan"]


@record
class ChannelLoads:
    """The loads of one output channel."""

    part: int
    """Index of the output module."""
    number: int
    """Channel number."""
    channel: int
    """Index in Design.channels; -1 for a wired channel the job does not describe."""
    loads: tuple[int, ...]
    """Indices of the loads it feeds."""
    peak_a: float
    """Current of all of them at peak power and nominal voltage."""


@record
class ModuleLoads:
    """What one output module carries."""

    part: int
    """Index of the output module."""
    peak_a: float
    """All channels together at peak power and nominal voltage."""
    free_count: int
    """Channels without a run."""


@record
class SwitchPlan:
    """The switching as the job has it."""

    channels: tuple[ChannelLoads, ...]
    """Channels with a run, in the order of modules and numbers."""
    modules: tuple[ModuleLoads, ...]
    """Output modules."""


def switch_plan(design: Design) -> SwitchPlan:
    """Return what each output channel feeds, followed along the runs."""
    neighbours, sides = _neighbours(design), sides_of(design)
    described = {(channel.part, channel.number): i for i, channel in enumerate(design.channels)}
    channels: list[ChannelLoads] = []
    modules: list[ModuleLoads] = []
    for placed, part in design.placed(OutputModule):
        numbers = sorted({n for group in part.outputs for n in range(group.first, group.last + 1)})
        found: list[ChannelLoads] = []
        for number in numbers:
            node = design.node_of(f"{placed.id}.{number}")
            if not any(node in {run.start, run.end} for run in design.runs):
                continue
            loads = _loads_behind(design, node, neighbours, feed=design.node_of(f"{placed.id}.in"))
            found.append(
                ChannelLoads(
                    part=placed.index,
                    number=number,
                    channel=described.get((placed.index, number), -1),
                    loads=loads,
                    peak_a=sum(design.loads[load].peak_w for load in loads) / sides.nominal_v[node],
                )
            )
        channels += found
        modules.append(
            ModuleLoads(
                part=placed.index,
                peak_a=sum(channel.peak_a for channel in found),
                free_count=len(numbers) - len(found),
            )
        )
    return SwitchPlan(channels=tuple(channels), modules=tuple(modules))


def _neighbours(design: Design) -> list[list[int]]:
    neighbours: list[list[int]] = [[] for _ in design.nodes]
    for run in design.runs:
        neighbours[run.start].append(run.end)
        neighbours[run.end].append(run.start)
    for link in design.links:
        neighbours[link.start].append(link.end)
        neighbours[link.end].append(link.start)
    return neighbours


def _loads_behind(design: Design, node: int, neighbours: list[list[int]], *, feed: int) -> tuple[int, ...]:
    """Return the loads reached from a channel without going back through its module's feed."""
    reached = {node, feed}
    waiting = [node]
    while waiting:
        for other in neighbours[waiting.pop()]:
            if other not in reached:
                reached.add(other)
                waiting.append(other)
    return tuple(load.index for load in design.loads if load.node in reached)
