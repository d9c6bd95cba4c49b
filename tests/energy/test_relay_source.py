"""Charging through a split-charge relay: the alternator behind a resistance."""

import numpy as np
import pytest

from ampwright.energy.alternator import alternator_states, join_path_ohm, relay_rows
from ampwright.energy.frame import frame_of
from ampwright.energy.simulate import energy_result
from ampwright.energy.sources_map import source_map
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
    def build(relay="relay-100", regulation="fixed", low=13.8, *, bank="agm-100"):
        head = head_with(VEHICLE.format(regulation=regulation, low=low))
        design = design_of(WIRING.format(relay=relay, bank=bank), head=head, use=USE)
        return design, network_result(design).path_ohm

    return build


@pytest.fixture(scope="module")
def sun_day(sun_of):
    return sun_of()


def test_current_follows_the_two_source_law_and_the_books_close(made, sun_day):
    design, path_ohm = made(bank="lfp-100")
    found = energy_result(design, sun_day, path_ohm=path_ohm)
    (join,) = relay_joins(design)
    ohm = join_path_ohm(design, path_ohm, join)
    on = np.flatnonzero(found.source_w[:, 0] > 0.0)
    assert on.size == 16
    amps = found.source_w[on, 0] / 14.2  # at the alternator, before the way
    free = amps < 0.999 * found.alternator[0].input_a[0]
    assert free.any()
    free &= found.soc_frac[on + 1] < 0.98  # full: what it takes is then set by the end of charge
    assert amps[free] == pytest.approx((14.2 - found.battery_v[on][free]) / ohm, rel=1e-9)
    assert found.soc_frac[-1] > found.soc_frac[0] + 0.2
    assert abs(found.ledger.imbalance_wh) < 1e-9 * max(found.ledger.alternator_wh, 1.0)


def test_its_coil_is_taken_from_the_alternator_not_from_the_battery(made, sun_day):
    design, path_ohm = made()
    found = energy_result(design, sun_day, path_ohm=path_ohm)
    assert found.alternator[0].spare_a == pytest.approx(0.8 * 200.0 - 30.0 - 0.6)
    assert found.ledger.standby_wh == pytest.approx(0.0)


@pytest.mark.parametrize(
    ("wanted", "gives"),
    [
        (("relay-140-sense", "fixed", 13.8), True),
        (("relay-140-sense", "regulated", 12.4), False),
        (("relay-100", "regulated", 12.4), True),
        (("contactor-300", "fixed", 13.8), False),
    ],
)
def test_only_a_relay_that_surely_closes_is_counted_on(made, sun_day, wanted, gives):
    design, path_ohm = made(*wanted)
    states = alternator_states(design, source_map(design), path_ohm)
    rows = relay_rows(frame_of(design, sun_day, path_ohm), states)
    assert any(bool(row.limit_a.any()) for row in rows) == gives
