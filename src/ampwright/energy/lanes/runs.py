"""Runs of one design under other weather and doubt, several at once: tables of each run -> result of each run.

Results are the same to the last bit as one by one. Runs that differ in more than numbers go alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from numba import config
from numpy.typing import NDArray

from ampwright.energy.tables import (
    LANES,
    ActiveTable,
    BankTable,
    ConsumerTable,
    FridgeTable,
    KernelResult,
    SourceTable,
    StepTable,
    empty_result,
)

__all__ = ["KernelTables", "laid", "run_all"]

KernelTables = tuple[BankTable, ConsumerTable, SourceTable, FridgeTable, StepTable, ActiveTable]
BLOCK_STEPS = 32
"""Steps laid side by side at once; their tables and results stay in the processor's nearer caches."""
FEWEST = 3
"""So many runs fill the lanes well enough; fewer go one by one."""
SHARED = ("kind", "is_cut", "fridge", "nominal_v", "has_cutoff")
"""What must be the same in all lanes."""
PLAIN = ("member", "kind", "source", "step_h", "row")
ROWS = ("row", "duty_frac", "on_w", "peak_w", "long_w", "ac_w", "loss_w")
GIVEN = ("limit_a", "available_w", "zone_degc", "air_degc", "leak_w_per_k")
NUMBERS = (
    *("charge_ah", "battery_v", "end_v", "low_v", "battery_a", "peak_a", "cell_degc", "wanted_charge_a"),
    *("heater_w", "source_w", "consumer_w", "missing_w", "fridge_degc", "ice_wh"),
)
TRUTHS = ("is_cut", "is_open", "is_blocked", "is_unserved")


def run_all(runs: Sequence[KernelTables]) -> list[KernelResult]:
    """Return the result of each run from its start; plain Python, without the compiler, knows no lanes."""
    compiler: Any = config
    if compiler.DISABLE_JIT:
        return [_alone(tables) for tables in runs]
    results: dict[int, KernelResult] = {}
    left = list(range(len(runs)))
    while left:
        alike = [k for k in left if _is_alike(runs[left[0]], runs[k])][:LANES]
        taken = alike if len(alike) >= FEWEST else alike[:1]
        found = _together([runs[k] for k in taken]) if len(taken) > 1 else [_alone(runs[taken[0]])]
        results |= dict(zip(taken, found, strict=True))
        left = [k for k in left if k not in results]
    return [results[k] for k in range(len(runs))]


def _is_alike(one: KernelTables, two: KernelTables) -> bool:
    """Return whether two runs differ in numbers only."""
    if any(
        np.shape(first) != np.shape(second)
        for table, other in zip(one[:4], two[:4], strict=True)
        for first, second in zip(table, other, strict=True)
    ):
        return False
    shared = all(np.array_equal(getattr(one[1], name), getattr(two[1], name)) for name in SHARED)
    steps, others = one[4], two[4]
    same_axis = steps.step_h == others.step_h and steps.row.size == others.row.size
    same_bank = (one[0].available_frac < 1.0) == (two[0].available_frac < 1.0)
    return bool(shared and same_axis and same_bank)


def _alone(tables: KernelTables) -> KernelResult:
    from ampwright.energy import kernel  # noqa: PLC0415 - the compiler is heavy

    out = empty_result(tables[4])
    kernel.run(*tables, (0, tables[4].row.size), out)
    return out


def _together(runs: list[KernelTables]) -> list[KernelResult]:
    """Return the results of up to `LANES` runs that are alike; lanes to spare go with the last once more."""
    from ampwright.energy.lanes import kernel  # noqa: PLC0415 - the compiler is heavy

    filled = [*runs, *([runs[-1]] * (LANES - len(runs)))]
    outs = [empty_result(tables[4]) for tables in filled]
    steps, block = _blocks(filled[0][4])
    active = laid([tables[5] for tables in filled])
    addresses = kernel.Addresses(
        rows=_addresses([tables[4] for tables in filled], ROWS),
        standby=_addresses([tables[4] for tables in filled], ("standby_w",))[0],
        is_used=_addresses([tables[4] for tables in filled], ("is_used",))[0],
        given=_addresses([tables[4] for tables in filled], GIVEN),
        numbers=_addresses(outs, NUMBERS),
        truths=_addresses(outs, TRUTHS),
    )
    blocks = kernel.Blocks(
        row=np.zeros(LANES, np.int64),
        is_used=_flat(steps.is_used),
        given=tuple(_flat(getattr(steps, name)) for name in GIVEN),
        numbers=tuple(_flat(getattr(block, name)) for name in NUMBERS),
        truths=tuple(_flat(getattr(block, name)) for name in TRUTHS),
    )
    bank, consumers, sources, fridges = (laid([tables[k] for tables in filled]) for k in range(4))
    step_count = filled[0][4].row.size
    kernel.run_lanes(bank, consumers, sources, fridges, steps, active, block, addresses, blocks, step_count)
    for lane, (tables, out) in enumerate(zip(runs, outs, strict=False)):
        out.charge_ah[0] = tables[5].carried[0]
        out.terms_wh[:], out.fridge_wh[:] = block.terms_wh[:, lane], block.fridge_wh[:, :, lane]
    return outs[: len(runs)]


def laid(tables: Sequence[Any]) -> Any:
    """Return tables side by side, lanes last; what is the same in all of them stays plain."""
    first = tables[0]
    plain = SHARED if isinstance(first, ConsumerTable) else PLAIN
    return type(first)(
        **{
            name: (np.copy(value) if isinstance(value, np.ndarray) else value)
            if name in plain
            else np.ascontiguousarray(np.stack([np.asarray(getattr(one, name)) for one in tables], axis=-1))
            for name, value in first._asdict().items()
        }
    )


def _blocks(steps: StepTable) -> tuple[StepTable, KernelResult]:
    """Return room for a block of steps and its result, lanes last, with a step to spare before it."""
    count = min(BLOCK_STEPS, steps.row.size) + 1
    given: dict[str, Any] = {
        name: np.zeros((count, *values.shape[1:], LANES), values.dtype)
        for name, values in steps._asdict().items()
        if name not in PLAIN
    }
    whole = empty_result(steps._replace(row=np.arange(count), zone_degc=np.zeros(count)))
    found = (np.zeros((*values.shape, LANES), values.dtype) for values in whole)
    return StepTable(**given, step_h=steps.step_h, row=np.arange(count)), KernelResult(*found)


def _flat(values: NDArray[Any]) -> NDArray[Any]:
    return values.reshape(-1, LANES)


def _addresses(tables: Sequence[Any], names: tuple[str, ...]) -> NDArray[np.int64]:
    """Return where these arrays lie, by name and lane; they must be in one piece."""
    arrays = [[getattr(one, name) for one in tables] for name in names]
    if not all(values.flags.c_contiguous for lanes in arrays for values in lanes):
        message = "the tables of a run are not in one piece"
        raise ValueError(message)
    return np.array([[values.ctypes.data for values in lanes] for lanes in arrays], np.int64)
