"""Mains chargers behind the post."""

import numpy as np
import pytest

from ampwright.energy.frame import frame_of
from ampwright.energy.mains import has_transfer, mains_rows

USE = """
[use]
days = ["camp"]
mains_limit_a = {limit}
[[day]]
id = "camp"
[[day.period]]
start = "18:00"
end = "06:00"
state = "hooked-up"
"""
PARTS = """
[[part]]
id = "bank"
part = "lfp-100"
[[part]]
id = "inv"
part = "invchg-1600"
[[part]]
id = "mains"
part = "mains-20"
[[run]]
id = "w1"
start = "bank"
end = "inv"
cable = "cable-50"
length_m = 1.0
[[run]]
id = "w2"
start = "bank"
end = "mains.out"
cable = "cable-6"
length_m = 1.0
[[load]]
id = "heater"
name = "Heater"
power_w = 500.0
through = "inv"
"""


def rows(design_of, sun_of, limit, extra=""):
    design = design_of(PARTS + extra, use=USE.replace("{limit}", str(limit)))
    return {row.label: row for row in mains_rows(frame_of(design, sun_of(), np.zeros(len(design.nodes))))}


def test_full_output_while_hooked_up(design_of, sun_of):
    found = rows(design_of, sun_of, 16.0)
    assert np.flatnonzero(found["mains"].limit_a).tolist() == [*range(24), *range(72, 96)]
    assert found["inv"].available_w[0] == pytest.approx(70.0 * 14.4)
    assert found["mains"].available_w[0] == pytest.approx(20.0 * 14.4)


def test_post_limit_less_the_loads_on_mains(design_of, sun_of):
    found = rows(design_of, sun_of, 4.0)
    left = 4.0 * 230.0 - 500.0
    assert found["inv"].available_w[0] == pytest.approx(left * 0.88)
    assert found["mains"].available_w[0] == 0.0


def test_input_limit_set_on_the_device(design_of, sun_of):
    extra = '[[setting]]\npart = "mains"\ninput_limit_a = 0.5\n'
    assert rows(design_of, sun_of, 16.0, extra)["mains"].available_w[0] == pytest.approx(115.0 * 0.9)


def test_transfer(design_of):
    design = design_of(PARTS, use=USE.replace("{limit}", "16.0"))
    assert has_transfer(design, 1)
    assert not has_transfer(design, 2)
