"""The job the bench makes is a valid one of the size it says."""

from __future__ import annotations

import importlib
import shutil
import tomllib
from pathlib import Path

import numpy as np
import pytest

from ampwright import api

ROOT = Path(__file__).parent.parent


@pytest.fixture
def bench(monkeypatch):
    monkeypatch.syspath_prepend(str(ROOT))
    return importlib.import_module


def test_the_large_job_has_sixty_circuits(bench, tmp_path):
    job = tmp_path / "large.toml"
    job.write_text(bench("bench.large_job").large_job_text(), encoding="utf-8")
    design = api.load(job).design
    assert sum(bool(run.devices) for run in design.runs) >= 60
    assert len(design.loads) >= 50


def test_a_figure_beyond_its_limit_says_so(bench):
    figure = bench("bench.measure").Figure
    beyond = figure(what="rules", value=61.0, unit="ms", limit=60.0)
    within = figure(what="rules", value=59.0, unit="ms", limit=60.0)
    without = figure(what="rules", value=59.0, unit="ms")
    faster = figure(what="plain Python over it", value=401.0, unit="x", limit=400.0, is_least=True)
    slower = figure(what="plain Python over it", value=399.0, unit="x", limit=400.0, is_least=True)
    assert (faster.is_failed, slower.is_failed) == (False, True)
    assert "at least 400" in slower.line()
    assert (beyond.is_failed, within.is_failed, without.is_failed) == (True, False, False)
    assert "FAIL" in beyond.line()
    assert "pass" in within.line()
    assert "pass" not in without.line()


def test_the_energy_step_in_c_gives_the_same(bench, tmp_path):
    compiler = shutil.which("cc")
    if compiler is None:
        pytest.skip("there is no C compiler `cc` here")
    energy = bench("bench.energy_time")
    tables = energy.kernel_tables_of_years(energy.C_JOB, count=1, day_count=28)[0]
    assert bench("bench.energy_reference").is_covered(tables)
    out, c_out = energy.empty_result(tables[4]), energy.empty_result(tables[4])
    energy.run_from_start(tables, out)
    bench("bench.energy_reference").c_study(tmp_path, compiler, tables, c_out)()
    for name, values in out._asdict().items():
        np.testing.assert_allclose(getattr(c_out, name), values, rtol=1e-9, atol=1e-9, err_msg=name)
    assert out.is_cut.any()
    assert (out.battery_a > 0.0).any()


def test_the_lanes_in_c_give_the_same(bench, tmp_path):
    compiler = shutil.which("c++")
    if compiler is None:
        pytest.skip("there is no compiler `c++` here")
    energy, lanes = bench("bench.energy_time"), bench("bench.energy_lanes")
    runs = energy.kernel_tables_of_years(energy.C_JOB, count=8, day_count=28)
    tables = lanes.lanes_tables(runs, 28 * 96)
    out, c_out = lanes.result_of(runs, 28 * 96), lanes.result_of(runs, 28 * 96)
    lanes.run_laid(tables, out)
    lanes.c_lanes(tmp_path, compiler, tables, c_out)()
    for name, values in out._asdict().items():
        np.testing.assert_allclose(getattr(c_out, name), values, rtol=1e-9, atol=1e-9, err_msg=name)
    assert out.is_cut.any()
    assert np.ptp(out.charge_ah, axis=1).max() > 0.0


@pytest.mark.parametrize(("options", "code"), [([], 0), (["--strict"], 1)])
def test_only_strict_makes_a_limit_an_exit_code(bench, monkeypatch, capsys, options, code):
    run, measure = bench("bench.run"), bench("bench.measure")
    slow = measure.Figure(what="rules", value=2.0, unit="ms", limit=1.0)
    monkeypatch.setattr(run, "figures", lambda: iter([slow]))
    assert run.main(options) == code
    assert "1 beyond their limits" in capsys.readouterr().out


def test_the_bench_of_the_web_app_edits_a_field_the_starting_job_has(bench):
    field = bench("bench.web_time").FIELD
    table, number, key = field.split(".")
    raw = tomllib.loads(
        (ROOT / "src" / "ampwright" / "job" / "starting_job.toml").read_text(encoding="utf-8")
    )
    assert key in raw[table][int(number)]
