"""How parts are held, and at which deceleration."""

from __future__ import annotations

import pytest
from base_jobs import design, of_rule, studied

from ampwright.assessment.restraint import RESTRAINT, restraint_wanted_g
from ampwright.findings import Severity


@pytest.mark.parametrize(("gross_kg", "wanted_g"), [(3500, 20.0), (3501, 10.0), (12000, 10.0), (18000, 6.6)])
def test_deceleration_follows_the_permitted_gross_mass(gross_kg, wanted_g):
    assert restraint_wanted_g(design(change={"vehicle/mass/gross_limit_kg": gross_kg}))[0] == wanted_g


def test_without_a_gross_mass_the_highest_is_asked_and_a_job_may_ask_its_own():
    assert restraint_wanted_g(design(remove=["vehicle/mass"]))[0] == 20.0
    found = restraint_wanted_g(design(change={"vehicle/mass/restraint_g": 10}))
    assert (found[0], found[1].document) == (10.0, "job file")


def test_a_rating_is_taken_as_it_stands():
    found = of_rule(
        studied(change={"part/battery/mount": {"how": "tray", "rated_g": 15}}), RESTRAINT, "battery"
    )
    assert [(f.severity, f.value) for f in found] == [(Severity.FAIL, 15.0)]


def test_a_light_mount_of_another_part_is_a_condition():
    found = of_rule(
        studied(change={"part/inverter/mount": {"how": "tape", "rated_g": 5}}), RESTRAINT, "inverter"
    )
    assert [f.severity for f in found] == [Severity.CONDITION]


def test_straps_without_figures_are_one_finding_with_the_force():
    """22.5 kg × 9.80665 m/s² × 20 = 4413 N."""
    change = {"part/battery/mount": {"how": "strap"}}
    found = of_rule(studied(change=change, remove=["part/inverter/mount"]), RESTRAINT)
    open_ones = [f for f in found if f.severity is Severity.NOT_CHECKED]
    assert len(open_ones) == 1
    assert "battery, inverter are held" in open_ones[0].message
    assert "4.4 kN" in open_ones[0].message


def test_an_enclosure_is_held_with_what_is_in_it():
    """Box 5 kg with charger 1.8 kg and controller 0.7 kg: four M8 of class 4.6 hold 28 109 N over 7.5 kg."""
    box = {
        "id": "box",
        "part": "box-medium",
        "zone": "bench",
        "mount": {"how": "feet", "bolt_mm": 8, "bolt_count": 4},
    }
    change = {"part/charger/inside": "box", "part/controller/inside": "box"}
    found = of_rule(studied(add={"part": [box]}, change=change), RESTRAINT, "box")
    assert found[0].value == pytest.approx(4 * 0.6 * 400 * 36.6 / 1.25 / (7.5 * 9.80665))
