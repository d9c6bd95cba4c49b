"""Which circuit on which output channel: a linear programme over all of them at once.

Every circuit on at most one channel, every channel one circuit at most, no channel and no module beyond its
current. What is wanted most comes first: a channel for all, few moves, short ways, large and dimmable channels
left for what needs them (docs/choices.md#channel-order).
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from ampwright.records import record
from ampwright.switching.circuits import Channel, Circuit

__all__ = ["Assignment", "Lack", "assignment_of", "cost_of", "lack_of"]

Lack = Literal["voltage", "dimming", "side", "current", "conductor", "taken"]
"""What keeps a circuit from every channel; "taken" = channels that would do are needed by others."""
MISSED, MISSED_ESSENTIAL, MISSED_FIXED = 1e5, 4e5, 1e8
MOVED, AWAY, WASTED_DIMMER, WASTED_A = 100.0, 30.0, 10.0, 5.0
BY_NUMBER = 1e-3
"""Costs of a circuit without channel, of one of the module's own without its channel, of a move, of another zone, of a dimmer or amperes not needed; ties by number."""
AMPERE_SLACK = 1e-9


@record
class Assignment:
    """A channel for each circuit."""

    channel: tuple[int, ...]
    """Position of the channel of each circuit; -1 = none."""
    lack: tuple[Lack | None, ...]
    """Why a circuit has none; None where it has one."""
    free: tuple[int, ...]
    """Positions of the channels left over."""
    total_a: Mapping[int, float]
    """Current of each module by its index, all its circuits together."""


def assignment_of(
    circuits: tuple[Circuit, ...],
    channels: tuple[Channel, ...],
    *,
    total_max_a: Mapping[int, float],
    spare_count: int = 0,
) -> Assignment:
    """Return the best channel for every circuit.

    Parameters
    ----------
    total_max_a : largest current of each module by its index
    spare_count : channels to be kept free

    Raises
    ------
    ValueError
        Where the solver gives no answer; leaving every circuit out is one, so that is a fault of the program.
    """
    pairs = [
        (i, k)
        for i, circuit in enumerate(circuits)
        for k, channel in enumerate(channels)
        if _keeps_from(circuit, channel) is None
    ]
    chosen = _solved(circuits, channels, pairs, total_max_a, spare_count)
    position = dict(pair for pair, is_chosen in zip(pairs, chosen, strict=True) if is_chosen)
    taken = set(position.values())
    return Assignment(
        channel=tuple(position.get(i, -1) for i in range(len(circuits))),
        lack=tuple(None if i in position else lack_of(one, channels) for i, one in enumerate(circuits)),
        free=tuple(k for k in range(len(channels)) if k not in taken),
        total_a={
            part: sum(circuits[i].current_a for i, k in position.items() if channels[k].part == part)
            for part in total_max_a
        },
    )


def lack_of(circuit: Circuit, channels: tuple[Channel, ...]) -> Lack:
    """Return what no channel has of all that a circuit needs, asked in the order of `Lack`."""
    left = channels
    for lack in ("voltage", "dimming", "side", "current", "conductor"):
        left = tuple(one for one in left if not _lacks(circuit, one, lack))
        if not left:
            return lack
    return "taken"


def _keeps_from(circuit: Circuit, channel: Channel) -> Lack | None:
    if circuit.is_fixed and circuit.id != channel.node:
        return "taken"
    for lack in ("voltage", "dimming", "side", "current", "conductor"):
        if _lacks(circuit, channel, lack):
            return lack
    return None


def _lacks(circuit: Circuit, channel: Channel, lack: Lack) -> bool:
    """Return whether a channel lacks one thing; one in the negative lead is kept where it is, never proposed."""
    if lack == "voltage":
        return channel.nominal_v != circuit.nominal_v
    if lack == "dimming":
        return circuit.is_dimmed and not channel.is_dimmable
    if lack == "side":
        return channel.is_low_side and circuit.id != channel.node
    if lack == "current":
        return circuit.wants_a > channel.max_a + AMPERE_SLACK
    return 0.0 < channel.largest_mm2 < circuit.conductor_mm2


def cost_of(circuit: Circuit, channel: Channel, *, place: int, most_a: float) -> float:
    """Return what a pair costs; all are far below nought, since a circuit without channel counts nought."""
    missed = MISSED_ESSENTIAL if circuit.is_essential else MISSED
    if circuit.is_fixed:
        missed = MISSED_FIXED
    cost = BY_NUMBER * place + WASTED_A * (channel.max_a - circuit.wants_a) / most_a - missed
    if circuit.channel >= 0 and circuit.channel != place:
        cost += MOVED
    if circuit.zone and channel.zone and circuit.zone != channel.zone:
        cost += AWAY
    if channel.is_dimmable and not circuit.is_dimmed:
        cost += WASTED_DIMMER
    return cost


def _solved(
    circuits: tuple[Circuit, ...],
    channels: tuple[Channel, ...],
    pairs: list[tuple[int, int]],
    total_max_a: Mapping[int, float],
    spare_count: int,
) -> NDArray[np.bool_]:
    """Return which pairs of circuit and channel are chosen."""
    from scipy.optimize import Bounds, LinearConstraint, milp  # noqa: PLC0415 - heavy
    from scipy.sparse import csr_array  # noqa: PLC0415 - heavy

    if not pairs:
        return np.zeros(0, np.bool_)
    of_circuit, of_channel = np.array(pairs).T
    part = np.array([one.part for one in channels])[of_channel]
    current_a = np.array([one.current_a for one in circuits])[of_circuit]
    modules = sorted(total_max_a)
    row = np.arange(len(pairs))
    first = len(circuits), len(circuits) + len(channels), len(circuits) + len(channels) + len(modules)
    rows = (of_circuit, first[0] + of_channel, first[1] + np.searchsorted(modules, part), 0 * row + first[2])
    values = (np.ones(row.size), np.ones(row.size), current_a, np.ones(row.size))
    most = np.concatenate(
        [
            np.ones(first[1]),
            [total_max_a[one] + AMPERE_SLACK for one in modules],
            [max(len(channels) - spare_count, 0)],
        ]
    )
    matrix = csr_array(
        (np.concatenate(values), (np.concatenate(rows), np.tile(row, 4))), shape=(most.size, row.size)
    )
    most_a = max(one.max_a for one in channels)
    costs = [cost_of(circuits[i], channels[k], place=k, most_a=most_a) for i, k in pairs]
    found = milp(
        costs,
        integrality=np.ones(row.size),
        bounds=Bounds(0, 1),
        constraints=LinearConstraint(matrix, -np.inf, most),
        options={"mip_rel_gap": 0.0},
    )
    if found.x is None:
        message = f"no assignment of channels was found: {found.message}"
        raise ValueError(message)
    chosen: NDArray[np.bool_] = found.x > 0.5
    return chosen
