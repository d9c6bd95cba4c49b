"""A second alternator straight on the auxiliary battery: a voltage with a current limit, by hand."""

import numpy as np
import pytest

from ampwright.energy.simulate import energy_result
from ampwright.job.supply import is_second_direct
from ampwright.network.solve import network_result

VEHICLE = """
[vehicle]
description = "van"
system_v = 12
[vehicle.second_alternator]
feeds = "auxiliary"
rating_a = 200.0
regulation = "fixed"
voltage_v = 14.0
lowest_v = 13.7
highest_v = 14.6
hot_road_frac = 0.5
hot_idle_frac = 0.25
[vehicle.starter_battery]
capacity_ah = 70.0
short_circuit_a = 1500.0
resistance_ohm = 0.006
"""
USE = """
[use]
days = ["travel"]
start_soc_frac = {soc}
[[day]]
id = "travel"
[[day.period]]
start = "08:00"
end = "10:00"
state = "{state}"
"""
WIRING = """
[[part]]
id = "bank"
part = "{bank}"
[[run]]
id = "R1"
start = "bank"
end = "second-alternator"
cable = "cable-50"
length_m = {length_m}
joint_ohm = 0.0
"""


@pytest.fixture(scope="module")
def made(design_of, head_with):
    def build(*, bank="lfp-300", soc=0.2, state="road", more="", length_m=4.0):
        use = USE.format(soc=soc, state=state)
        return design_of(WIRING.format(bank=bank, length_m=length_m) + more, head=head_with(VEHICLE), use=use)

    return build


@pytest.mark.parametrize(("state", "limit_a"), [("road", 100.0), ("idle", 50.0)])
def test_an_empty_battery_takes_what_it_gives_hot(made, sun_of, state, limit_a):
    """Half of 200 A on the road, a quarter at idle; the cable loses what its resistance does."""
    design = made(state=state)
    path = network_result(design).path_ohm
    found = energy_result(design, sun_of(), path_ohm=path)
    assert found.source_labels == ("second-alternator",)
    on = found.source_w[:, 0] > 0.0
    assert on.sum() == 8
    assert found.battery_a[on][0] == pytest.approx(
        limit_a, rel=1e-3
    )  # less the standby of the battery's management
    assert found.ledger.alternator_wh == pytest.approx(float(found.source_w.sum()) * 0.25)
    assert abs(found.ledger.imbalance_wh) < 1e-9 * found.ledger.throughput_wh


def test_a_fuller_battery_takes_what_the_voltages_drive(made, sun_of):
    """40 m of cable: (14.0 V less the bus) over its resistance, below the limit."""
    design = made(length_m=40.0)
    path = network_result(design).path_ohm
    ohm = float(path[design.node_of("second-alternator")])
    found = energy_result(design, sun_of(), path_ohm=path)
    on = np.flatnonzero(found.source_w[:, 0] > 0.0)
    amps = found.source_w[on, 0] / 14.0
    assert amps.max() < 99.0
    assert amps == pytest.approx((14.0 - found.battery_v[on]) / ohm, rel=1e-6)


def test_the_corner_with_the_engine_gives_its_whole_label_at_its_highest_voltage(made):
    design = made()
    result = network_result(design)
    assert is_second_direct(design)
    assert result.loops == ()
    (point,) = [one for one in result.points if one.corner == "charging, engine running"]
    assert abs(float(point.run_a[0])) == pytest.approx(200.0)
    assert point.node_v[design.node_of("bank")] == pytest.approx(14.6)
    ohm = float(result.path_ohm[design.node_of("second-alternator")])
    assert point.node_v[design.node_of("second-alternator")] == pytest.approx(14.6 + 200.0 * ohm)


def test_a_run_on_to_the_starter_battery_is_still_refused(made):
    more = '[[run]]\nid = "X"\nstart = "bank"\nend = "starter-battery"\ncable = "cable-50"\nlength_m = 2.0\n'
    design = made(more=more)
    assert not is_second_direct(design)
    assert [design.runs[run].id for run in network_result(design).loops] != []


def test_its_label_feeds_a_fault_at_the_battery(made):
    """A fault at the battery's end of the run: the battery through nothing, or 200 A from the alternator, whichever is more."""
    design = made()
    result = network_result(design)
    battery = design.battery_part()
    assert result.run_fault_a[0] == pytest.approx(battery.short_circuit_a)
