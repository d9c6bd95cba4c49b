"""Shapes of the kernel's tables."""

import runpy
from pathlib import Path
from types import SimpleNamespace

from ampwright.energy.tables import empty_active, empty_result

CASES = SimpleNamespace(**runpy.run_path(str(Path(__file__).with_name("kernel_cases.py"))))


def test_empty_result_has_the_shapes_of_the_steps():
    steps = CASES.steps(5, on_w=[1.0, 2.0], limit_a=[3.0], available_w=[1.0], n_fridges=4)
    out = empty_result(steps)
    assert out.charge_ah.shape == (6,)
    assert out.source_w.shape == (5, 1)
    assert out.consumer_w.shape == (5, 2)
    assert out.fridge_degc.shape == (5, 4)
    assert out.fridge_wh.shape == (3, 4)


def test_empty_active_has_room_for_every_consumer():
    assert {column.size for column in empty_active(7)} == {7}
