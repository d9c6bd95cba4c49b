"""Refrigerators of a design."""

import numpy as np
import pytest

from ampwright.energy.frame import frame_of
from ampwright.energy.fridges import fridge_steps, fridge_table

USE = """
[use]
days = ["rest", "shed", "bare"]
[[day]]
id = "rest"
[[day]]
id = "shed"
otherwise = "stored"
[[day]]
id = "bare"
is_body_attached = false
"""
PARTS = """
[[part]]
id = "bank"
part = "lfp-100"
[[load]]
id = "a"
name = "Two vaccine fridges"
part = "fridge-vaccine-30"
count = 2
draw_factor = 1.5
[[load]]
id = "b"
name = "In the body"
part = "fridge-45"
part_of = "body"
"""


def test_figures_times_count(design_of):
    table = fridge_table(design_of(PARTS, use=USE), (0, 1))
    assert table.running_w[0] == 120.0
    assert table.ice_wh[0] == 660.0
    assert table.capacity_wh_per_k[0] == 24.0
    assert table.set_degc.tolist() == [5.0, 4.0]


def test_leak_and_use_by_plan(design_of, sun_of):
    design = design_of(PARTS, use=USE)
    frame = frame_of(design, sun_of(), np.zeros(len(design.nodes)))
    found = fridge_steps(design, frame.schedule, frame.calendar, frame.air, (0, 1))
    assert found.leak_w_per_k[0, 0] == pytest.approx(0.45 * 1.1 * 1.5 * 2)
    assert found.leak_w_per_k[96, 0] == pytest.approx(0.45 * 1.5 * 2)
    assert found.is_used[[0, 96, 192], 0].tolist() == [True, False, True]
    assert found.is_used[[0, 96, 192], 1].tolist() == [True, False, False]
    assert found.air_degc[0, 0] == frame.air.inside_degc[0]
