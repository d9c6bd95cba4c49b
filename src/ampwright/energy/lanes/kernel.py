"""Several runs through the energy step together: their tables laid side by side block by block, and spread again.

A run's tables come as addresses, one for each lane; whoever calls keeps them alive. A block of steps stays in the
processor's cache.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from ampwright.energy.compiled import compiled
from ampwright.energy.kernel import run
from ampwright.energy.lanes.memory import index_at, number_at, put_number, put_truth, truth_at
from ampwright.energy.lanes.values import any_of, read1
from ampwright.energy.tables import (
    LANES,
    ActiveTable,
    BankTable,
    ConsumerTable,
    FridgeTable,
    KernelResult,
    SourceTable,
    StepTable,
)

__all__ = ["Addresses", "Blocks", "run_lanes"]

Floats = NDArray[np.float64]
Indices = NDArray[np.int64]
Flags = NDArray[np.bool_]


class Addresses(NamedTuple):
    """Where the tables of each run lie; lanes last."""

    rows: Indices
    """(7, LANES) row of each step, then tables by row: duty, power, peak, long power, AC power, inverter's loss."""
    standby: Indices
    """(LANES,) standby by row."""
    is_used: Indices
    """(LANES,) refrigerators in use."""
    given: Indices
    """(5, LANES) by step: current limits, powers, air at the battery, air and leak of refrigerators."""
    numbers: Indices
    """(14, LANES) the result's numbers by step, as `Blocks.numbers`."""
    truths: Indices
    """(4, LANES) the result's truths by step, as `Blocks.truths`."""


class Blocks(NamedTuple):
    """The tables of a block once more, step and item in one axis, lanes last."""

    row: Indices
    """(LANES,) scratch: row of the step in each lane."""
    is_used: Flags
    """Refrigerators in use."""
    given: tuple[Floats, ...]
    """As `Addresses.given`."""
    numbers: tuple[Floats, ...]
    """Charge, voltages, currents, temperature, wanted charge, heater; chargers, consumers, missing; refrigerators."""
    truths: tuple[Flags, ...]
    """Cut, open, blocked; unserved."""


@compiled(forceinline=True)
def lay_rows(
    first: int, count: int, offset: int, addresses: Addresses, steps: StepTable, row: Indices
) -> None:
    """Lay what repeats by day plan side by side; what nobody wants in a step stays as it was."""
    consumer_count = steps.duty_frac.shape[1]
    where = addresses.rows
    for i in range(count):
        at = offset + i
        for lane in range(LANES):
            row[lane] = index_at(where[0, lane], first + i)
            steps.standby_w[at, lane] = number_at(addresses.standby[lane], row[lane])
            row[lane] *= consumer_count
        for j in range(consumer_count):
            is_wanted = False
            for lane in range(LANES):
                duty = number_at(where[1, lane], row[lane] + j)
                steps.duty_frac[at, j, lane] = duty
                is_wanted |= duty > 0.0
            if is_wanted:
                for lane in range(LANES):
                    steps.on_w[at, j, lane] = number_at(where[2, lane], row[lane] + j)
                    steps.peak_w[at, j, lane] = number_at(where[3, lane], row[lane] + j)
                    steps.long_w[at, j, lane] = number_at(where[4, lane], row[lane] + j)
                    steps.ac_w[at, j, lane] = number_at(where[5, lane], row[lane] + j)
                    steps.loss_w[at, j, lane] = number_at(where[6, lane], row[lane] + j)


@compiled(forceinline=True)
def lay_numbers(where: Indices, first: int, values: Floats, begin: int, count: int) -> None:
    """Lay numbers side by side."""
    for i in range(count):
        for lane in range(LANES):
            values[begin + i, lane] = number_at(where[lane], first + i)


@compiled(forceinline=True)
def lay_truths(where: Indices, first: int, values: Flags, begin: int, count: int) -> None:
    """Lay truths side by side."""
    for i in range(count):
        for lane in range(LANES):
            values[begin + i, lane] = truth_at(where[lane], first + i)


@compiled(forceinline=True)
def spread_numbers(where: Indices, first: int, values: Floats, begin: int, count: int) -> None:
    """Spread numbers over the runs, whose tables hold zeros already."""
    is_any = False
    for i in range(begin, begin + count):
        is_any = is_any | (read1(values, i) != 0.0)
    if not any_of(is_any):
        return
    for lane in range(LANES):
        for i in range(count):
            put_number(where[lane], first + i, values[begin + i, lane])


@compiled(forceinline=True)
def spread_truths(where: Indices, first: int, values: Flags, begin: int, count: int) -> None:
    """Spread truths over the runs, whose tables hold False already."""
    is_any = False
    for i in range(begin, begin + count):
        for lane in range(LANES):
            is_any |= values[i, lane]
    if not is_any:
        return
    for lane in range(LANES):
        for i in range(count):
            put_truth(where[lane], first + i, values[begin + i, lane])


@compiled(nogil=True)
def run_lanes(
    bank: BankTable,
    consumers: ConsumerTable,
    sources: SourceTable,
    fridges: FridgeTable,
    steps: StepTable,
    active: ActiveTable,
    out: KernelResult,
    addresses: Addresses,
    blocks: Blocks,
    step_count: int,
) -> None:
    """Run all steps of the runs side by side; `steps` and `out` are one block, with a step to spare before it."""
    size = steps.row.size - 1
    row = blocks.row
    for first in range(0, step_count, size):
        count, offset = min(size, step_count - first), min(first, 1)
        lay_rows(first, count, offset, addresses, steps, row)
        for k in range(len(blocks.given)):
            width = blocks.given[k].shape[0] // (size + 1)
            lay_numbers(addresses.given[k], first * width, blocks.given[k], offset * width, count * width)
        width = blocks.is_used.shape[0] // (size + 1)
        lay_truths(addresses.is_used, first * width, blocks.is_used, offset * width, count * width)
        out.source_w[:], out.consumer_w[:], out.missing_w[:] = 0.0, 0.0, 0.0
        run(bank, consumers, sources, fridges, steps, active, (offset, offset + count), out)
        for k in range(len(blocks.numbers)):
            width = blocks.numbers[k].shape[0] // (size + 1)
            # The charge is of the end of the step; that of the start was there before.
            late = 1 if k == 0 else 0
            at = (first + late) * width, (offset + late) * width
            spread_numbers(addresses.numbers[k], at[0], blocks.numbers[k], at[1], count * width)
        for k in range(len(blocks.truths)):
            width = blocks.truths[k].shape[0] // (size + 1)
            spread_truths(addresses.truths[k], first * width, blocks.truths[k], offset * width, count * width)
