"""Battery bank from its cases."""

import runpy
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

from ampwright.energy.bank import bank_capacity_ah, bank_table

CASES = SimpleNamespace(**runpy.run_path(str(Path(__file__).with_name("kernel_cases.py"))))
BANK = '[[part]]\nid = "bank"\npart = "{part}"\nstrings = {strings}\nin_series = {series}\n'


def test_strings_and_series(design_of):
    design = design_of(BANK.format(part="lfp-100", strings=2, series=2))
    one = bank_table(design_of(BANK.format(part="lfp-100", strings=1, series=1)))
    bank = bank_table(design)
    assert bank_capacity_ah(design) == 200.0
    assert bank.table_ah[-1] == 200.0
    assert bank.table_v == pytest.approx(2.0 * one.table_v)
    assert bank.resistance_ohm == pytest.approx(one.resistance_ohm)
    assert bank.cutoff_v == pytest.approx(2.0 * one.cutoff_v)
    assert bank.discharge_max_a == pytest.approx(2.0 * one.discharge_max_a)
    assert one.table_v[8] == pytest.approx(4 * 3.266)


def test_self_discharge_is_the_stated_part_of_a_month(design_of):
    bank = bank_table(design_of(BANK.format(part="lfp-100", strings=1, series=1)))
    assert bank.self_discharge_a * 730.5 == pytest.approx(3.0)


def test_lead_acid_without_management_is_only_blocked_when_empty(design_of):
    bank = bank_table(design_of(BANK.format(part="agm-100", strings=1, series=1)))
    assert bank.cutoff_v == 0.0
    assert bank.acceptance_h > 0.0
    assert bank.discharge_max_a == 1e9
    assert bank.table_v[-1] == pytest.approx(12.8)


def test_mass_not_stated_is_estimated(design_of):
    design = design_of(BANK.format(part="lfp-100", strings=1, series=1))
    placed = design.parts[design.battery]
    part = replace(design.battery_part(), mass_kg=0.0)
    light = replace(design, parts=(replace(placed, part=part),))
    assert bank_table(light).cooling_w_per_k == pytest.approx(12.0 * 0.28 / 6.0)


@pytest.mark.parametrize(
    ("air_degc", "left_ah", "most_ah"), [(25.0, 0.0, 8.0), (0.0, 16.0, 18.75), (-10.0, 24.0, 26.75)]
)
def test_lithium_gives_less_in_the_cold(design_of, air_degc, left_ah, most_ah):
    """0.8 % of 100 Ah for each kelvin below 20 degC stays inside, until it is warm again."""
    bank = bank_table(design_of(BANK.format(part="lfp-100", strings=1, series=1)))
    steps = CASES.steps(600, on_w=[130.0], zone_degc=np.full(600, air_degc))
    consumers = CASES.consumers(1, kind=np.array([1]))
    out = CASES.run(bank, consumers, CASES.sources(), CASES.fridges(), steps, 100.0, start_degc=air_degc)
    assert out.is_open[-1]
    emptied = int(np.argmax(out.is_open))
    # 130 W are about 11 A, 2.75 Ah a step: emptied within a step of the floor; warm by the management's own voltage
    assert left_ah - 1e-6 <= out.charge_ah[emptied] <= most_ah


@pytest.mark.parametrize("given_w", [0.0, 1e-3, 0.02, 5.0])
def test_below_what_the_cold_leaves_nobody_replaces_the_self_discharge(given_w):
    """10 of 100 Ah at 0 degC, where 16 Ah must stay: it gives nothing, and takes in what a charger gives, no more."""
    bank = CASES.bank(cold_loss_frac_per_k=0.008, self_discharge_a=0.004, resistance_ohm=0.01)
    steps = CASES.steps(4, limit_a=[20.0], available_w=[given_w], zone_degc=np.full(4, 0.0))
    out = CASES.run(
        bank, CASES.consumers(0), CASES.sources([14.2], [0.01]), CASES.fridges(), steps, 10.0, start_degc=0.0
    )
    assert out.battery_a * out.battery_v == pytest.approx(out.source_w[:, 0], abs=0.01 * given_w + 1e-9)
    assert np.diff(out.charge_ah) == pytest.approx((out.battery_a - 0.004) * 0.25, abs=1e-9)
    stored_and_lost_wh = out.terms_wh[4:].sum()
    assert stored_and_lost_wh == pytest.approx(out.source_w.sum() * 0.25, abs=1e-9)
    assert not out.is_open.any()
