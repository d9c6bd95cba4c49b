"""Figures of the kinetic model from capacities at several discharge times."""

import dataclasses
import runpy
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampwright.energy.bank import bank_table, charge_at_ah, soc_at_frac
from ampwright.energy.kinetic import (
    PEUKERT_EXPONENTS,
    PEUKERT_HOURS,
    kinetic_capacity_frac,
    kinetic_of,
    peukert_capacity_frac,
)
from ampwright.parts.battery import RatePoint
from ampwright.parts.catalogue import shipped_catalogue

CASES = runpy.run_path(str(Path(__file__).with_name("kernel_cases.py")))
BANK = '[[part]]\nid = "bank"\npart = "{part}"\n'


def battery(**changes):
    return dataclasses.replace(shipped_catalogue().parts["agm-100"], **changes)


def test_known_constants_are_found_again():
    """c 0.25, k 0.5/h and 130 Ah, capacities by the formula."""
    rates = tuple(
        RatePoint(
            duration_h=hours,
            capacity_ah=130.0 * kinetic_capacity_frac(hours, available_frac=0.25, exchange_per_h=0.5),
        )
        for hours in (1.0, 3.0, 5.0, 10.0, 20.0)
    )
    found = kinetic_of(battery(capacity_ah=100.0, capacity_at_rates=rates))
    assert found.available_frac == pytest.approx(0.25, rel=1e-3)
    assert found.exchange_per_h == pytest.approx(0.5, rel=1e-3)
    assert found.total_factor == pytest.approx(1.3, rel=1e-3)


@pytest.mark.parametrize("chemistry", ["agm", "gel", "flooded"])
def test_usual_figures_follow_peukert_within_three_hundredths(chemistry):
    found = kinetic_of(battery(chemistry=chemistry))
    for hours in PEUKERT_HOURS:
        capacity = found.total_factor * kinetic_capacity_frac(
            hours, available_frac=found.available_frac, exchange_per_h=found.exchange_per_h
        )
        assert capacity == pytest.approx(peukert_capacity_frac(hours, PEUKERT_EXPONENTS[chemistry]), rel=0.03)


def test_lithium_has_all_its_charge_at_hand():
    found = kinetic_of(shipped_catalogue().parts["lfp-100"])
    assert (found.available_frac, found.total_factor) == (1.0, 1.0)


@given(
    share=st.floats(0.05, 0.95),
    rate=st.floats(0.02, 10.0),
    hours=st.floats(0.1, 100.0),
    longer=st.floats(1.01, 10.0),
)
def test_slower_discharge_takes_more_and_never_all(share, rate, hours, longer):
    fast = kinetic_capacity_frac(hours, available_frac=share, exchange_per_h=rate)
    slow = kinetic_capacity_frac(hours * longer, available_frac=share, exchange_per_h=rate)
    assert share < fast < slow < 1.0


def test_the_bank_holds_more_than_its_rated_capacity_and_counts_from_full(design_of):
    design = design_of(BANK.format(part="agm-100"))
    whole = kinetic_of(design.battery_part()).total_factor
    bank = bank_table(design)
    assert bank.table_ah[-1] == pytest.approx(100.0 * whole)
    assert charge_at_ah(bank, 0.5) == pytest.approx(100.0 * whole - 50.0)
    assert soc_at_frac(bank, np.array([100.0 * whole, 100.0 * whole - 50.0, 0.0])) == pytest.approx(
        [1.0, 0.5, 0.0]
    )


def test_lithium_counts_its_rated_capacity(design_of):
    bank = bank_table(design_of(BANK.format(part="lfp-100")))
    assert (charge_at_ah(bank, 0.0), charge_at_ah(bank, 0.3), charge_at_ah(bank, 1.0)) == (0.0, 30.0, 100.0)


def test_a_lead_acid_battery_that_rests_gets_its_voltage_back():
    bank = CASES["bank"](chemistry="agm", available_frac=0.4, exchange_per_h=0.5)
    steps = CASES["steps"](48, on_w=[240.0])
    steps.duty_frac[8:] = 0.0
    out = CASES["run"](bank, CASES["consumers"](1), CASES["sources"](), CASES["fridges"](), steps, 100.0)
    assert (np.diff(out.end_v[:8]) < 0.0).all()
    assert (np.diff(out.end_v[8:]) > 0.0).all()
    assert out.end_v[-1] == pytest.approx(
        np.interp(out.charge_ah[-1], bank.table_ah, bank.table_v), abs=0.005
    )
    # what was on its way inside has become heat: 1 h of 20 A moves against a fall of some tenths of a volt
    assert out.terms_wh[5] > 0.0
    assert out.terms_wh[:9].sum() + out.consumer_w.sum() * 0.25 == pytest.approx(0.0, abs=1e-9)


def test_cold_takes_its_share_of_the_capacity():
    bank = CASES["bank"](curve=CASES["FLAT"], cold_loss_frac_per_k=0.006)
    steps = CASES["steps"](1000, on_w=[13.0], zone_degc=np.full(1000, 0.0))
    consumers = CASES["consumers"](1, kind=np.array([1]))
    out = CASES["run"](bank, consumers, CASES["sources"](), CASES["fridges"](), steps, 100.0, start_degc=0.0)
    assert out.charge_ah[-1] == pytest.approx(100.0 * 0.006 * 20.0, abs=0.3)
    assert out.is_open[-1]


def test_charging_slows_down_while_the_charge_is_on_its_way():
    """The level may not rise above full: what is missing inside decides the current."""
    bank = CASES["bank"](curve=CASES["FLAT"], available_frac=0.4, exchange_per_h=0.5)
    steps = CASES["steps"](40, limit_a=[100.0], available_w=[5000.0])
    out = CASES["run"](
        bank, CASES["consumers"](0), CASES["sources"]([14.4], [0.001]), CASES["fridges"](), steps, 50.0
    )
    assert (np.diff(out.battery_a[1:]) <= 1e-9).all()
    # level held at full: dq2/dt = k (1 - c) q1 - k c q2 with q1 = c * 100 Ah, so what is missing dies off with k c
    missing = 100.0 - out.charge_ah[8:30]
    assert missing[1:] / missing[:-1] == pytest.approx(
        np.full(missing.size - 1, np.exp(-0.5 * 0.4 * 0.25)), rel=0.02
    )
