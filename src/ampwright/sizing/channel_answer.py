"""On which output channel each circuit belongs: the job as it is against the best assignment."""

from __future__ import annotations

import math

from ampwright.job.design import Design
from ampwright.network.result import NetworkResult
from ampwright.parts.catalogue import Catalogue
from ampwright.parts.switchgear import OutputModule
from ampwright.records import record
from ampwright.switching.assignment import Lack, assignment_of
from ampwright.switching.circuits import Channel, Circuit, channels_of, channels_of_module, circuits_of
from ampwright.switching.plan import switch_plan

__all__ = ["ChannelAnswer", "ModuleUse", "PlacedCircuit", "channel_answer"]


@record
class PlacedCircuit:
    """A circuit and the channel chosen for it."""

    circuit: Circuit
    """What is to be switched."""
    channel: Channel | None
    """Its channel; None = there is none for it."""
    lack: Lack | None
    """What is missing where there is none."""
    best_a: float
    """Largest current of a channel that is right for it but for the current; 0 = none."""

    @property
    def is_moved(self) -> bool:
        """True when it hangs on another channel now."""
        return self.circuit.channel >= 0 and self.channel is not None and self.channel.node != self.circuit.id


@record
class ModuleUse:
    """A module with what the proposal puts on it."""

    id: str
    """Name in the job."""
    name: str
    """Plain description of the part."""
    total_a: float
    """All its circuits together."""
    total_max_a: float
    """What it is built for."""
    free: tuple[Channel, ...]
    """Channels left over."""


@record
class ChannelAnswer:
    """The proposal for a whole job."""

    circuits: tuple[PlacedCircuit, ...]
    """All circuits, in the order of the channels they hang on now, then loads that are not wired."""
    modules: tuple[ModuleUse, ...]
    """Modules of the job."""
    spare_count: int
    """Channels that were to be kept free."""
    more: OutputModule | None
    """Cheapest module of the catalogue that takes what has no channel; None = nothing lacks, or there is none."""

    @property
    def moves(self) -> dict[str, str]:
        """Return the new node of each circuit that moves, by the node it hangs on now."""
        return {
            one.circuit.id: one.channel.node
            for one in self.circuits
            if one.is_moved and one.channel is not None
        }

    @property
    def lacking(self) -> tuple[PlacedCircuit, ...]:
        """Circuits without a channel."""
        return tuple(one for one in self.circuits if one.channel is None)


def channel_answer(
    design: Design, network: NetworkResult, catalogue: Catalogue, *, spare_count: int = 0
) -> ChannelAnswer:
    """Return the best channel for each circuit of a job."""
    channels = channels_of(design)
    circuits = circuits_of(design, switch_plan(design), channels, solved_a=_solved_a(design, network))
    total_max_a = {placed.index: part.total_max_a for placed, part in design.placed(OutputModule)}
    found = assignment_of(circuits, channels, total_max_a=total_max_a, spare_count=spare_count)
    placed = tuple(
        PlacedCircuit(
            circuit=one,
            channel=channels[k] if k >= 0 else None,
            lack=lack,
            best_a=_best_a(one, channels),
        )
        for one, k, lack in zip(circuits, found.channel, found.lack, strict=True)
    )
    return ChannelAnswer(
        circuits=placed,
        modules=tuple(
            ModuleUse(
                id=module.id,
                name=part.name,
                total_a=found.total_a[module.index],
                total_max_a=part.total_max_a,
                free=tuple(channels[k] for k in found.free if channels[k].part == module.index),
            )
            for module, part in design.placed(OutputModule)
        ),
        spare_count=spare_count,
        more=_more(tuple(one.circuit for one in placed if one.channel is None), catalogue),
    )


def _solved_a(design: Design, network: NetworkResult) -> dict[str, float]:
    """Return the largest calculated current of each path inside a part, by the node it leads to."""
    return {
        design.nodes[link.end]: float(current_a)
        for link, current_a in zip(design.links, network.link_peak_a, strict=True)
        if math.isfinite(current_a)
    }


def _best_a(circuit: Circuit, channels: tuple[Channel, ...]) -> float:
    return max(
        (
            one.max_a
            for one in channels
            if one.nominal_v == circuit.nominal_v
            and (one.is_dimmable or not circuit.is_dimmed)
            and not one.is_low_side
        ),
        default=0.0,
    )


def _more(lacking: tuple[Circuit, ...], catalogue: Catalogue) -> OutputModule | None:
    """Return the cheapest module that takes all circuits left over by itself."""
    fitting = [part for part in catalogue.of_kind(OutputModule) if lacking and _takes(part, lacking)]
    return min(fitting, key=lambda part: (part.price_eur or math.inf, part.id), default=None)


def _takes(part: OutputModule, lacking: tuple[Circuit, ...]) -> bool:
    channels = channels_of_module(part, 0, part.id)
    found = assignment_of(lacking, channels, total_max_a={0: part.total_max_a})
    return all(k >= 0 for k in found.channel)
