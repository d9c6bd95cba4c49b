"""Inverters as DC consumers."""

import numpy as np
import pytest

from ampwright.energy.inverters import inverter_demand, inverter_loads, on_share
from ampwright.energy.schedule import schedule_of
from ampwright.parts.inverter_loss import inverter_dc_w

PARTS = """
[[part]]
id = "bank"
part = "lfp-100"
[[part]]
id = "inv"
part = "inv-1000"
is_on_when = "{when}"
[[load]]
id = "kettle"
name = "Kettle"
power_w = 800.0
through = "inv"
[[load.when]]
start = "07:00"
end = "07:30"
duty_frac = 0.25
[[load]]
id = "screen"
name = "Screen"
power_w = 100.0
peak_w = 150.0
power_factor = 0.75
through = "inv"
[[load.when]]
start = "07:15"
end = "08:00"
"""


@pytest.fixture
def demand(design_of):
    design = design_of(PARTS.format(when="loads-use"))
    placed = design.parts[1]
    return placed.part, inverter_demand(design, schedule_of(design, 96), placed, placed.part, delay_s=300.0)


def test_mean_and_loss_of_a_constant_load(demand):
    part, found = demand
    step = 31
    assert found.ac_w[0, step] == pytest.approx(100.0)
    assert found.loss_w[0, step] == pytest.approx(inverter_dc_w(part, 100.0) - 100.0)
    assert found.duty_frac[0, step] == pytest.approx(1.0)
    assert found.on_w[0, step] == pytest.approx(inverter_dc_w(part, 100.0))


def test_mean_loss_of_a_load_that_comes_and_goes(demand):
    part, found = demand
    step = 28
    expected = 0.25 * inverter_dc_w(part, 800.0) + 0.75 * inverter_dc_w(part, 0.0)
    assert found.ac_w[0, step] + found.loss_w[0, step] == pytest.approx(expected)
    assert found.on_w[0, step] * found.duty_frac[0, step] == pytest.approx(expected)
    assert found.on_w[0, step] > 3.0 * expected


def test_peaks_and_what_outlasts_the_delay(demand):
    part, found = demand
    assert found.ac_peak_w[0, 29] == 950.0
    assert found.ac_peak_va[0, 29] == pytest.approx(800.0 + 200.0)
    assert found.peak_w[0, 29] == pytest.approx(inverter_dc_w(part, 950.0))
    assert found.long_w[0, 29] == pytest.approx(inverter_dc_w(part, 0.25 * 800.0 + 150.0))
    assert found.long_w[0, 28] == 0.0
    assert found.peak_w[0, 0] == 0.0


@pytest.mark.parametrize(("when", "steps"), [("loads-use", 4), ("not-stored", 96), ("always", 96)])
def test_when_its_own_consumption_runs(design_of, when, steps):
    design = design_of(PARTS.format(when=when))
    share = on_share(design, schedule_of(design, 96), design.parts[1])
    assert np.count_nonzero(share[0]) == steps


def test_loads_of_an_inverter(design_of):
    design = design_of(PARTS.format(when="always"))
    assert [load.id for load in inverter_loads(design, 1)] == ["kettle", "screen"]
