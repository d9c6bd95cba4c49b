"""The energy step of eight runs side by side: against vectors in C, against one by one, against plain Python."""

from __future__ import annotations

import ctypes
import shutil
import subprocess
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
from bench.energy_reference import difference, is_covered
from bench.measure import Figure, call_ms, pairs_ratio

from ampwright.energy import kernel
from ampwright.energy.lanes.runs import laid, run_all
from ampwright.energy.tables import LANES, ActiveTable, KernelResult, StepTable, empty_result

__all__ = ["lanes_figures"]

C_SOURCE = Path(__file__).with_name("energy_lanes.cc")
FLAGS = ["-O3", "-march=native", "-fno-math-errno", "-fno-trapping-math", "-shared", "-fPIC", "-lm"]
C_STEPS = 4_000
C_LIMIT = 1.25
C_DIFFERENCE = 1e-9
ONE_LIMIT = 1.0
PLAIN_LIMIT = 400.0
COUNTS = ("points", "consumers", "sources", "steps")
TABLES = ("table_ah", "table_v", "slopes")
FIGURES = (
    *("resistance_ohm", "doubling_k", "efficiency_frac", "self_discharge_a", "cutoff_v", "reconnect_v"),
    *("discharge_max_a", "discharge_min_degc", "charge_max_v", "charge_again_v", "charge_min_degc"),
    *("charge_max_degc", "lag_h", "open_v", "close_v", "start_ah", "start_degc"),
    "cold_loss_frac_per_k",
)
PLAIN = ("nominal_v", "step_h")
INPUTS = (
    *(
        "kind",
        "is_cut",
        "path_ohm",
        "lock_v",
        "unlock_v",
        "set_v",
        "source_ohm",
        "on_w",
        "duty_frac",
        "peak_w",
    ),
    *("long_w", "ac_w", "loss_w", "standby_w", "limit_a", "available_w", "zone_degc"),
)
OUTPUTS = (
    *("charge_ah", "battery_v", "end_v", "low_v", "battery_a", "peak_a", "cell_degc", "wanted_charge_a"),
    *("source_w", "consumer_w", "missing_w", "is_unserved", "is_cut", "is_open", "is_blocked", "terms_wh"),
)
BY_ROW = ("on_w", "duty_frac", "peak_w", "long_w", "ac_w", "loss_w", "standby_w")


class Study(ctypes.Structure):
    _fields_ = (
        *((name, ctypes.c_long) for name in COUNTS),
        *((name, ctypes.c_void_p) for name in (*TABLES, *FIGURES)),
        *((name, ctypes.c_double) for name in PLAIN),
        *((f"in_{name}", ctypes.c_void_p) for name in INPUTS),
        *((f"out_{name}", ctypes.c_void_p) for name in OUTPUTS),
    )


def lanes_figures(years: list[tuple], *, plain_us: float) -> Iterator[Figure]:
    """Yield the figures of a demonstration job's runs side by side; `plain_us` is a step of plain Python."""
    runs = years[:LANES]
    steps = sum(tables[4].row.size for tables in runs)

    def alone() -> None:
        for tables in runs:
            kernel.run(*_fresh(tables), (0, tables[4].row.size), empty_result(tables[4]))

    def together() -> None:
        run_all([_fresh(tables) for tables in runs])

    step_ns = 1e6 * call_ms(together, runs=11) / steps
    yield Figure(what=f"  {LANES} runs side by side, laid and spread", value=step_ns, unit="ns")
    ratio = pairs_ratio(together, alone, runs=11)
    yield Figure(what="  against one by one", value=ratio, unit="x", limit=ONE_LIMIT)
    yield from _step_figures(runs, plain_us=plain_us)


def _step_figures(runs: list[tuple], *, plain_us: float) -> Iterator[Figure]:
    """Yield the figures of the step alone, on tables that lie side by side already."""
    *tables, steps, active = lanes_tables(runs, C_STEPS)
    out = result_of(runs, C_STEPS)

    def step() -> None:
        run_laid((*tables, steps, active), out)

    step_ns = 1e6 * call_ms(step, runs=21) / (C_STEPS * LANES)
    yield Figure(what="  step of the lanes alone", value=step_ns, unit="ns")
    yield Figure(
        what="  plain Python over it",
        value=1000.0 * plain_us / step_ns,
        unit="x",
        limit=PLAIN_LIMIT,
        is_least=True,
    )
    compiler = shutil.which("c++")
    if not is_covered(runs[0]):
        return
    if compiler is None:
        print("lanes against C: skipped, there is no compiler `c++` here")
        return
    c_out = result_of(runs, C_STEPS)
    with tempfile.TemporaryDirectory() as folder:
        run_c = c_lanes(Path(folder), compiler, (*tables, steps, active), c_out)
        ratio = pairs_ratio(step, run_c, runs=41)
        step()
        run_c()
    yield Figure(what="  lanes against vectors in C", value=ratio, unit="x", limit=C_LIMIT)
    worst = max(difference(out, c_out)) / C_DIFFERENCE
    yield Figure(
        what="  largest difference to these, of the largest value", value=worst, unit="1e-9", limit=1.0
    )


def lanes_tables(runs: list[tuple], step_count: int) -> tuple:
    """Return the tables of runs side by side over their first steps, what repeats by day plan written out."""
    tables = [laid([tables[k] for tables in runs]) for k in range(4)]
    return (
        *tables,
        laid([_written_out(tables[4], step_count) for tables in runs]),
        laid([tables[5] for tables in runs]),
    )


def _written_out(steps: StepTable, count: int) -> StepTable:
    row = steps.row[:count]
    found = {
        name: values[row] if name in BY_ROW else values if name == "step_h" else values[:count]
        for name, values in steps._asdict().items()
    }
    return StepTable(**{**found, "row": np.arange(count)})


def result_of(runs: list[tuple], step_count: int) -> KernelResult:
    """Return room for the result of runs side by side."""
    empty = empty_result(_written_out(runs[0][4], step_count))
    return KernelResult(*(np.zeros((*values.shape, LANES), values.dtype) for values in empty))


def run_laid(tables: tuple, out: KernelResult) -> None:
    """Run all steps of tables that lie side by side; `out` may have been used before."""
    out.terms_wh[:], out.fridge_wh[:] = 0.0, 0.0
    active = ActiveTable(*(values.copy() for values in tables[5]))
    kernel.run(*tables[:5], active, (0, tables[4].row.size), out)


def _fresh(tables: tuple) -> tuple:
    return (*tables[:5], ActiveTable(*(values.copy() for values in tables[5])))


def c_lanes(folder: Path, compiler: str, tables: tuple, out: KernelResult) -> Callable[[], None]:
    """Compile the lanes and return the call that runs all steps of these tables into `out`, from zero each time."""
    library = folder / "energy_lanes.so"
    subprocess.run([compiler, str(C_SOURCE), "-o", str(library), *FLAGS], check=True)
    bank, consumers, sources, _, steps, active = tables
    found = {**bank._asdict(), **consumers._asdict(), **steps._asdict(), "set_v": sources.set_v}
    found |= {"source_ohm": sources.path_ohm, "start_ah": active.carried[0], "start_degc": active.carried[2]}
    kept = {name: np.ascontiguousarray(found[name]) for name in (*TABLES, *FIGURES, *INPUTS)}
    study = Study(
        points=bank.table_ah.shape[0],
        consumers=consumers.kind.size,
        sources=sources.set_v.shape[0],
        steps=steps.row.size,
        **{name: kept[name].ctypes.data for name in (*TABLES, *FIGURES)},
        **{name: float(found[name]) for name in PLAIN},
        **{f"in_{name}": kept[name].ctypes.data for name in INPUTS},
        **{f"out_{name}": getattr(out, name).ctypes.data for name in OUTPUTS},
    )
    function = ctypes.CDLL(str(library)).study_lanes

    def run(_kept: dict[str, np.ndarray] = kept) -> None:
        out.terms_wh[:] = 0.0
        function(ctypes.byref(study))

    return run
