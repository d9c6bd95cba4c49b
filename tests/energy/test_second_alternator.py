"""A second alternator: joined to the first, or apart with chargers of its own."""

import numpy as np
import pytest

from ampwright.energy.alternator import alternator_states
from ampwright.energy.simulate import energy_result
from ampwright.energy.sources_map import source_map
from ampwright.network.solve import network_result

VEHICLE = """
[vehicle]
description = "van"
system_v = 12
[vehicle.alternator]
rating_a = 100.0
regulation = "fixed"
voltage_v = 14.2
lowest_v = 13.8
highest_v = 14.8
hot_road_frac = 0.8
hot_idle_frac = 0.4
own_load_day_a = 30.0
own_load_night_a = 45.0
[vehicle.second_alternator]
feeds = "{feeds}"
rating_a = 200.0
regulation = "fixed"
voltage_v = 14.0
lowest_v = 13.7
highest_v = 14.6
hot_road_frac = 0.5
hot_idle_frac = 0.25
{more}
[vehicle.starter_battery]
capacity_ah = 70.0
short_circuit_a = 1500.0
resistance_ohm = 0.006
"""
USE = """
[use]
days = ["travel"]
start_soc_frac = 0.3
[[day]]
id = "travel"
[[day.period]]
start = "08:00"
end = "10:00"
state = "road"
"""
CHARGER = """
[[part]]
id = "{id}"
part = "dcdc-12-20"
[[run]]
id = "{id}-in"
start = "{start}"
end = "{id}.in"
cable = "cable-16"
length_m = 1.0
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
    def build(feeds, starts, more=""):
        chargers = "".join(CHARGER.format(id=f"dc{k}", start=start) for k, start in enumerate(starts))
        return design_of(BANK + chargers, head=head_with(VEHICLE.format(feeds=feeds, more=more)), use=USE)

    return build


def states(design):
    found = alternator_states(design, source_map(design), np.zeros(len(design.nodes)))
    return {(one.name, one.state, one.is_night): one for one in found}


WANTED_A = 20.0 * 14.4 / 0.9


def test_joined_they_are_one_of_their_sum(rig):
    design = rig("vehicle", ["starter-battery"])
    found = states(design)
    assert len(found) == 4
    assert found["alternator", "road", False].spare_a == pytest.approx(80.0 + 100.0 - 30.0)
    assert found["alternator", "idle", True].spare_a == pytest.approx(40.0 + 50.0 - 45.0)
    assert "second-alternator" not in design.nodes


def test_apart_each_has_its_own_spare_and_its_own_chargers(rig):
    found = states(rig("auxiliary", ["starter-battery", "second-alternator"]))
    first, second = found["alternator", "road", True], found["second alternator", "road", True]
    assert (first.spare_a, second.spare_a) == pytest.approx((35.0, 100.0))
    assert first.wanted_a == pytest.approx(WANTED_A / 14.2)
    assert second.wanted_a == pytest.approx(WANTED_A / 14.0)
    assert first.input_a[1] == second.input_a[0] == 0.0
    assert first.limit_a == (20.0, 0.0)
    assert second.limit_a == (0.0, 20.0)


def test_a_reading_goes_before_its_label(rig):
    found = states(rig("auxiliary", ["second-alternator"], more="hot_idle_a = 33.0"))
    assert found["second alternator", "idle", False].spare_a == pytest.approx(33.0)


def test_what_it_gives_reaches_the_battery_and_its_island_is_solved(rig, sun_of):
    design = rig("auxiliary", ["starter-battery", "second-alternator"])
    network = network_result(design)
    point = next(
        p for p in network.points if p.corner == "engine running, second alternator at its usual voltage"
    )
    assert point.node_v[design.node_of("second-alternator")] == 14.0
    assert 13.8 < point.node_v[design.node_of("dc1.in")] < 14.0
    assert np.isnan(point.node_v[design.node_of("dc0.in")])
    found = energy_result(design, sun_of(), path_ohm=network.path_ohm)
    on = found.source_w[32:36]
    assert (on > 100.0).all()
    assert abs(found.ledger.imbalance_wh) < 1e-6
