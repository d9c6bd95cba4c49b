"""What flows back through a closed relay to an alternator that is held low, by hand, and books that close."""

import numpy as np
import pytest

from ampwright.energy.alternator import join_path_ohm
from ampwright.energy.endurance import autonomy_h
from ampwright.energy.frame import frame_of
from ampwright.energy.returns import return_rows
from ampwright.energy.simulate import energy_result
from ampwright.job.joins import relay_joins
from ampwright.network.solve import network_result

VEHICLE = """
[vehicle]
description = "van"
system_v = 12
[vehicle.alternator]
rating_a = 200.0
regulation = "{regulation}"
voltage_v = 14.2
lowest_v = {low}
highest_v = 14.8
hot_road_frac = 0.8
hot_idle_frac = 0.4
own_load_day_a = {own}
own_load_night_a = 45.0
[vehicle.starter_battery]
capacity_ah = 70.0
short_circuit_a = 1500.0
resistance_ohm = 0.006
"""
USE = """
[use]
days = ["travel"]
start_soc_frac = 0.5
[[day]]
id = "travel"
[[day.period]]
start = "08:00"
end = "12:00"
state = "road"
"""
WIRING = """
[[part]]
id = "bank"
part = "{bank}"
[[part]]
id = "relay"
part = "{relay}"
[[run]]
id = "R1"
start = "starter-battery"
end = "relay.in"
cable = "cable-25"
length_m = 6.0
[[run]]
id = "R2"
start = "bank"
end = "relay.out"
cable = "cable-25"
length_m = 1.0
"""


@pytest.fixture(scope="module")
def made(design_of, head_with):
    def build(relay="relay-100", low=11.0, own_a=10.0, *, regulation="regulated", bank="lfp-100"):
        vehicle = VEHICLE.format(regulation=regulation, low=low, own=own_a)
        design = design_of(WIRING.format(relay=relay, bank=bank), head=head_with(vehicle), use=USE)
        return design, network_result(design).path_ohm

    return build


@pytest.fixture(scope="module")
def sun_day(sun_of):
    return sun_of()


def test_half_of_the_vehicles_load_flows_back(made, sun_day):
    """Mean of 14.2 and 11.0 V is 12.6 V; lithium rests at 13.06 V: 5 A for four hours, at the vehicle's end of the way."""
    design, path_ohm = made()
    found = energy_result(design, sun_day, path_ohm=path_ohm)
    ohm = join_path_ohm(design, path_ohm, relay_joins(design)[0])
    on = np.flatnonzero(found.battery_a < -4.9)
    assert on.size == 16
    expected_wh = float(np.sum(5.0 * (found.battery_v[on] - 5.0 * ohm))) * 0.25
    assert found.ledger.returned_wh == pytest.approx(expected_wh, rel=1e-9)
    assert found.ledger.alternator_wh == 0.0
    assert abs(found.ledger.imbalance_wh) < 1e-9 * found.ledger.throughput_wh


def test_the_voltages_limit_it_too(made, sun_day):
    """Half full, 13.06 V at rest over way and battery to a mean of 13.0 V, where the vehicle would take 100 A."""
    design, path_ohm = made(low=11.8, own_a=200.0)
    (row,) = return_rows(frame_of(design, sun_day, path_ohm))
    ohm = join_path_ohm(design, path_ohm, relay_joins(design)[0]) + design.battery_part().resistance_ohm
    assert float(row.amps.max()) == pytest.approx((4 * 3.266 - 13.0) / ohm, rel=0.02)


def test_it_stops_where_the_battery_has_come_down(made, sun_day):
    """60 A h would be asked of the 50 that are left: the battery ends at the mean voltage and not empty."""
    design, path_ohm = made(own_a=40.0)
    found = energy_result(design, sun_day, path_ohm=path_ohm)
    assert found.soc_frac[-1] > 0.05
    assert abs(found.ledger.imbalance_wh) < 1e-9 * found.ledger.throughput_wh


@pytest.mark.parametrize(
    "changes",
    [
        {"regulation": "fixed", "low": 13.8},
        {"low": 12.6},
        {"relay": "contactor-300"},
        {"relay": "relay-140-sense"},
    ],
)
def test_nothing_flows_where_the_mean_is_higher_or_the_relay_open(made, sun_day, changes):
    design, path_ohm = made(**changes)
    assert return_rows(frame_of(design, sun_day, path_ohm)) == ()
    assert energy_result(design, sun_day, path_ohm=path_ohm).ledger.returned_wh == 0.0


def test_autonomy_knows_no_engine(made, sun_day):
    """No load and no engine: nothing essential goes off."""
    design, path_ohm = made()
    assert autonomy_h(design, sun_day, path_ohm=path_ohm) == np.inf
