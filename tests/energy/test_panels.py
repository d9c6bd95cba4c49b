"""Panels and their controllers."""

import numpy as np
import pytest

from ampwright.energy.frame import frame_of
from ampwright.energy.panels import panel_rows

SUN = """
[[part]]
id = "bank"
part = "lfp-100"
[[part]]
id = "roof"
part = "{panel}"
shade_frac = 0.2
part_of = "{part_of}"
[[part]]
id = "sun"
part = "{controller}"
[[run]]
id = "w1"
start = "roof"
end = "sun.in"
cable = "cable-4"
length_m = 4.0
[[run]]
id = "w2"
start = "bank"
end = "sun.out"
cable = "cable-6"
length_m = 1.5
"""
USE = """
[use]
days = ["rest", "bare"]
[[day]]
id = "rest"
shade_frac = 0.25
[[day]]
id = "bare"
is_body_attached = false
"""


def row_of(design_of, sun, *, panel="panel-200", controller="solar-mp-20", part_of="vehicle", path_ohm=0.0):
    design = design_of(SUN.format(panel=panel, controller=controller, part_of=part_of), use=USE)
    path = np.full(len(design.nodes), path_ohm)
    (row,) = panel_rows(frame_of(design, sun, path), rest_v=13.0)
    return row


def test_power_by_hand(design_of, sun_of):
    sun = sun_of(5.0)
    row = row_of(design_of, sun)
    noon = 48
    plane = sun.ghi_w_m2[noon] * 0.75
    cell = 25.0 + plane / (19.3 + 0.9)
    watts = 200.0 * plane / 1000.0 * (1.0 - 0.2) * 0.95 * (1.0 - 0.0036 * (cell - 25.0))
    assert row.available_w[noon] == pytest.approx(watts * 0.96, rel=0.01)
    assert row.available_w[0] == 0.0
    assert row.limit_a[noon] == 20.0
    assert row.path_ohm == 0.001


def test_cable_from_the_panel_takes_its_share(design_of, sun_of):
    bare, wired = row_of(design_of, sun_of()), row_of(design_of, sun_of(), path_ohm=0.2)
    assert 0.9 * bare.available_w.max() < wired.available_w.max() < bare.available_w.max()


def test_panels_of_a_body_left_behind_give_nothing(design_of, sun_of):
    row = row_of(design_of, sun_of(), part_of="body")
    assert row.available_w[:96].max() > 0.0
    assert row.available_w[96:].max() == 0.0


def test_switching_controller_lets_the_current_through(design_of, sun_of):
    sun = sun_of(5.0)
    row = row_of(design_of, sun, panel="panel-100", controller="solar-sw-10")
    noon = 48
    # a little less than the short-circuit current: the panel works at the charge voltage, 14.2 V of its 18
    expected = 5.58 * sun.ghi_w_m2[noon] * 0.75 / 1000.0 * 0.8 * 0.95 * 0.98
    assert 0.97 * expected < row.limit_a[noon] < expected
    assert row.available_w[noon] == pytest.approx(row.limit_a[noon] * 14.4)


def test_panel_below_the_battery_gives_nothing(design_of, sun_of):
    design = design_of(SUN.format(panel="panel-200", controller="solar-mp-20", part_of="vehicle"), use=USE)
    (row,) = panel_rows(frame_of(design, sun_of(), np.zeros(len(design.nodes))), rest_v=26.0)
    assert row.available_w.max() == 0.0
