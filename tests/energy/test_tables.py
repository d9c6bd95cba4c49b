"""Shapes of the kernel's tables."""

import runpy
from pathlib import Path
from types import SimpleNamespace

import numpy as np

from ampwright.energy.tables import empty_active, empty_result, table_slopes

CASES = SimpleNamespace(**runpy.run_path(str(Path(__file__).with_name("kernel_cases.py"))))
OF_CONSUMERS = (
    *("member", "kind", "power_w", "duty_frac", "path_ohm", "peak_w", "long_w", "lock", "shed", "last_a"),
)
OF_SOURCES = ("source", "set_v", "source_ohm", "limit_a", "available_w")


def test_empty_result_has_the_shapes_of_the_steps():
    steps = CASES.steps(5, on_w=[1.0, 2.0], limit_a=[3.0], available_w=[1.0], n_fridges=4)
    out = empty_result(steps)
    assert out.charge_ah.shape == (6,)
    assert out.source_w.shape == (5, 1)
    assert out.consumer_w.shape == (5, 2)
    assert out.fridge_degc.shape == (5, 4)
    assert out.fridge_wh.shape == (3, 4)


def test_empty_active_has_room_for_every_consumer():
    fridges = CASES.fridges(2, ice_wh=np.array([3.0, 4.0]))
    active = empty_active(7, 2, fridges, start_ah=50.0, start_degc=12.0)
    assert {column.size for name, column in active._asdict().items() if name in OF_CONSUMERS} == {7}
    assert {column.size for name, column in active._asdict().items() if name in OF_SOURCES} == {2}
    assert active.carried[:3].tolist() == [50.0, 50.0, 12.0]
    assert active.ice_wh.tolist() == [3.0, 4.0]
    active.temp_degc[0] = 9.0
    assert fridges.set_degc[0] == 5.0


def test_slopes_of_the_pieces():
    slopes = table_slopes(np.array([0.0, 1.0, 3.0, 4.0]), np.array([2.0, 4.0, 5.0, 4.0]))
    assert slopes.tolist() == [2.0, 0.5, -1.0]
