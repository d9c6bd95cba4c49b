"""The energy step: against plain C and plain Python, on two threads, over fifty years, over ten thousand designs."""

from __future__ import annotations

import dataclasses
import os
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np
from bench.energy_lanes import lanes_figures
from bench.energy_reference import c_study, difference, is_covered
from bench.measure import Figure, call_ms, pairs_ratio
from bench.start_up import EXAMPLES

from ampwright import api
from ampwright.energy import kernel
from ampwright.energy.simulate import energy_model, kernel_tables
from ampwright.energy.tables import ActiveTable, KernelResult, StepTable, empty_result
from ampwright.network.solve import network_result

YEAR_DAYS = 365
YEARS = 50
C_LIMIT = 1.25
C_DIFFERENCE = 1e-9
C_JOB = "bicycle-repair-truck"
YEARS_LIMIT_S = 0.5
DESIGNS, DESIGN_STEPS = 10_000, 8_760
MEMORY_LIMIT_MB = 1000.0
PLAIN_DAYS = 10


def energy_figures() -> Iterator[Figure]:
    """Yield the figures of the energy step; other processes first."""
    jobs = _jobs_of_one_place()
    plain_us = {job.stem: float(_apart("plain", job.stem)) for job in jobs}
    yield from _memory()
    for job in jobs:
        years = kernel_tables_of_years(job.stem, count=YEARS)
        tables = years[0]
        step_ns = _step_ns(tables)
        yield Figure(what=f"energy step, {job.stem}", value=step_ns, unit="ns")
        yield Figure(what="  plain Python over it", value=1000.0 * plain_us[job.stem] / step_ns, unit="x")
        if is_covered(tables):
            yield from _against_c(tables)
        yield from lanes_figures(years, plain_us=plain_us[job.stem])
        yield from _many_years(years)


def _jobs_of_one_place() -> list[Path]:
    """Return the demonstration jobs whose days can be repeated over a year; a tour's belong to its places."""
    return [job for job in sorted(EXAMPLES.glob("*.toml")) if not api.load(job).design.legs]


def _step_ns(tables: tuple) -> float:
    out = empty_result(tables[4])
    return 1e6 * call_ms(lambda: run_from_start(tables, out), runs=11) / tables[4].row.size


def _against_c(tables: tuple) -> Iterator[Figure]:
    compiler = shutil.which("cc")
    if compiler is None:
        print("energy step against C: skipped, there is no C compiler `cc` here")
        return
    out, c_out = empty_result(tables[4]), empty_result(tables[4])
    with tempfile.TemporaryDirectory() as folder:
        run_c = c_study(Path(folder), compiler, tables, c_out)
        ratio = pairs_ratio(lambda: run_from_start(tables, out), run_c, runs=21)
        run_from_start(tables, out)
        run_c()
    yield Figure(what="  against plain C", value=ratio, unit="x", limit=C_LIMIT)
    yield Figure(
        what="  largest difference to C, of the largest value",
        value=max(difference(out, c_out)) / C_DIFFERENCE,
        unit="1e-9",
        limit=1.0,
    )


def _many_years(years: list[tuple]) -> Iterator[Figure]:
    outs = [empty_result(years[0][4]) for _ in range(2)]

    def part(first: int) -> None:
        for tables in years[first::2]:
            run_from_start(tables, outs[first])

    def alone() -> None:
        part(0)
        part(1)

    with ThreadPoolExecutor(2) as pool:

        def together() -> None:
            list(pool.map(part, range(2)))

        yield Figure(what="  two threads against one", value=pairs_ratio(alone, together, runs=9), unit="x")
        yield Figure(
            what=f"  {YEARS} years of {YEAR_DAYS} days on two threads",
            value=call_ms(together, runs=9) / 1000.0,
            unit="s",
            limit=YEARS_LIMIT_S,
        )


def _memory() -> Iterator[Figure]:
    began = time.perf_counter()
    megabytes = float(_apart("memory", C_JOB))
    yield Figure(
        what=f"{DESIGNS} designs of {DESIGN_STEPS} steps, memory",
        value=megabytes,
        unit="MB",
        limit=MEMORY_LIMIT_MB,
        note=f"in {time.perf_counter() - began:.0f} s",
    )


def _apart(what: str, job: str) -> str:
    """Return what a process of its own prints."""
    space = {**os.environ, **({"NUMBA_DISABLE_JIT": "1"} if what == "plain" else {})}
    command = [sys.executable, "-m", "bench.energy_time", what, job]
    return subprocess.run(command, check=True, capture_output=True, text=True, env=space).stdout


def kernel_tables_of_years(job: str, *, count: int, day_count: int = YEAR_DAYS) -> list[tuple]:
    """Return the kernel's tables of a demonstration job, its days repeated over runs of synthetic weather."""
    loaded = api.load(EXAMPLES / f"{job}.toml")
    doubt = dataclasses.replace(loaded.design.job.doubt, runs=count)
    design = dataclasses.replace(
        loaded.design,
        days=tuple(np.resize(np.array(loaded.design.days), day_count).tolist()),
        job=dataclasses.replace(loaded.design.job, doubt=doubt),
    )
    weather = api.weather_of(design, EXAMPLES)
    path_ohm = network_result(design).path_ohm
    models = [energy_model(design, weather.member(k), path_ohm=path_ohm) for k in range(count)]
    return [kernel_tables(model, start_frac=design.start_soc_frac) for model in models]


def run_from_start(tables: tuple, out: KernelResult) -> None:
    """Run all steps of these tables from the start; `out` may have been used before."""
    out.wanted_charge_a[:], out.terms_wh[:], out.fridge_wh[:] = 0.0, 0.0, 0.0
    active = ActiveTable(*(values.copy() for values in tables[5]))
    kernel.run(*tables[:5], active, (0, tables[4].row.size), out)


def _plain_us(job: str) -> float:
    """Microseconds of a step over a few days."""
    tables = kernel_tables_of_years(job, count=1)[0]
    short: StepTable = tables[4]._replace(row=tables[4].row[: 96 * PLAIN_DAYS])
    tables = (*tables[:4], short, tables[5])
    out = empty_result(short)
    return 1000.0 * call_ms(lambda: run_from_start(tables, out), runs=3) / short.row.size


def _memory_mb(job: str) -> float:
    """Peak memory of a sweep over battery and panel, of which each design leaves its lowest charge."""
    tables = kernel_tables_of_years(job, count=1)[0]
    steps: StepTable = tables[4]._replace(row=tables[4].row[:DESIGN_STEPS])
    factors = np.random.default_rng(4).uniform(0.5, 2.0, (DESIGNS, 2))
    lowest = np.zeros(DESIGNS)

    def part(first: int) -> None:
        out = empty_result(steps)
        for k in range(first, DESIGNS, 2):
            battery, panel = factors[k]
            bank = tables[0]._replace(
                table_ah=tables[0].table_ah * battery, slopes=tables[0].slopes / battery
            )
            start = (*tables[5].carried[:2] * battery, *tables[5].carried[2:])
            active = tables[5]._replace(carried=np.array(start))
            changed = steps._replace(available_w=steps.available_w * panel)
            run_from_start((bank, *tables[1:4], changed, active), out)
            lowest[k] = out.charge_ah.min() / bank.table_ah[-1]

    with ThreadPoolExecutor(2) as pool:
        list(pool.map(part, range(2)))
    if not (np.isfinite(lowest).all() and np.unique(lowest).size > 1):
        message = "the designs of the bench leave no charges"
        raise ValueError(message)
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0


if __name__ == "__main__":
    print({"plain": _plain_us, "memory": _memory_mb}[sys.argv[1]](sys.argv[2]))
