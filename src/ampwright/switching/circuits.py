"""What is to be put on output channels, and the channels there are."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from ampwright.job.converters import Sides, sides_of
from ampwright.job.design import Design, DesignPart
from ampwright.job.design_use import DesignLoad
from ampwright.parts.switchgear import OutputModule
from ampwright.records import record
from ampwright.switching.plan import ChannelLoads, SwitchPlan

__all__ = ["LOW_BATTERY_FRAC", "Channel", "Circuit", "channels_of", "channels_of_module", "circuits_of"]

LOW_BATTERY_FRAC = 0.85
"""Of the nominal voltage: where a load of constant power that is not wired yet is counted (docs/choices.md#channel-low)."""


@record
class Channel:
    """One output channel of a placed module."""

    part: int
    """Index of the module."""
    node: str
    """Name of its node, "module.number"."""
    number: int
    """Its number."""
    nominal_v: float
    """Nominal voltage of the module."""
    max_a: float
    """Largest continuous current."""
    is_dimmable: bool
    """True when it can dim."""
    is_low_side: bool
    """True when it switches the negative lead."""
    largest_mm2: float
    """Largest conductor its clamp takes; 0 = not said."""
    zone: str
    """Zone of the module; empty = not said."""


@record
class Circuit:
    """What hangs on one channel, or a load that is not wired yet."""

    id: str
    """Node of its channel; of a load that is not wired, its id."""
    name: str
    """Legend of the channel, or plain description of the load."""
    channel: int
    """Position of its channel now; -1 = not wired."""
    is_fixed: bool
    """True when it is wired inside the power module and stays where it is."""
    current_a: float
    """Largest current it asks for."""
    limit_a: float
    """Limit set for it, which its channel must be built for; 0 = none set."""
    nominal_v: float
    """Nominal voltage of its side."""
    is_dimmed: bool
    """True when it is to be dimmed."""
    is_essential: bool
    """True when one of its loads decides the verdict."""
    conductor_mm2: float
    """Conductor at its channel; 0 = not known."""
    zone: str
    """Zone of its first load; empty = not said."""

    @property
    def wants_a(self) -> float:
        """What its channel must be built for."""
        return max(self.current_a, self.limit_a)


def channels_of(design: Design) -> tuple[Channel, ...]:
    """Return every channel of every placed module, in the order of modules and numbers."""
    return tuple(
        channel
        for placed, part in design.placed(OutputModule)
        for channel in channels_of_module(
            part, placed.index, placed.id, zone=placed.zone.id if placed.zone is not None else ""
        )
    )


def channels_of_module(part: OutputModule, index: int, name: str, *, zone: str = "") -> tuple[Channel, ...]:
    """Return the channels of one module in the order of their numbers."""
    return tuple(
        Channel(
            part=index,
            node=f"{name}.{number}",
            number=number,
            nominal_v=part.nominal_v,
            max_a=group.max_a,
            is_dimmable=group.is_dimmable,
            is_low_side=group.side == "low",
            largest_mm2=part.channel_max_mm2,
            zone=zone,
        )
        for group in sorted(part.outputs, key=lambda each: each.first)
        for number in range(group.first, group.last + 1)
    )


def circuits_of(
    design: Design, plan: SwitchPlan, channels: tuple[Channel, ...], *, solved_a: Mapping[str, float]
) -> tuple[Circuit, ...]:
    """Return what hangs on the channels now, and the DC loads that are not wired.

    Parameters
    ----------
    solved_a : largest current calculated through each channel by the name of its node; nominal where absent.
    """
    sides = sides_of(design)
    wired = (_wired(design, used, channels, sides, solved_a) for used in plan.channels)
    return (*wired, *_not_wired(design))


def _wired(
    design: Design,
    used: ChannelLoads,
    channels: tuple[Channel, ...],
    sides: Sides,
    solved_a: Mapping[str, float],
) -> Circuit:
    placed = design.parts[used.part]
    name = f"{placed.id}.{used.number}"
    node = design.node_of(name)
    runs = [run for run in design.runs if node in {run.start, run.end}]
    described = design.channels[used.channel] if used.channel >= 0 else None
    written = _written_limit_a(design, placed, used.number)
    loads = [design.loads[index] for index in used.loads]
    return Circuit(
        id=name,
        name=described.name if described is not None else ", ".join(load.name for load in loads),
        channel=next(i for i, one in enumerate(channels) if one.node == name),
        is_fixed=any(run.is_inside_module for run in runs),
        current_a=max(used.peak_a, solved_a.get(name, 0.0)),
        limit_a=written,
        nominal_v=sides.nominal_v[node],
        is_dimmed=described is not None and described.is_dimmed,
        is_essential=any(load.is_essential for load in loads),
        conductor_mm2=max((run.cable.area_mm2 for run in runs), default=0.0),
        zone=next((load.zone.id for load in loads if load.zone is not None), ""),
    )


def _written_limit_a(design: Design, placed: DesignPart, number: int) -> float:
    """Return the limit the job sets on a channel; 0 where it sets none."""
    return next(
        (
            one.limit_a
            for one in design.job.channel
            if one.module == placed.id and one.number == number and one.limit_a is not None
        ),
        0.0,
    )


def _not_wired(design: Design) -> Iterator[Circuit]:
    reached = {node for run in design.runs for node in (run.start, run.end)}
    for load in design.loads:
        if load.node not in reached and load.inverter < 0:
            volts = load.nominal_v or design.system_v
            yield Circuit(
                id=load.id,
                name=load.name,
                channel=-1,
                is_fixed=False,
                current_a=load.peak_w / (volts * (LOW_BATTERY_FRAC if load.behaves == "power" else 1.0)),
                limit_a=0.0,
                nominal_v=volts,
                is_dimmed=_is_dimmed(load),
                is_essential=load.is_essential,
                conductor_mm2=0.0,
                zone=load.zone.id if load.zone is not None else "",
            )


def _is_dimmed(load: DesignLoad) -> bool:
    return load.dimmed_frac < 1.0
