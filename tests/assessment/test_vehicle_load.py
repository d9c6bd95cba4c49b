"""Place loads, axle loads and clearance when something is missing or odd."""

from __future__ import annotations

import pytest
from base_jobs import of_rule, studied

from ampwright.assessment.vehicle_load import AXLE_LOAD, GROUND_CLEARANCE, PLACE_LOAD
from ampwright.findings import Severity


def test_nothing_said_gives_one_finding_with_the_added_mass():
    found = of_rule(studied(remove=["vehicle/mass"]), AXLE_LOAD)
    assert [f.severity for f in found] == [Severity.NOT_CHECKED]
    assert "adds 69 kg" in found[0].message
    assert "wheelbase" in found[0].message


def test_gross_mass_is_judged_without_places():
    found = of_rule(studied(remove=["zone/bench/from_front_axle_mm"]), AXLE_LOAD)
    assert [(f.subject, f.severity) for f in found] == [
        ("gross mass", Severity.PASS),
        ("base-12v", Severity.NOT_CHECKED),
    ]


def test_a_trailer_speaks_of_its_coupling():
    change = {"vehicle/fuel": "none"}
    job = studied(change=change, remove=["vehicle/alternator"])
    assert {f.subject for f in of_rule(job, AXLE_LOAD)} == {"gross mass", "coupling", "trailer axles"}


def test_roof_at_a_stand_has_its_own_limit():
    change = {"vehicle/mass/roof_parked_limit_kg": 300, "vehicle/mass/roof_parked_other_kg": 290}
    found = of_rule(studied(change=change), PLACE_LOAD)
    assert [f.severity for f in found] == [Severity.PASS, Severity.FAIL]
    assert found[1].value == pytest.approx(303.5)


def test_a_roof_without_a_limit_is_not_checked_and_without_panels_not_asked():
    found = of_rule(studied(remove=["vehicle/mass/roof_limit_kg"]), PLACE_LOAD)
    assert [f.severity for f in found] == [Severity.NOT_CHECKED]
    assert of_rule(studied("base-24v"), PLACE_LOAD) == []


def test_the_module_weighs_on_its_place():
    found = of_rule(studied("base-module", change={"zone/bench/load_limit_kg": 45}), PLACE_LOAD)
    bench = next(f for f in found if f.subject == "bench")
    assert bench.severity is Severity.FAIL
    assert bench.value == pytest.approx(29.0 + 0.3 + 19.0)


def test_clearance_without_springs_says_so_and_without_heights_is_not_checked():
    job = studied(remove=["vehicle/mass/rear_rate_kg_per_mm"])
    found = of_rule(job, GROUND_CLEARANCE)
    assert found[0].value == 260.0
    assert "springs not counted" in found[0].message
    job = studied(remove=["zone/floor/floor_above_ground_mm", "vehicle/mass/ground_clearance_mm"])
    found = of_rule(job, GROUND_CLEARANCE)
    assert [f.severity for f in found] == [Severity.NOT_CHECKED]
    assert "clearance to be kept" in found[0].message
