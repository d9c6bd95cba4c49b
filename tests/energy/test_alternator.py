"""Alternator and its chargers."""

import math

import numpy as np
import pytest

from ampwright.energy.alternator import alternator_rows, alternator_states
from ampwright.energy.frame import frame_of
from ampwright.energy.sources_map import source_map

VEHICLE = """
[vehicle]
description = "van"
system_v = 12
[vehicle.alternator]
rating_a = 120.0
regulation = "{regulation}"
voltage_v = 14.2
lowest_v = {low}
highest_v = 14.8
hot_road_frac = 0.8
hot_idle_frac = 0.4
own_load_day_a = 30.0
own_load_night_a = 45.0
[vehicle.starter_battery]
capacity_ah = 70.0
short_circuit_a = 1500.0
resistance_ohm = 0.006
"""
USE = """
[use]
days = ["travel"]
[[day]]
id = "travel"
[[day.period]]
start = "09:00"
end = "11:00"
state = "road"
[[day.period]]
start = "21:00"
end = "21:30"
state = "idle"
"""
CHARGER = """
[[part]]
id = "{id}"
part = "{part}"
[[run]]
id = "{id}-in"
start = "starter-battery"
end = "{id}.in"
cable = "cable-16"
length_m = 5.0
[[run]]
id = "{id}-out"
start = "bank"
end = "{id}.out"
cable = "cable-16"
length_m = 1.0
"""
BANK = '[[part]]\nid = "bank"\npart = "lfp-100"\n'


@pytest.fixture
def rig(design_of, head_with):
    """Return a function that makes a design with chargers on the alternator."""

    def build(chargers, *, regulation="fixed", low=13.8, extra=""):
        head = head_with(VEHICLE.format(regulation=regulation, low=low))
        body = BANK + "".join(CHARGER.format(id=f"dc{i}", part=part) for i, part in enumerate(chargers))
        return design_of(body + extra, head=head, use=USE)

    return build


def states(design, path_ohm=0.0):
    found = alternator_states(design, source_map(design), np.full(len(design.nodes), path_ohm))
    return {(one.state, one.is_night): one for one in found}


def test_spare_and_wanted_by_hand(rig):
    found = states(rig(["dcdc-12-20"]))
    assert found["road", False].spare_a == pytest.approx(120.0 * 0.8 - 30.0)
    assert found["idle", True].spare_a == pytest.approx(120.0 * 0.4 - 45.0)
    wanted = 20.0 * 14.4 / 0.9 / 14.2
    assert found["road", True].wanted_a == pytest.approx(wanted)
    assert found["road", True].short_a == 0.0
    assert found["idle", True].short_a == pytest.approx(wanted - 3.0)
    assert found["idle", True].available_w[0] == pytest.approx(0.9 * 14.2 * 3.0)


def test_cable_to_the_charger_raises_the_current(rig):
    one = states(rig(["dcdc-12-20"]), 0.05)["road", False]
    amps = (14.2 - math.sqrt(14.2**2 - 4 * 0.05 * 320.0)) / 0.1
    assert one.wanted_a == pytest.approx(amps)
    assert one.input_a[0] == pytest.approx(min(amps, (14.2 - 12.7) / 0.05))


def test_thin_cable_locks_the_charger_at_its_stop_voltage(rig):
    one = states(rig(["dcdc-12-20"]), 0.15)["road", False]
    assert one.input_a[0] == pytest.approx((14.2 - 12.7) / 0.15)


def test_chargers_share_what_is_spare(rig):
    one = states(rig(["dcdc-12-20", "dcdc-12-40"]))["idle", False]
    assert sum(one.input_a) == pytest.approx(18.0)
    assert one.input_a[1] / one.input_a[0] == pytest.approx((40.0 / 0.91) / (20.0 / 0.9), rel=0.05)


def test_regulated_alternator_locks_out_a_charger_without_run_signal(rig):
    found = states(rig(["dcdc-12-20"], regulation="regulated", low=12.4))
    assert found["road", False].wanted_a == 0.0
    woken = states(rig(["dcdc-12-25"], regulation="regulated", low=12.4))["road", False]
    assert woken.wanted_a == pytest.approx(25.0 * 14.4 / 0.91 / (0.5 * (12.4 + 14.2)))


def test_limits_set_at_idle_and_at_the_input(rig):
    extra = '[[setting]]\npart = "dc0"\nidle_limit_a = 5.0\ninput_limit_a = 15.0\n'
    found = states(rig(["dcdc-12-20"], extra=extra))
    assert found["idle", False].limit_a == (5.0,)
    assert found["road", False].input_a == (15.0,)


def test_start_voltage_not_reached(rig):
    extra = '[[setting]]\npart = "dc0"\nstart_v = 14.3\n'
    assert states(rig(["dcdc-12-20"], extra=extra))["road", False].wanted_a == 0.0


def test_rows_follow_the_engine(rig, sun_of):
    design = rig(["dcdc-12-20"])
    path = np.zeros(len(design.nodes))
    balance = alternator_states(design, source_map(design), path)
    (row,) = alternator_rows(frame_of(design, sun_of(), path), balance)
    on = np.flatnonzero(row.limit_a)
    assert on.tolist() == [*range(36, 44), 84, 85]
    assert row.limit_a[36] == 20.0
    assert row.available_w[84] == pytest.approx(0.9 * 14.2 * 3.0)


def test_no_alternator_no_rows(design_of, sun_of):
    design = design_of(BANK)
    assert alternator_states(design, source_map(design), np.zeros(1)) == ()
    assert alternator_rows(frame_of(design, sun_of(), np.zeros(1)), ()) == []
