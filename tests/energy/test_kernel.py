"""The kernel against hand calculation, conservation laws and itself without the compiler."""

import math
import os
import runpy
import subprocess
import sys
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from ampwright.energy import kernel, tables

CASES_FILE = Path(__file__).with_name("kernel_cases.py")
CASES = SimpleNamespace(**runpy.run_path(str(CASES_FILE)))


def imbalance_wh(out, case):
    """Sources less everything else, from the kernel's own books."""
    steps = case[4]
    is_inverter = np.arange(6) == 5
    given_wh = out.source_w.sum() * steps.step_h
    dc_wh = out.consumer_w[:, ~is_inverter].sum() * steps.step_h
    return given_wh - dc_wh - out.terms_wh.sum(), given_wh + dc_wh + abs(out.terms_wh[8])


def charge_after_wh(table_ah, table_v, start_ah, taken_wh):
    """Charge left when an energy has been taken at open-circuit voltage, by fine summation."""
    grid = np.linspace(0.0, start_ah, 2_000_001)
    volts = np.interp(grid, table_ah, table_v)
    energy = np.concatenate([[0.0], np.cumsum(0.5 * (volts[1:] + volts[:-1]) * np.diff(grid))])
    return float(np.interp(energy[-1] - taken_wh, energy, grid))


def test_interpreted_python_gives_the_same(tmp_path):
    compiled = CASES.run(*CASES.random_case(7), start_degc=1.0)
    file = tmp_path / "plain.npz"
    environment = {**os.environ, "NUMBA_DISABLE_JIT": "1"}
    subprocess.run([sys.executable, str(CASES_FILE), str(file), "7"], check=True, env=environment)
    plain = np.load(file)
    for name, values in compiled._asdict().items():
        hint = f"{name}; if only physics or bus were edited, delete the *.nbi files of the compiler's cache"
        np.testing.assert_allclose(values, plain[name], rtol=1e-12, atol=1e-9, err_msg=hint)


@pytest.mark.parametrize("chemistry", ["lfp", "agm"])
def test_a_run_in_two_stretches_is_the_run(chemistry):
    case = CASES.random_case(11, strength=3.0, chemistry=chemistry)
    whole = CASES.run(*case, start_degc=1.0)
    steps, start_ah = case[4:]
    out = tables.empty_result(steps)
    active = tables.empty_active(6, 3, case[3], start_ah=start_ah, start_degc=1.0)
    for span in ((0, 77), (77, steps.row.size)):
        kernel.run(*case[:5], active, span, out)
    for name, values in whole._asdict().items():
        np.testing.assert_array_equal(getattr(out, name), values, err_msg=name)
    assert whole.is_unserved.any()


@settings(max_examples=60, deadline=None)
@given(
    seed=st.integers(0, 10_000),
    strength=st.sampled_from([0.2, 1.0, 3.0]),
    chemistry=st.sampled_from(["lfp", "agm", "gel", "flooded"]),
    has_cutoff=st.booleans(),
)
def test_books_balance_whatever_cuts_off(seed, strength, chemistry, has_cutoff):
    case = CASES.random_case(seed, strength=strength, chemistry=chemistry, has_cutoff=has_cutoff)
    out = CASES.run(*case, start_degc=1.0)
    left_wh, throughput_wh = imbalance_wh(out, case)
    assert abs(left_wh) <= 1e-9 * throughput_wh + 1e-12
    assert out.charge_ah.min() >= 0.0
    assert out.charge_ah.max() <= 100.0


@settings(max_examples=40, deadline=None)
@given(seed=st.integers(0, 10_000), strength=st.sampled_from([0.2, 3.0]))
def test_refrigerator_heat_balances(seed, strength):
    case = CASES.random_case(seed, strength=strength)
    fridge = case[3]
    out = CASES.run(*case)
    stored = fridge.capacity_wh_per_k[0] * (out.fridge_degc[-1, 0] - fridge.set_degc[0])
    melted = fridge.ice_wh[0] - out.ice_wh[-1, 0]
    leaked, pumped, reset = out.fridge_wh[:, 0]
    scale = abs(leaked) + pumped + abs(reset) + 1.0
    assert leaked - pumped + reset == pytest.approx(stored + melted, abs=1e-9 * scale)


@settings(max_examples=30, deadline=None)
@given(seed=st.integers(0, 10_000), factor=st.floats(1.0, 3.0))
def test_more_sun_never_leaves_less_stored_when_nothing_cuts_off(seed, factor):
    bank, consumers, sources, fridges, steps, start = CASES.random_case(
        seed, strength=0.1, start_frac=0.6, has_cutoff=False
    )
    # A heater takes what the sun gives before the battery does; it is left out here.
    bank = bank._replace(charge_min_degc=-40.0, heater_w=0.0)
    more = steps._replace(available_w=steps.available_w * np.array([factor, 1.0, 1.0]))
    low = CASES.run(bank, consumers, sources, fridges, steps, start)
    high = CASES.run(bank, consumers, sources, fridges, more, start)
    assume(not (low.is_open.any() or low.is_blocked.any() or low.is_unserved.any()))
    # Near full a mean over the step undershoots a falling end of charge by up to a thousandth.
    assert high.charge_ah[-1] >= low.charge_ah[-1] - 0.1
    if high.charge_ah.max() < 98.0:
        assert high.charge_ah[-1] >= low.charge_ah[-1] - 1e-7


def test_constant_power_follows_the_integral_of_the_table():
    bank = CASES.bank()
    out = CASES.run(
        bank, CASES.consumers(1), CASES.sources(), CASES.fridges(), CASES.steps(48, on_w=[60.0]), 95.0
    )
    for hours in (3, 7, 12):
        expected = charge_after_wh(bank.table_ah, bank.table_v, 95.0, 60.0 * hours)
        assert out.charge_ah[4 * hours] == pytest.approx(expected, abs=1e-4)


def test_resistance_costs_current_squared():
    bank = CASES.bank(curve=CASES.FLAT, resistance_ohm=0.02)
    consumers = CASES.consumers(1, kind=np.array([1]))
    out = CASES.run(bank, consumers, CASES.sources(), CASES.fridges(), CASES.steps(4, on_w=[120.0]), 90.0)
    assert out.battery_a == pytest.approx(np.full(4, -10.0))
    assert out.battery_v == pytest.approx(np.full(4, 13.0 - 0.2))
    assert out.terms_wh[5] == pytest.approx(10.0**2 * 0.02 * 1.0)


def test_three_kinds_of_load_behind_a_cable():
    bank = CASES.bank(curve=CASES.FLAT)
    consumers = CASES.consumers(3, kind=np.array([0, 1, 2]), path_ohm=np.full(3, 0.1))
    steps = CASES.steps(4, on_w=[120.0, 60.0, 72.0])
    out = CASES.run(bank, consumers, CASES.sources(), CASES.fridges(), steps, 90.0)
    power_a = (13.0 - math.sqrt(13.0**2 - 4 * 0.1 * 120.0)) / 0.2
    resistive_a = 13.0 / (12.0**2 / 72.0 + 0.1)
    assert out.battery_a[0] == pytest.approx(-(power_a + 5.0 + resistive_a))
    assert out.consumer_w[0] == pytest.approx([120.0, (13.0 - 0.5) * 5.0, resistive_a**2 * 2.0])
    assert out.terms_wh[4] == pytest.approx(0.1 * (power_a**2 + 25.0 + resistive_a**2))


def test_constant_current_charge():
    bank = CASES.bank(efficiency_frac=0.9)
    steps = CASES.steps(8, limit_a=[10.0], available_w=[1000.0])
    out = CASES.run(bank, CASES.consumers(0), CASES.sources([14.4], [0.001]), CASES.fridges(), steps, 20.0)
    assert out.charge_ah[-1] == pytest.approx(20.0 + 0.9 * 10.0 * 2.0)


def test_charge_tapers_through_cable_and_battery():
    bank = CASES.bank(curve=CASES.FLAT, resistance_ohm=0.03)
    steps = CASES.steps(1, limit_a=[100.0], available_w=[5000.0])
    out = CASES.run(bank, CASES.consumers(0), CASES.sources([14.0], [0.02]), CASES.fridges(), steps, 20.0)
    assert out.battery_a[0] == pytest.approx((14.0 - 13.0) / (0.02 + 0.03))
    assert out.source_w[0, 0] == pytest.approx(14.0 * 20.0)


def test_charger_gives_no_more_than_its_power():
    bank = CASES.bank(curve=CASES.FLAT)
    steps = CASES.steps(1, limit_a=[100.0], available_w=[130.0])
    out = CASES.run(bank, CASES.consumers(0), CASES.sources([14.4], [0.001]), CASES.fridges(), steps, 20.0)
    assert out.source_w[0, 0] == pytest.approx(130.0)


def test_end_of_charge_does_not_ring():
    bank = CASES.bank(resistance_ohm=0.012, charge_max_v=14.6, charge_again_v=13.5)
    steps = CASES.steps(40, on_w=[30.0], limit_a=[20.0], available_w=[400.0])
    out = CASES.run(bank, CASES.consumers(1), CASES.sources([14.4], [0.005]), CASES.fridges(), steps, 88.0)
    # 30 W at 14.4 V drop 0.005 * 2.08 V in the cable: rest voltage 14.39 V, 99.99 Ah
    assert (np.diff(out.charge_ah) >= 0.0).all()
    assert out.charge_ah[-1] == pytest.approx(99.0 + (14.3896 - 13.66) / 0.74, abs=0.01)
    assert out.battery_a[-20:] == pytest.approx(0.0, abs=1e-9)
    assert out.end_v.max() <= 14.4 + 1e-9
    assert not out.is_blocked.any()


def test_full_battery_takes_no_more():
    bank = CASES.bank(curve=CASES.FLAT)
    steps = CASES.steps(8, on_w=[65.0], limit_a=[30.0], available_w=[1000.0])
    out = CASES.run(bank, CASES.consumers(1), CASES.sources([14.4], [0.01]), CASES.fridges(), steps, 99.0)
    assert out.charge_ah[-1] == 100.0
    assert out.battery_a[-1] == pytest.approx(0.0, abs=1e-12)
    assert out.source_w[-1, 0] == pytest.approx(65.0 + 0.01 * 5.0**2)


def test_lead_acid_takes_less_the_fuller_it_is():
    bank = CASES.bank(curve=CASES.FLAT, acceptance_h=2.0)
    steps = CASES.steps(8, limit_a=[100.0], available_w=[5000.0])
    out = CASES.run(bank, CASES.consumers(0), CASES.sources([14.4], [0.001]), CASES.fridges(), steps, 80.0)
    assert out.charge_ah[-1] == pytest.approx(100.0 - 20.0 * math.exp(-2.0 / 2.0))


def test_cutoff_opens_and_closes_with_hysteresis():
    curve = (np.array([0.0, 100.0]), np.array([11.0, 14.0]))
    bank = CASES.bank(curve=curve)
    consumers = CASES.consumers(2, is_cut=np.array([True, False]), has_cutoff=True, open_v=11.9, close_v=12.5)
    steps = CASES.steps(160, on_w=[100.0, 5.0], limit_a=[20.0], available_w=[400.0])
    steps.available_w[:80] = 0.0
    out = CASES.run(bank, consumers, CASES.sources([14.0], [0.001]), CASES.fridges(), steps, 60.0)
    assert out.is_cut[79]
    assert not out.is_cut[-1]
    first = int(np.argmax(out.is_cut))
    assert out.end_v[first - 1] >= 11.9
    assert 11.0 + 0.03 * (out.charge_ah[first] - 25.0 / 12.0) < 11.9
    again = 80 + int(np.argmax(~out.is_cut[80:]))
    assert out.end_v[again - 1] >= 12.5 > out.end_v[again - 2]
    assert not out.is_unserved[:, 1].any()
    assert out.missing_w[out.is_cut, 0] == pytest.approx(100.0)


def test_long_peak_opens_the_cutoff_and_a_short_one_does_not():
    bank = CASES.bank(curve=CASES.FLAT, resistance_ohm=0.02)
    consumers = CASES.consumers(1, has_cutoff=True, open_v=11.8, close_v=14.5)
    short = CASES.steps(4, on_w=[60.0], peak_w=np.full((4, 1), 1000.0))
    long = short._replace(long_w=np.full((4, 1), 1000.0))
    calm = CASES.run(bank, consumers, CASES.sources(), CASES.fridges(), short, 90.0)
    tripped = CASES.run(bank, consumers, CASES.sources(), CASES.fridges(), long, 90.0)
    peak_v = 0.5 * (13.0 + math.sqrt(13.0**2 - 4.0 * 0.02 * 1000.0))
    assert calm.low_v == pytest.approx(np.full(4, peak_v))
    assert calm.peak_a == pytest.approx(np.full(4, 1000.0 / peak_v))
    assert not calm.is_cut.any()
    assert tripped.is_cut.all()


def test_no_charge_below_freezing_and_chargers_still_carry_loads():
    bank = CASES.bank(curve=CASES.FLAT)
    steps = CASES.steps(4, on_w=[65.0], limit_a=[30.0], available_w=[1000.0], zone_degc=np.full(4, -5.0))
    out = CASES.run(
        bank, CASES.consumers(1), CASES.sources([14.4], [0.01]), CASES.fridges(), steps, 50.0, start_degc=-5.0
    )
    assert out.is_blocked.all()
    assert out.charge_ah == pytest.approx(np.full(5, 50.0))
    assert out.consumer_w[:, 0] == pytest.approx(np.full(4, 65.0))


def test_heater_warms_the_cells_until_they_may_be_charged():
    bank = CASES.bank(curve=CASES.FLAT, heater_w=60.0, cooling_w_per_k=2.0)
    steps = CASES.steps(40, limit_a=[30.0], available_w=[300.0], zone_degc=np.full(40, -5.0))
    out = CASES.run(
        bank, CASES.consumers(0), CASES.sources([14.4], [0.01]), CASES.fridges(), steps, 50.0, start_degc=-5.0
    )
    assert out.cell_degc[1] == pytest.approx(-5.0 + 60.0 / 2.0 * (1.0 - math.exp(-0.25 / 6.0)))
    assert out.cell_degc.max() <= 2.0 + 1e-9
    assert out.is_blocked[0]
    assert not out.is_blocked[-1]
    assert out.charge_ah[-1] > 50.0


def test_a_heater_that_feeds_from_the_battery_warms_it_without_a_charger():
    bank = CASES.bank(curve=CASES.FLAT, heater_w=65.0, heater_free_w=65.0, cooling_w_per_k=2.0)
    steps = CASES.steps(4, zone_degc=np.full(4, -5.0))
    out = CASES.run(bank, CASES.consumers(0), CASES.sources(), CASES.fridges(), steps, 50.0, start_degc=-5.0)
    assert out.charge_ah == pytest.approx(50.0 - np.arange(5) * 65.0 / 13.0 * 0.25)
    assert out.cell_degc[1] == pytest.approx(-5.0 + 65.0 / 2.0 * (1.0 - math.exp(-0.25 / 6.0)))


def test_loads_of_comfort_are_shed_first_and_come_back():
    """Rest voltage 11 V + 0.03 V/Ah, no resistance: 12.2 V are 40 Ah, 12.8 V are 60 Ah."""
    curve = (np.array([0.0, 100.0]), np.array([11.0, 14.0]))
    consumers = CASES.consumers(
        2,
        shed_v=np.array([12.2, 0.0]),
        shed_back_v=np.array([12.8, 0.0]),
        has_cutoff=True,
        open_v=11.5,
        close_v=12.5,
    )
    steps = CASES.steps(240, on_w=[100.0, 25.0], limit_a=[30.0], available_w=[600.0])
    steps.available_w[:32] = 0.0
    out = CASES.run(
        bank=CASES.bank(curve=curve),
        consumers=consumers,
        sources=CASES.sources([14.0], [0.001]),
        fridges=CASES.fridges(),
        steps=steps,
        start_ah=55.0,
    )
    shed = out.is_unserved[:, 0]
    first = int(np.argmax(shed))
    assert out.end_v[first - 1] >= 12.2
    assert 11.0 + 0.03 * (out.charge_ah[first] - 125.0 / 12.2 * 0.25) < 12.2
    again = 32 + int(np.argmax(~shed[32:]))
    assert out.end_v[again - 1] >= 12.8 > out.end_v[again - 2]
    assert not out.is_unserved[:, 1].any()
    assert not out.is_cut.any()


def test_overcurrent_opens_the_management():
    bank = CASES.bank(curve=CASES.FLAT, discharge_max_a=50.0)
    out = CASES.run(
        bank, CASES.consumers(1), CASES.sources(), CASES.fridges(), CASES.steps(2, on_w=[900.0]), 90.0
    )
    assert out.is_open.all()
    assert out.charge_ah[-1] == 90.0


def test_over_voltage_blocks_the_charge():
    bank = CASES.bank(charge_max_v=13.9, charge_again_v=13.5)
    steps = CASES.steps(96, limit_a=[20.0], available_w=[400.0])
    out = CASES.run(bank, CASES.consumers(0), CASES.sources([14.4], [0.001]), CASES.fridges(), steps, 90.0)
    assert out.is_blocked[-1]
    assert out.end_v.max() <= 13.9


def test_empty_battery_stops_everything_and_recovers():
    bank = CASES.bank(curve=(np.array([0.0, 100.0]), np.array([11.0, 14.0])), reconnect_v=11.3)
    steps = CASES.steps(80, on_w=[200.0], limit_a=[20.0], available_w=[400.0])
    steps.available_w[:40] = 0.0
    steps.duty_frac[40:] = 0.2
    out = CASES.run(bank, CASES.consumers(1), CASES.sources([14.0], [0.001]), CASES.fridges(), steps, 30.0)
    assert out.is_open[39]
    assert 0.0 <= out.charge_ah[40] < 5.0
    assert not out.is_open[-1]


def test_inverter_stops_at_its_own_voltage():
    curve = (np.array([0.0, 100.0]), np.array([11.0, 14.0]))
    consumers = CASES.consumers(
        1, path_ohm=np.array([0.02]), lock_v=np.array([11.5]), unlock_v=np.array([12.5])
    )
    steps = CASES.steps(40, on_w=[240.0])
    out = CASES.run(CASES.bank(curve=curve), consumers, CASES.sources(), CASES.fridges(), steps, 60.0)
    on = ~out.is_unserved[:, 0]
    amps = -out.battery_a[on]
    assert (out.end_v[on] - amps * 0.02 >= 11.5 - 1e-3).all()
    assert not on[-1]


def test_refrigerator_steady_power():
    # 25 W leak in; evaporator -5 degC, condenser 45 degC: COP = 0.3 * 268.15 / 50 = 1.6089
    consumers = CASES.consumers(1, fridge=np.array([0]))
    steps = CASES.steps(8, on_w=[60.0], n_fridges=1)
    out = CASES.run(CASES.bank(), consumers, CASES.sources(), CASES.fridges(1), steps, 90.0)
    assert out.consumer_w[:, 0] == pytest.approx(np.full(8, 25.0 / 1.6089))
    assert out.fridge_degc == pytest.approx(np.full((8, 1), 5.0))


def test_ice_holds_the_cabinet_and_then_it_warms():
    # 0.5 W/K * 30 K = 15 W: 330 Wh of ice last 22 h; then T = 35 - 30 exp(-0.5/12 t)
    consumers = CASES.consumers(1, fridge=np.array([0]))
    steps = CASES.steps(
        128,
        on_w=[60.0],
        duty=0.0,
        n_fridges=1,
        air_degc=np.full((128, 1), 35.0),
        leak_w_per_k=np.full((128, 1), 0.5),
    )
    out = CASES.run(
        CASES.bank(), consumers, CASES.sources(), CASES.fridges(1, ice_wh=np.array([330.0])), steps, 90.0
    )
    assert out.ice_wh[0, 0] == pytest.approx(330.0 - 15.0 * 0.25)
    assert out.fridge_degc[: 22 * 4, 0] == pytest.approx(5.0)
    assert out.fridge_degc[32 * 4 - 1, 0] == pytest.approx(35.0 - 30.0 * math.exp(-0.5 / 12.0 * 10.0))


def test_ice_freezes_again_before_the_compressor_rests():
    consumers = CASES.consumers(1, fridge=np.array([0]))
    steps = CASES.steps(96, on_w=[60.0], n_fridges=1)
    steps.duty_frac[:16] = 0.0
    out = CASES.run(
        CASES.bank(), consumers, CASES.sources(), CASES.fridges(1, ice_wh=np.array([200.0])), steps, 90.0
    )
    assert out.ice_wh[15, 0] == pytest.approx(200.0 - 25.0 * 4.0)
    assert out.consumer_w[16, 0] == pytest.approx(60.0)
    assert out.ice_wh[-1, 0] == pytest.approx(200.0)
    assert out.consumer_w[-1, 0] == pytest.approx(25.0 / 1.6089)


def test_refrigerator_not_in_use_keeps_its_set_temperature():
    consumers = CASES.consumers(1, fridge=np.array([0]))
    steps = CASES.steps(16, on_w=[60.0], duty=0.0, n_fridges=1)
    steps.is_used[8:] = False
    out = CASES.run(CASES.bank(), consumers, CASES.sources(), CASES.fridges(1), steps, 90.0)
    assert out.fridge_degc[7, 0] > 8.0
    assert out.fridge_degc[-1, 0] == 5.0
