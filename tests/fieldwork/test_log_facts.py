"""Logs made by hand, whose truth is known."""

import datetime as dt

import numpy as np
import pytest

from ampwright.fieldwork.log_facts import log_facts
from ampwright.fieldwork.log_file import BatteryLog

DAY_S = 86400.0
OHM = 0.012


def log_of(amps, *, step_s=60.0, start=(0, 0), soc=None, rest_v=13.2, times=None):
    amps = np.asarray(amps, float)
    return BatteryLog(
        start=dt.datetime.fromisoformat("2026-10-03").replace(hour=start[0], minute=start[1]),
        time_s=step_s * np.arange(amps.size) if times is None else times,
        battery_v=rest_v + OHM * amps,
        battery_a=amps,
        soc_frac=soc,
        skipped_count=0,
    )


def three_days(step_s=60.0, quiet_a=0.9, fridge_a=4.0):
    """Return a drain that never sleeps, a refrigerator ten minutes on and ten off, 20 A of sun from 10 to 15 h."""
    second = step_s * np.arange(int(3 * DAY_S / step_s))
    hour = second / 3600.0 % 24.0
    amps = np.where((second // 600.0) % 2 == 0, -quiet_a - fridge_a, -quiet_a)
    return np.where((hour >= 10.0) & (hour < 15.0), 20.0, amps)


def test_charge_of_a_day():
    found = log_facts(log_of(three_days()))
    assert found.covered_h == pytest.approx(72.0, abs=0.1)
    assert found.in_ah_per_day == pytest.approx(5 * 20.0, rel=1e-3)
    assert found.out_ah_per_day == pytest.approx(19 * 2.9, rel=1e-3)  # 0.9 A, and 4 A half of the time


@pytest.mark.parametrize("step_s", [10.0, 60.0, 300.0])
def test_quiet_and_mean_draw_at_night(step_s):
    found = log_facts(log_of(three_days(step_s), step_s=step_s))
    assert found.quiet_a == pytest.approx(0.9)
    assert found.night_a == pytest.approx(2.9)
    assert found.night_count == 3


def test_the_night_follows_the_clock_of_the_first_reading():
    amps = three_days()
    turned = np.roll(amps, -13 * 60)
    assert log_facts(log_of(turned, start=(13, 0))).quiet_a == pytest.approx(0.9)


def test_a_night_on_the_charger_tells_nothing():
    found = log_facts(log_of(np.full(1440, 5.0)))
    assert np.isnan([found.quiet_a, found.night_a]).all()
    assert found.night_count == 0


def test_resistance_from_jumps():
    amps = np.tile(np.repeat([-1.0, -30.0], 60), 20)
    found = log_facts(log_of(amps, step_s=10.0))
    assert found.resistance_ohm == pytest.approx(OHM)
    assert found.jump_count == 39


def test_slow_or_small_changes_tell_no_resistance():
    assert np.isnan(log_facts(log_of(np.linspace(-50.0, -1.0, 1000))).resistance_ohm)
    few = np.tile(np.repeat([-1.0, -30.0], 30), 20)
    assert np.isnan(log_facts(log_of(few, step_s=120.0)).resistance_ohm)


def test_hours_without_readings_are_no_hours_of_the_last_current():
    amps = np.full(120, -2.0)
    times = np.concatenate([60.0 * np.arange(60), 10 * 3600.0 + 60.0 * np.arange(60)])
    found = log_facts(log_of(amps, times=times))
    assert found.covered_h == pytest.approx(118 / 60)
    assert found.gap_h == pytest.approx(10.0 - 59 / 60, abs=1e-6)
    assert found.out_ah_per_day == pytest.approx(48.0)


def test_strongest_charge_is_a_mean_over_a_quarter_of_an_hour():
    amps = np.zeros(600)
    amps[100] = 200.0  # a spike of a minute
    amps[300:360] = 30.0
    assert log_facts(log_of(amps)).strongest_charge_a == pytest.approx(30.0)


@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_capacity_by_the_meters_own_swing(sign):
    amps = np.full(601, sign * 10.0)  # 100 Ah in ten hours
    soc = np.linspace(0.2, 0.7, 601)[:: int(sign)]
    found = log_facts(log_of(amps, soc=soc))
    assert found.capacity_ah == pytest.approx(200.0)


def test_a_small_swing_tells_no_capacity():
    assert np.isnan(log_facts(log_of(np.full(601, 1.0), soc=np.linspace(0.5, 0.7, 601))).capacity_ah)
