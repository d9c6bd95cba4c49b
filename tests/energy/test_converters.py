"""Loads behind a converter: what the battery gives, by hand, and books that close."""

import dataclasses

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ampwright.energy.bank import bank_capacity_ah, bank_table
from ampwright.energy.consumers import bus_loads
from ampwright.energy.endurance import autonomy_h, storage_days
from ampwright.energy.simulate import energy_result
from ampwright.energy.sources_map import source_map
from ampwright.network.solve import network_result

VEHICLE = """
[vehicle]
description = "truck"
system_v = 24
body_preset = "box-body"
[vehicle.starter_battery]
capacity_ah = 110.0
short_circuit_a = 3000.0
resistance_ohm = 0.008
"""
BODY = """
[[part]]
id = "bank"
part = "lfp-100-24v"
is_on_when = "{on}"
[[part]]
id = "step"
part = "step-24-12-20"
is_on_when = "{on}"
[[run]]
id = "R1"
start = "{source}"
end = "step.in"
cable = "cable-4"
length_m = 2.0
joint_ohm = 0.0
[[run]]
id = "R2"
start = "step.out"
end = "radio"
cable = "cable-2-5"
length_m = 4.0
joint_ohm = 0.0
[[load]]
id = "radio"
name = "Radio"
power_w = {watts}
behaves = "{behaves}"
when = [{{ start = "08:00", end = "12:00" }}]
[load_cutoff]
open_v = 23.0
close_v = 25.0
"""


@pytest.fixture(scope="session")
def truck(design_of, head_with):
    def made(*, on="always", source="bank", watts=60.0, behaves="power", more="", soc=0.9):
        body = BODY.format(on=on, source=source, watts=watts, behaves=behaves) + more
        return design_of(body, head=head_with(VEHICLE), soc=soc)

    return made


def result_of(design, sun):
    return energy_result(design, sun, path_ohm=network_result(design).path_ohm)


def test_the_ledger_shows_its_loss(truck, sun_of):
    """60 W for 4 h on 3 days behind R ohm: I = (V - sqrt(V² - 4RP)) / 2R; V I / 0.9 - V I and 1.5 W for 72 h are lost."""
    design = truck()
    path = network_result(design).path_ohm
    ohm = float(path[design.node_of("radio")])
    amps = (13.6 - np.sqrt(13.6**2 - 4 * ohm * 60.0)) / (2 * ohm)
    found = result_of(design, sun_of()).ledger
    assert found.load_wh[0] == pytest.approx(60.0 * 12, rel=1e-9)
    assert found.converter_loss_wh == pytest.approx(13.6 * amps * (1 / 0.9 - 1) * 12 + 1.5 * 72, rel=1e-6)
    assert found.cable_loss_wh > amps * amps * ohm * 12
    assert abs(found.imbalance_wh) < 1e-9 * found.throughput_wh


def test_a_current_sees_the_held_voltage(truck, sun_of):
    """60 W at 12 V are 5 A, here from 13.6 V less the drop."""
    design = truck(behaves="current")
    ohm = float(network_result(design).path_ohm[design.node_of("radio")])
    assert result_of(design, sun_of()).ledger.load_wh[0] == pytest.approx((13.6 - 5.0 * ohm) * 5.0 * 12)


def test_a_resistance_sees_the_held_voltage(truck, sun_of):
    """60 W at 12 V are 2.4 ohm."""
    design = truck(behaves="resistance")
    ohm = float(network_result(design).path_ohm[design.node_of("radio")])
    amps = 13.6 / (2.4 + ohm)
    assert result_of(design, sun_of()).ledger.load_wh[0] == pytest.approx(2.4 * amps * amps * 12)


def test_switched_with_its_loads_it_idles_only_then(truck, sun_of):
    always, switched = (result_of(truck(on=on), sun_of()).ledger for on in ("always", "loads-use"))
    assert always.converter_loss_wh - switched.converter_loss_wh == pytest.approx(1.5 * (72 - 12), rel=1e-6)


def test_fed_by_the_vehicle_it_is_in_no_book(truck, sun_of):
    design = truck(source="starter-battery")
    assert bus_loads(design, source_map(design)) == []
    found = result_of(design, sun_of()).ledger
    assert (found.converter_loss_wh, float(found.load_wh.sum())) == (0.0, 0.0)


def test_its_lock_out_switches_off_what_it_feeds(truck, sun_of):
    """Without a load cut-off the battery sinks below 19 V only when empty; a lock-out of 26 V ends the radio early."""
    design = truck(watts=100.0)
    placed = next(part for part in design.parts if part.id == "step")
    picky = dataclasses.replace(placed.part, input_stop_v=26.4, input_start_v=27.5)
    parts = tuple(dataclasses.replace(p, part=picky) if p.id == "step" else p for p in design.parts)
    found = result_of(dataclasses.replace(design, parts=parts), sun_of())
    assert found.is_unserved[:, 0].any()
    assert found.unserved_wh[0] + found.ledger.load_wh[0] == pytest.approx(100.0 * 12, rel=1e-6)
    assert abs(found.ledger.imbalance_wh) < 1e-9 * found.ledger.throughput_wh


def usable_ah(design):
    bank = bank_table(design)
    stop_v = max(bank.cutoff_v, bank.table_v[0])
    return bank_capacity_ah(design) - float(np.interp(stop_v, bank.table_v, bank.table_ah))


FRIDGE = """
[[part]]
id = "second"
part = "step-24-12-10"
[[load]]
id = "box"
name = "Box"
part = "fridge-45"
at = "{at}"
[[run]]
id = "R3"
start = "step.out"
end = "{end}"
cable = "cable-2-5"
length_m = 1.0
joint_ohm = 0.0
"""


def test_a_refrigerator_behind_it_is_as_cold_and_takes_more(truck, sun_of):
    """Same cabinet, same electricity at its own terminals; the battery gives it through the converter."""
    straight, behind = (
        result_of(
            truck(watts=5.0, soc=1.0, more=FRIDGE.format(at=at, end="second.in")), sun_of(low_degc=32.0)
        )
        for at in ("bank", "step.out")
    )
    assert behind.fridge_degc == pytest.approx(straight.fridge_degc)
    assert behind.ledger.load_wh[1] == pytest.approx(straight.ledger.load_wh[1])
    more_wh = behind.ledger.converter_loss_wh - straight.ledger.converter_loss_wh
    assert more_wh == pytest.approx(straight.ledger.load_wh[1] * (1 / 0.9 - 1), rel=1e-6)
    assert abs(behind.ledger.imbalance_wh) < 1e-9 * behind.ledger.throughput_wh


def test_stored_it_drains_by_its_idle_power(truck):
    """1.5 W at 24 V are 1.5 Ah a day."""
    idle_ah = 1.5 / 24.0 * 24.0
    with_idle, without = (storage_days(truck(on=on)) for on in ("always", "not-stored"))
    own_ah = sum(p.part.own_a for p in truck().parts) * 24.0
    assert 1.0 / with_idle - 1.0 / without == pytest.approx((idle_ah + own_ah) / usable_ah(truck()), rel=1e-6)


def test_autonomy_counts_it(truck, sun_of):
    design = truck(watts=100.0)
    path = network_result(design).path_ohm
    hours = autonomy_h(design, sun_of(), path_ohm=path)
    assert 24.0 < hours < 24.0 * 8


@given(watts=st.floats(1.0, 200.0), soc=st.floats(0.05, 1.0))
@settings(max_examples=15, deadline=None)
def test_books_close_whatever_runs(truck, sun_of, watts, soc):
    found = result_of(truck(watts=watts, soc=soc), sun_of()).ledger
    assert abs(found.imbalance_wh) < 1e-9 * max(found.throughput_wh, 1.0)
