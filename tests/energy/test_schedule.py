"""Schedules in shares of steps."""

import numpy as np
import pytest

from ampwright.energy.schedule import is_attached, schedule_of

USE = """
[use]
days = ["work", "shed"]
[[day]]
id = "work"
is_body_attached = false
[[day.period]]
start = "22:00"
end = "06:00"
state = "hooked-up"
[[day.period]]
start = "08:05"
end = "09:00"
state = "road"
[[day]]
id = "shed"
otherwise = "stored"
"""
LOADS = """
[[part]]
id = "bank"
part = "lfp-100"
[[load]]
id = "kettle"
name = "Kettle"
power_w = 1000.0
[[load.when]]
start = "07:00"
end = "08:00"
uses = 2
use_minutes = 3.0
[[load]]
id = "lamp"
name = "Lamp"
power_w = 10.0
dimmed_frac = 0.5
[[load.when]]
start = "23:00"
end = "01:00"
[[load]]
id = "drive"
name = "Only on the road"
power_w = 10.0
[[load.when]]
states = ["road"]
[[load]]
id = "alarm"
name = "Always, in store too"
power_w = 1.0
part_of = "body"
[[load.when]]
states = ["off", "idle", "road", "hooked-up", "stored"]
"""


@pytest.fixture
def schedule(design_of):
    return schedule_of(design_of(LOADS, use=USE), 96)


def test_uses_spread_over_their_stretch(schedule):
    kettle = schedule.duty_frac[0, :, 0]
    assert kettle[28:32] == pytest.approx(0.1)
    assert kettle.sum() * 0.25 == pytest.approx(6.0 / 60.0)
    assert schedule.window_frac[0, 28, 0] == 1.0
    assert schedule.longest_s[0] == pytest.approx(180.0)


def test_past_midnight_and_dimmed(schedule):
    lamp = schedule.duty_frac[0, :, 1]
    assert np.flatnonzero(lamp).tolist() == [0, 1, 2, 3, 92, 93, 94, 95]
    assert lamp.max() == 0.5
    assert schedule.mains_frac[0, 92, 1] == 0.5


def test_states_by_the_minute(schedule):
    drive = schedule.duty_frac[0, :, 2]
    assert drive[32] == pytest.approx(10.0 / 15.0)
    assert drive.sum() * 15 == pytest.approx(55.0)
    assert schedule.state("road")[0, 32] == pytest.approx(10.0 / 15.0)
    assert schedule.state_frac.sum(axis=2) == pytest.approx(1.0)


def test_nothing_runs_in_store_but_what_says_so(schedule):
    assert (schedule.duty_frac[1, :, :3] == 0.0).all()
    assert (schedule.duty_frac[1, :, 3] == 1.0).all()


def test_what_is_carried_by_the_body_is_absent_without_it(schedule):
    assert (schedule.duty_frac[0, :, 3] == 0.0).all()


def test_is_attached(design_of):
    plan = design_of(LOADS, use=USE).plans[0]
    assert is_attached("vehicle", plan)
    assert not is_attached("body", plan)
    assert not is_attached("trailer", plan)
