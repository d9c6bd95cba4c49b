"""Runs side by side against the same runs one by one."""

import runpy
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
from numba import config

from ampwright.energy import kernel
from ampwright.energy.lanes import runs as runs_module
from ampwright.energy.lanes.runs import FEWEST, run_all
from ampwright.energy.tables import LANES, ActiveTable, empty_active, empty_result

CASES = SimpleNamespace(**runpy.run_path(str(Path(__file__).parents[1] / "kernel_cases.py")))


def tables_of(seed, **options):
    *tables, start_ah = CASES.random_case(seed, **options)
    active = empty_active(6, 3, tables[3], start_ah=start_ah, start_degc=1.0)
    return (*tables, active)


def fresh(tables):
    return (*tables[:5], ActiveTable(*(values.copy() for values in tables[5])))


def one_by_one(runs):
    outs = [empty_result(tables[4]) for tables in runs]
    for tables, out in zip(runs, outs, strict=True):
        kernel.run(*fresh(tables), (0, tables[4].row.size), out)
    return outs


def assert_same(found, expected):
    assert len(found) == len(expected)
    for one, two in zip(found, expected, strict=True):
        for name, values in two._asdict().items():
            np.testing.assert_array_equal(getattr(one, name), values, err_msg=name)


@pytest.mark.parametrize("chemistry", ["lfp", "agm", "gel", "flooded"])
@pytest.mark.parametrize("strength", [0.2, 1.0, 3.0])
def test_runs_side_by_side_are_the_runs_alone_to_the_last_bit(chemistry, strength):
    runs = [tables_of(seed, chemistry=chemistry, strength=strength) for seed in range(2 * LANES)]
    alone = one_by_one(runs)
    assert_same(run_all([fresh(tables) for tables in runs]), alone)
    # What sets lanes apart from one another did happen, in some runs and not in all.
    for name in ("is_cut", "is_open", "is_blocked", "is_unserved"):
        assert any(getattr(out, name).any() for out in alone), name
    assert any(out.heater_w.any() for out in alone)
    assert any((np.diff(out.ice_wh, axis=0) != 0.0).any() for out in alone)
    assert not all(out.is_cut.any() for out in alone) or strength > 0.2


@pytest.mark.parametrize("count", [1, FEWEST - 1, FEWEST, LANES + 1])
def test_any_number_of_runs(count):
    runs = [tables_of(seed) for seed in range(count)]
    assert_same(run_all([fresh(tables) for tables in runs]), one_by_one(runs))


def test_runs_that_differ_in_more_than_numbers_go_with_their_like():
    runs = [tables_of(seed, chemistry="agm" if seed % 3 else "lfp") for seed in range(9)]
    runs[4] = tables_of(4, chemistry="agm", has_cutoff=False)
    runs[7] = tables_of(7, chemistry="agm", n_days=1)
    assert_same(run_all([fresh(tables) for tables in runs]), one_by_one(runs))


def test_each_run_follows_its_own_day_plans():
    runs = [tables_of(seed) for seed in range(LANES)]
    days = [np.random.default_rng(seed).permutation(2) for seed in range(LANES)]
    rows = [(96 * order[:, None] + np.arange(96)).reshape(-1) for order in days]
    runs = [
        (*tables[:4], tables[4]._replace(row=row), tables[5]) for tables, row in zip(runs, rows, strict=True)
    ]
    assert len({tuple(order) for order in days}) == 2
    assert_same(run_all([fresh(tables) for tables in runs]), one_by_one(runs))


def test_tables_in_pieces_are_refused():
    runs = [tables_of(seed) for seed in range(FEWEST)]
    loose = np.zeros(2 * runs[0][4].zone_degc.size)[::2]
    runs[1] = (*runs[1][:4], runs[1][4]._replace(zone_degc=loose), runs[1][5])
    with pytest.raises(ValueError, match="one piece"):
        run_all(runs)


def test_without_the_compiler_runs_go_alone(monkeypatch):
    monkeypatch.setattr(config, "DISABLE_JIT", 1)
    monkeypatch.setattr(runs_module, "_together", None)
    runs = [tables_of(seed) for seed in range(LANES)]
    assert_same(run_all([fresh(tables) for tables in runs]), one_by_one(runs))
