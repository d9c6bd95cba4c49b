"""Consumers on the bus."""

import numpy as np
import pytest

from ampwright.energy.consumers import bus_loads, consumers_of, standby_by_plan_w
from ampwright.energy.schedule import schedule_of
from ampwright.energy.sources_map import source_map

VEHICLE = """
[vehicle]
description = "van"
system_v = 12
[vehicle.starter_battery]
capacity_ah = 70.0
short_circuit_a = 1500.0
resistance_ohm = 0.006
"""
PARTS = """
[load_cutoff]
open_v = 11.8
close_v = 12.8
delay_s = 60.0
[[part]]
id = "bank"
part = "lfp-100"
is_on_when = "always"
[[part]]
id = "inv"
part = "inv-1000"
is_on_when = "loads-use"
[[load]]
id = "pump"
name = "Pump"
power_w = 40.0
peak_w = 90.0
behaves = "current"
[[load.when]]
start = "10:00"
end = "11:00"
uses = 4
use_minutes = 0.5
[[load]]
id = "box"
name = "Fridge"
part = "fridge-45"
is_before_cutoff = true
[[load]]
id = "radio"
name = "Radio at the starter battery"
power_w = 20.0
[[run]]
id = "w"
start = "starter-battery"
end = "radio"
cable = "cable-2-5"
length_m = 2.0
"""


@pytest.fixture
def design(design_of, head_with):
    return design_of(PARTS, head=head_with(VEHICLE))


def test_loads_at_the_starter_battery_are_the_vehicles(design):
    assert [load.id for load in bus_loads(design, source_map(design))] == ["pump", "box"]


def test_table_of_consumers(design):
    path = np.full(len(design.nodes), np.nan)
    path[design.node_of("pump")] = 0.03
    found = consumers_of(design, schedule_of(design, 96), source_map(design), path)
    table = found.table
    assert table.kind.tolist() == [1, 0, 0]
    assert table.path_ohm.tolist() == [0.03, 0.0, 0.0]
    assert table.is_cut.tolist() == [True, False, True]
    assert table.lock_v.tolist() == [0.0, 10.5, 10.5]
    # the inverter of the catalogue says that it restarts at 12.0 V
    assert table.unlock_v.tolist() == [0.0, 11.6, 12.0]
    assert table.fridge.tolist() == [-1, 0, -1]
    assert (table.has_cutoff, table.open_v, table.close_v) == (True, 11.8, 12.8)
    assert found.fridges == (1,)
    assert found.peak_w[0, 40, 0] == 90.0
    assert found.long_w[0, 40, 0] == 0.0
    assert found.duty_frac[0, 40, 0] == pytest.approx(2.0 / 60.0)


def test_comfort_is_shed_where_the_cut_off_has_a_stage_for_it(design_of, head_with):
    text = PARTS.replace("delay_s = 60.0", "comfort = { open_v = 12.5, close_v = 13.1 }")
    text = text.replace('behaves = "current"', 'behaves = "current"\npriority = "comfort"')
    kettle = '[[load]]\nid = "kettle"\nname = "Kettle"\npower_w = 800\nthrough = "inv"\npriority = "{}"\n'
    tables = {}
    for priority in ("comfort", "essential"):
        design = design_of(text + kettle.format(priority), head=head_with(VEHICLE))
        path = np.zeros(len(design.nodes))
        tables[priority] = consumers_of(design, schedule_of(design, 96), source_map(design), path).table
    assert tables["comfort"].shed_v.tolist() == [12.5, 0.0, 12.5]
    assert tables["comfort"].shed_back_v.tolist() == [13.1, 0.0, 13.1]
    assert tables["essential"].shed_v.tolist() == [12.5, 0.0, 0.0]


def test_inverter_settings(design_of, head_with):
    extra = '[[setting]]\npart = "inv"\nstop_v = 11.0\nstart_v = 12.6\n'
    design = design_of(PARTS + extra, head=head_with(VEHICLE))
    path = np.zeros(len(design.nodes))
    table = consumers_of(design, schedule_of(design, 96), source_map(design), path).table
    assert (table.lock_v[2], table.unlock_v[2]) == (11.0, 12.6)


def test_standby_of_parts_and_refrigerator(design):
    drains = standby_by_plan_w(design, schedule_of(design, 96))
    assert drains[0] == pytest.approx(np.full(96, (0.003 + 0.01) * 12.0))
