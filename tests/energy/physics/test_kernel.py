"""Laws of single devices against hand calculation and fine summation."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ampwright.energy.chemistry import open_circuit
from ampwright.energy.physics.kernel import (
    charge_after_ah,
    charger_a,
    coefficient_of_performance,
    cold_factor,
    consumer_a,
    fridge_step,
    periodic_start,
    piece_at,
    piece_of,
    table_mean,
    table_value,
    wanted_cooling_w,
)
from ampwright.energy.tables import table_slopes


def test_table_value_between_points():
    x, y = np.array([0.0, 1.0, 3.0]), np.array([2.0, 4.0, 5.0])
    slopes = table_slopes(x, y)
    for near in (0, 1):
        for at in (0.5, 2.0):
            lowest = piece_of(x, at, near)
            piece = piece_at(x, y, slopes, lowest, at)
            assert table_value(x, y, slopes, lowest, piece, 0.5) == 3.0
            assert table_value(x, y, slopes, lowest, piece, 2.0) == 4.5
            assert table_value(x, y, slopes, lowest, piece, 5.0) == 6.0
            assert table_value(x, y, slopes, lowest, piece, -1.0) == 0.0


@settings(deadline=None)
@given(a=st.floats(0.0, 1.0), b=st.floats(0.0, 1.0), near=st.integers(0, 15))
def test_table_mean_is_the_integral(a, b, near):
    table = open_circuit("lfp")
    grid = np.unique(np.concatenate([np.linspace(min(a, b), max(a, b), 501), table.soc_frac]))
    grid = grid[(grid >= min(a, b)) & (grid <= max(a, b))]
    volts = np.interp(grid, table.soc_frac, table.cell_v)
    area = np.sum(0.5 * (volts[1:] + volts[:-1]) * np.diff(grid))
    columns = table.soc_frac, table.cell_v, table_slopes(table.soc_frac, table.cell_v)
    lowest = piece_of(table.soc_frac, a, near)
    mean = table_mean(*columns, lowest, piece_at(*columns, lowest, a), a, b)
    assert mean * abs(b - a) == pytest.approx(area, abs=1e-12)
    assert volts.min() - 1e-12 <= mean <= volts.max() + 1e-12


def test_consumer_behind_a_cable_meets_its_power():
    amps = consumer_a(0, 100.0, 0.05, 12.0, 12.5)
    assert (12.5 - amps * 0.05) * amps == pytest.approx(100.0)


def test_consumer_beyond_collapse_gets_the_maximum_power():
    assert consumer_a(0, 1e5, 0.1, 12.0, 12.0) == pytest.approx(12.0 / 0.2)
    assert consumer_a(1, 1e5, 0.1, 12.0, 12.0) == pytest.approx(12.0 / 0.1)


def test_charger_limits():
    assert charger_a(14.4, 0.01, 20.0, 1e4, 13.0) == 20.0
    assert charger_a(14.4, 0.1, 20.0, 1e4, 14.0) == pytest.approx(4.0)
    assert charger_a(14.4, 0.1, 20.0, 1e4, 15.0) == 0.0
    amps = charger_a(14.4, 0.05, 20.0, 120.0, 13.0)
    assert (13.0 + amps * 0.05) * amps == pytest.approx(120.0)


def test_cold_doubles_the_resistance():
    assert cold_factor(0.0, 25.0) == pytest.approx(2.0)
    assert cold_factor(40.0, 25.0) == 1.0


def test_coefficient_of_performance_is_a_fraction_of_the_ideal():
    assert coefficient_of_performance(4.0, 30.0, 0.3, 10.0, 15.0) == pytest.approx(0.3 * 267.15 / 51.0)
    assert coefficient_of_performance(4.0, -30.0, 0.3, 10.0, 15.0) == pytest.approx(0.3 * 267.15 / 10.0)


def test_charge_after_a_step():
    assert charge_after_ah(50.0, 10.0, 0.9, 0.1, 0.5) == pytest.approx(50.0 + 4.5 - 0.05)
    assert charge_after_ah(50.0, -10.0, 0.9, 0.1, 0.5) == pytest.approx(50.0 - 5.0 - 0.05)


def test_wanted_cooling_brings_the_cabinet_back_in_one_step():
    cool_w = wanted_cooling_w(9.0, 30.0, 1.0, 12.0, 5.0, 0.25)
    end, _, leaked_wh = fridge_step(9.0, 0.0, cool_w, 30.0, 1.0, 12.0, 5.0, 0.0, 0.25)
    assert end == pytest.approx(5.0)
    assert leaked_wh - cool_w * 0.25 == pytest.approx(12.0 * (5.0 - 9.0))


def test_wanted_cooling_is_never_negative():
    assert wanted_cooling_w(2.0, 3.0, 1.0, 12.0, 5.0, 0.25) == 0.0


def test_ice_runs_out_within_a_step():
    # 30 W melt 3 Wh in 0.1 h; the rest of the quarter hour warms the cabinet
    end, ice_wh, leaked_wh = fridge_step(5.0, 3.0, 0.0, 35.0, 1.0, 12.0, 5.0, 100.0, 0.25)
    assert ice_wh == 0.0
    assert end == pytest.approx(35.0 - 30.0 * math.exp(-0.15 / 12.0))
    assert leaked_wh == pytest.approx(3.0 + 12.0 * (end - 5.0))


def test_cold_cabinet_stops_at_its_ice():
    end, ice_wh, _ = fridge_step(4.9, 50.0, 0.0, 35.0, 1.0, 12.0, 5.0, 100.0, 1.0)
    assert end == 5.0
    assert 20.0 < ice_wh < 50.0


def test_ice_forms_and_then_the_cabinet_cools():
    end, ice_wh, leaked_wh = fridge_step(5.0, 90.0, 60.0, 25.0, 1.0, 12.0, 5.0, 100.0, 1.0)
    assert ice_wh == 100.0
    assert end < 5.0
    assert leaked_wh - 60.0 == pytest.approx(12.0 * (end - 5.0) - 10.0)


def test_periodic_start_comes_back():
    values = np.array([3.0, 9.0, -4.0, 2.0])
    state = start = periodic_start(values, 0.5, 2.0)
    for value in values:
        state = value + (state - value) * math.exp(-0.25)
    assert state == pytest.approx(start)
