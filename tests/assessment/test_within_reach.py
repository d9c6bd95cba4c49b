"""Isolators and devices behind a load."""

from __future__ import annotations

from base_jobs import of_rule, studied

from ampwright.assessment.vibration import VIBRATION
from ampwright.assessment.within_reach import REACH
from ampwright.findings import Severity


def test_buried_devices_are_gathered_and_the_isolator_stands_alone():
    found = of_rule(studied(change={"zone/bench/is_reachable_loaded": False}), REACH)
    assert {(f.subject, f.severity) for f in found} == {
        ("S1", Severity.CONDITION),
        ("bench", Severity.ADVICE),
    }


def test_what_is_not_said_is_one_finding_and_the_starter_battery_is_not_asked():
    found = of_rule(studied(remove=["zone/bench/is_reachable_loaded"]), REACH)
    assert [f.severity for f in found] == [Severity.NOT_CHECKED]
    assert "F2" not in found[0].message


def test_a_device_without_any_place_is_named_itself():
    found = of_rule(studied(remove=["part/bar/zone"], change={"run/W6/zones": []}), REACH)
    unknown = next(f for f in found if f.severity is Severity.NOT_CHECKED)
    assert "Q6" in unknown.message


def test_the_engine_space_shakes_like_the_engine_unless_said():
    bay = {"id": "bay", "kind": "engine", "ambient_max_degc": 40}
    edits = {"add": {"zone": [bay]}, "change": {"part/controller/zone": "bay"}}
    assert of_rule(studied(**edits), VIBRATION, "controller")[0].severity is Severity.CONDITION
    edits["add"] = {"zone": [{**bay, "vibration": "body"}]}
    assert of_rule(studied(**edits), VIBRATION, "controller")[0].severity is Severity.PASS


def test_a_part_without_place_is_not_known_to_stand_the_shaking():
    found = of_rule(studied(remove=["part/controller/zone"]), VIBRATION)
    open_ones = [f for f in found if f.severity is Severity.NOT_CHECKED]
    assert len(open_ones) == 1
    assert "controller stands" in open_ones[0].message
