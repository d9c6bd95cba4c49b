from typing import Any

import pytest
from base_jobs import base, of_rule, studied

from ampwright.assessment.negatives import EARTH_AND_POLARITY
from ampwright.findings import Severity

TIE = {"at": "bar", "cable": "cable-50"}


def test_base_job_has_one_tie_and_full_negatives() -> None:
    found = of_rule(base("base-12v"), EARTH_AND_POLARITY)
    assert [(f.subject, f.severity) for f in found] == [
        ("base-12v", Severity.PASS),
        ("base-12v", Severity.PASS),
        ("charger", Severity.ADVICE),
    ]
    assert "10 negatives" in found[0].message
    assert "at bar with 50 mm²" in found[1].message


def test_isolated_charger_makes_no_second_way() -> None:
    change = {"part/charger/part": "dcdc-12-24-15"}
    charger = [f for f in of_rule(studied(change=change), EARTH_AND_POLARITY) if f.subject == "charger"]
    assert charger == []


def test_us_rule_wants_8_awg() -> None:
    change = {"bond/bar/cable": "cable-10-awg"}
    found = of_rule(studied("base-24v", change=change), EARTH_AND_POLARITY, "base-24v")
    (finding,) = [f for f in found if f.severity == Severity.CONDITION]
    assert (finding.limit, finding.unit) == (8.36, "mm²")
    assert finding.value == pytest.approx(5.26, abs=0.02)


def test_smaller_negative_that_its_device_protects_passes() -> None:
    # a breaker of 20 A on 4 mm² out and 2.5 mm² back, which carry 32 A at 45 °C
    (finding,) = of_rule(studied(change={"run/W6/back_cable": "cable-2-5"}), EARTH_AND_POLARITY, "W6")
    assert finding.severity == Severity.PASS
    assert finding.value == 20


def test_smaller_negative_without_a_device_is_not_judged() -> None:
    change = {"run/W8/back_cable": "cable-4"}
    found = studied(change=change, remove=["run/W8/device", "run/W1/device/F1"])
    (finding,) = of_rule(found, EARTH_AND_POLARITY, "W8")
    assert finding.severity == Severity.NOT_CHECKED


def test_return_through_metal_that_nothing_ties_to_the_battery() -> None:
    change: dict[str, Any] = {"run/W6/back": "chassis", "run/W6/plugs": [], "bond/bar/metal": "trailer"}
    (finding,) = of_rule(studied(change=change), EARTH_AND_POLARITY, "W6")
    assert finding.severity == Severity.FAIL
    assert "no tie" in finding.message


def test_return_through_metal_with_a_tie_is_left_alone() -> None:
    change: dict[str, Any] = {"run/W6/back": "chassis", "run/W6/plugs": []}
    assert of_rule(studied(change=change), EARTH_AND_POLARITY, "W6") == []


def test_trailer_does_not_return_through_the_coupling() -> None:
    lamp = {"id": "lamp", "name": "Trailer lamp", "power_w": 10, "part_of": "trailer"}
    run = {"id": "W30", "start": "bar", "end": "lamp", "cable": "cable-4", "length_m": 6, "back": "chassis"}
    found = studied(add={"load": [lamp], "run": [run]})
    (finding,) = of_rule(found, EARTH_AND_POLARITY, "W30")
    assert finding.severity == Severity.FAIL


def test_tie_on_the_starter_battery_says_nothing_of_the_auxiliary_one() -> None:
    found = of_rule(studied(change={"bond/bar/at": "starter-battery"}), EARTH_AND_POLARITY, "base-12v")
    assert Severity.NOT_CHECKED in {f.severity for f in found}


def test_ties_of_vehicle_and_trailer_are_one_each() -> None:
    found = of_rule(studied(add={"bond": [{**TIE, "metal": "trailer"}]}), EARTH_AND_POLARITY, "base-12v")
    assert {f.severity for f in found} == {Severity.PASS}
