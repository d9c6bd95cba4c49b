"""What goes in, what does not, and what is said when sizes are missing."""

from __future__ import annotations

import dataclasses

from base_jobs import design, of_rule, studied

from ampwright.assessment.parts_fit import PARTS_FIT
from ampwright.findings import Severity

NOOK = {
    "id": "nook",
    "kind": "cabin",
    "ambient_max_degc": 40,
    "length_mm": 1000,
    "width_mm": 500,
    "height_mm": 500,
    "from_front_axle_mm": 2500,
}


def said(**edits):
    return of_rule(studied(**edits), PARTS_FIT)


def test_one_finding_names_all_that_is_not_said():
    open_ones = [
        finding
        for finding in said(remove=["zone/bench/height_mm", "part/bar/zone"])
        if finding.severity is Severity.NOT_CHECKED
    ]
    assert len(open_ones) == 1
    assert "free space of bench" in open_ones[0].message
    assert "place of bar" in open_ones[0].message


def test_a_part_that_must_stand_may_not_lie():
    change = {"part/battery/part": "flooded-90", "part/battery/up": "width"}
    found = [f for f in said(change=change) if f.severity is Severity.FAIL]
    assert [f.subject for f in found] == ["battery"]
    assert "must stand" in found[0].message


def test_the_side_that_stands_upright_can_be_chosen():
    """500 × 180 × 230 mm in a place 200 mm high: lying on its side it goes in, on its base it does not."""
    low = {**NOOK, "height_mm": 200, "length_mm": 520}
    lying = {"part/battery/zone": "nook", "part/battery/up": "width"}
    standing = {"part/battery/zone": "nook", "part/battery/up": "height"}
    assert {f.severity for f in said(add={"zone": [low]}, change=lying)} == {Severity.PASS}
    found = next(f for f in said(add={"zone": [low]}, change=standing) if f.subject == "battery")
    assert (found.severity, found.value, found.limit) == (Severity.FAIL, 230.0, 200.0)


def test_what_no_shelf_holds_and_no_bound_forbids_is_not_checked():
    """Battery 500 × 230 × 180 and inverter 370 × 270 × 130 mm with air: by volume they go in, side by side they do not."""
    tight = {**NOOK, "length_mm": 510, "width_mm": 280, "height_mm": 240}
    change = {"part/battery/zone": "nook", "part/inverter/zone": "nook"}
    found = [f for f in said(add={"zone": [tight]}, change=change) if f.subject == "nook"]
    assert [f.severity for f in found] == [Severity.NOT_CHECKED]
    assert "71%" in found[0].message


def test_a_part_without_size_or_air_is_asked_for_and_its_place_does_not_pass():
    given = design()
    bare = tuple(
        dataclasses.replace(one, part=dataclasses.replace(one.part, length_mm=0.0, air_gap_mm=None))
        if one.id == "charger"
        else one
        for one in given.parts
    )
    found = list(PARTS_FIT.check(dataclasses.replace(given, parts=bare), None))
    assert [f.severity for f in found] == [Severity.NOT_CHECKED]
    assert "size of charger" in found[0].message
    assert "free air charger needs" in found[0].message
