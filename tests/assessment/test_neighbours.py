"""Gas, petrol, vapour and sleepers."""

from __future__ import annotations

import pytest
from base_jobs import of_rule, studied

from ampwright.assessment.neighbours import GAS_AND_FUEL_DISTANCE, SLEEPING_PLACE
from ampwright.findings import Severity


def near(**edits):
    return [(f.subject, f.severity) for f in of_rule(studied(**edits), GAS_AND_FUEL_DISTANCE)]


def test_nothing_said_is_one_finding():
    edits = {"remove": ["vehicle/carries_gas", "vehicle/fuel"]}
    assert near(**edits) == [("base-12v", Severity.NOT_CHECKED)]


def test_gas_and_petrol_without_distances_name_the_places():
    found = of_rule(
        studied(change={"vehicle/carries_gas": True, "vehicle/fuel": "petrol"}, remove=["part/bar/zone"]),
        GAS_AND_FUEL_DISTANCE,
    )
    assert [f.severity for f in found] == [Severity.NOT_CHECKED]
    for words in ("gas is from bench", "petrol is from bench", "place of bar"):
        assert words in found[0].message


def test_a_gas_tight_wall_serves_instead_of_distance_but_not_in_the_same_space():
    wall = {"vehicle/carries_gas": True, "zone/bench/is_sealed_from_gas": True}
    assert ("bench", Severity.PASS) in near(change={**wall, "zone/bench/gas_mm": 100})
    assert ("bench", Severity.PASS) in near(change=wall)
    assert ("bench", Severity.FAIL) in near(change={**wall, "zone/bench/gas_mm": 0})


@pytest.mark.parametrize("fuel", ["electric", "none", "diesel"])
def test_no_petrol_no_distance(fuel):
    assert near(change={"vehicle/fuel": fuel}) == [("base-12v", Severity.PASS)] * 2


@pytest.mark.parametrize(
    ("battery", "severity"), [("flooded-90", Severity.CONDITION), ("agm-100", Severity.ADVICE)]
)
def test_sparks_in_one_locker_with_a_lead_acid_battery(battery, severity):
    change = {"part/battery/part": battery, "zone/bench/kind": "locker"}
    assert ("battery", severity) in near(change=change)
    assert ("battery", severity) not in near(change={"part/battery/part": battery})


def test_a_lead_acid_battery_alone_in_its_locker_has_no_neighbour():
    nook = {"id": "nook", "kind": "locker", "ambient_max_degc": 40}
    change = {"part/battery/part": "agm-100", "part/battery/zone": "nook"}
    assert not [each for each in near(add={"zone": [nook]}, change=change) if each[0] == "battery"]


def test_sleepers():
    def said(**edits):
        return [f.severity for f in of_rule(studied(**edits), SLEEPING_PLACE)]

    asleep = {"vehicle/people_sleep": True, "zone/bench/is_sleeping_place": True}
    assert said(change={**asleep, "part/battery/part": "agm-100"}) == [Severity.CONDITION]
    assert said(change={"vehicle/people_sleep": True}) == [Severity.NOT_CHECKED]
    assert said(change={"vehicle/people_sleep": True}, remove=["part/battery/zone"]) == [Severity.NOT_CHECKED]
