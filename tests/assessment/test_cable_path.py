"""Entries and bends."""

from __future__ import annotations

import dataclasses

from base_jobs import design, of_rule, studied

from ampwright.assessment.cable_path import BEND_RADIUS, CABLE_ENTRY
from ampwright.findings import Severity
from ampwright.parts.hardware import CableEntry


def _with_entries(entries):
    given = design("base-module")
    parts = tuple(
        dataclasses.replace(one, part=dataclasses.replace(one.part, entries=entries))
        if one.id == "pm.case"
        else one
        for one in given.parts
    )
    return list(CABLE_ENTRY.check(dataclasses.replace(given, parts=parts), None))


def test_each_cable_wants_an_entry_of_its_own():
    """Four runs of two cables leave the case: eight entries serve, seven do not."""
    assert [f.severity for f in _with_entries((CableEntry(cable_max_mm=20.0, count=8),))] == [Severity.PASS]
    found = _with_entries((CableEntry(cable_max_mm=20.0, count=7),))
    assert [f.severity for f in found] == [Severity.CONDITION]
    assert "no entry" in found[0].message


def test_unstated_entries_are_one_finding_and_an_empty_box_none():
    assert [f.severity for f in _with_entries(())] == [Severity.NOT_CHECKED]
    box = {"id": "box", "part": "box-small", "zone": "bench"}
    assert of_rule(studied(add={"part": [box]}), CABLE_ENTRY) == []


def test_unsaid_bends_are_one_finding_with_the_largest_need():
    """W1 is the thickest: 50 mm², 13 mm outside, four diameters."""
    found = of_rule(studied(remove=["zone/bench/tightest_bend_mm"]), BEND_RADIUS)
    assert [f.severity for f in found] == [Severity.NOT_CHECKED]
    assert "W1 wants 52 mm" in found[0].message


def test_a_cable_may_have_its_own_factor():
    given = design()
    runs = tuple(
        dataclasses.replace(run, cable=dataclasses.replace(run.cable, bend_factor=8.0))
        if run.id == "W1"
        else run
        for run in given.runs
    )
    found = {f.subject: f for f in BEND_RADIUS.check(dataclasses.replace(given, runs=runs), None)}
    assert found["W1"].limit == 104.0
    assert found["W1"].severity is Severity.CONDITION


def test_a_chassis_return_has_one_cable_to_bend():
    assert {f.severity for f in of_rule(studied(change={"run/W9/back": "chassis"}), BEND_RADIUS)} == {
        Severity.PASS
    }
