"""The job the bench makes is a valid one of the size it says."""

from __future__ import annotations

import importlib
from pathlib import Path

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
    assert (beyond.is_failed, within.is_failed, without.is_failed) == (True, False, False)
    assert "FAIL" in beyond.line()
    assert "pass" in within.line()
    assert "pass" not in without.line()


@pytest.mark.parametrize(("options", "code"), [([], 0), (["--strict"], 1)])
def test_only_strict_makes_a_limit_an_exit_code(bench, monkeypatch, capsys, options, code):
    run, measure = bench("bench.run"), bench("bench.measure")
    slow = measure.Figure(what="rules", value=2.0, unit="ms", limit=1.0)
    monkeypatch.setattr(run, "figures", lambda: iter([slow]))
    assert run.main(options) == code
    assert "1 beyond their limits" in capsys.readouterr().out
