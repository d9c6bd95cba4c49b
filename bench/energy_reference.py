"""The energy step in plain C, compiled in the same run, as a call on the tables of the kernel."""

from __future__ import annotations

import ctypes
import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np

from ampwright.energy.tables import KernelResult

__all__ = ["c_study", "difference", "is_covered"]

C_SOURCE = Path(__file__).with_name("energy_step.c")
FLAGS = ["-O3", "-march=native", "-shared", "-fPIC", "-lm"]
COUNTS = ("points", "consumers", "sources", "steps")
TABLE = ("table_ah", "table_v", "slopes")
FIGURES = (
    *("resistance_ohm", "doubling_k", "efficiency_frac", "self_discharge_a", "cutoff_v", "reconnect_v"),
    *("discharge_max_a", "discharge_min_degc", "charge_max_v", "charge_again_v", "charge_min_degc"),
    *("charge_max_degc", "lag_h", "nominal_v", "open_v", "close_v", "step_h", "start_ah", "start_degc"),
    "cold_loss_frac_per_k",
)
INPUTS = (
    *("kind", "row", "path_ohm", "lock_v", "unlock_v", "is_cut", "set_v", "source_ohm", "on_w", "duty_frac"),
    *("peak_w", "long_w", "ac_w", "loss_w", "standby_w", "limit_a", "available_w", "zone_degc"),
)
OUTPUTS = (
    *("charge_ah", "battery_v", "end_v", "low_v", "battery_a", "peak_a", "cell_degc", "wanted_charge_a"),
    *("source_w", "consumer_w", "missing_w", "is_unserved", "is_cut", "is_open", "is_blocked", "terms_wh"),
)


class Study(ctypes.Structure):
    _fields_ = (
        *((name, ctypes.c_long) for name in COUNTS),
        *((name, ctypes.c_void_p) for name in TABLE),
        *((name, ctypes.c_double) for name in FIGURES),
        *((f"in_{name}", ctypes.c_void_p) for name in INPUTS),
        *((f"out_{name}", ctypes.c_void_p) for name in OUTPUTS),
    )


def is_covered(tables: tuple) -> bool:
    """Return whether the C step has all that these tables ask for."""
    bank, consumers, _, fridges, _, _ = tables
    plain = bank.available_frac >= 1.0 and bank.heater_w == 0.0 and bank.acceptance_h == 0.0
    no_shedding = not consumers.shed_v.any() and consumers.has_cutoff
    return bool(plain and no_shedding and fridges.set_degc.size == 0)


def difference(out: KernelResult, other: KernelResult) -> Iterator[float]:
    """Yield the largest difference of each array of two results, of the largest value in the first."""
    for one, two in zip(out, other, strict=True):
        first, second = np.asarray(one, float), np.asarray(two, float)
        yield float(
            np.max(np.abs(first - second), initial=0.0) / max(np.max(np.abs(first), initial=0.0), 1.0)
        )


def c_study(folder: Path, compiler: str, tables: tuple, out: KernelResult) -> Callable[[], None]:
    """Compile the step and return the call that runs all steps of these tables into `out`, from zero each time."""
    library = folder / "energy_step.so"
    subprocess.run([compiler, str(C_SOURCE), "-o", str(library), *FLAGS], check=True)
    bank, consumers, sources, _, steps, active = tables
    found = {**bank._asdict(), **consumers._asdict(), **steps._asdict(), "set_v": sources.set_v}
    found |= {"source_ohm": sources.path_ohm, "start_ah": active.carried[0], "start_degc": active.carried[2]}
    kept = {name: np.ascontiguousarray(found[name]) for name in (*TABLE, *INPUTS)}
    study = Study(
        points=bank.table_ah.size,
        consumers=consumers.kind.size,
        sources=sources.set_v.size,
        steps=steps.row.size,
        **{name: kept[name].ctypes.data for name in TABLE},
        **{name: float(found[name]) for name in FIGURES},
        **{f"in_{name}": kept[name].ctypes.data for name in INPUTS},
        **{f"out_{name}": getattr(out, name).ctypes.data for name in OUTPUTS},
    )
    function = ctypes.CDLL(str(library)).study

    def run(_kept: dict[str, np.ndarray] = kept) -> None:
        out.wanted_charge_a[:], out.terms_wh[:] = 0.0, 0.0
        function(ctypes.byref(study))

    return run
