import dataclasses

import pytest
from base_jobs import base, of_rule, studied, studies_of

from ampwright.assessment.places import BATTERY_GAS, PART_INGRESS, PART_TEMPERATURE
from ampwright.findings import Severity


@pytest.mark.parametrize(
    ("code", "severity"),
    [
        ("IP65", Severity.PASS),
        ("IP66/IP67", Severity.PASS),
        ("IP69K", Severity.PASS),
        ("IPX5", Severity.PASS),
        ("IP67", Severity.ADVICE),
        ("IP68", Severity.ADVICE),
        ("IP54", Severity.FAIL),
        ("IP6X", Severity.NOT_CHECKED),
        ("", Severity.NOT_CHECKED),
    ],
)
def test_water_digit(code: str, severity: Severity) -> None:
    found = base("base-12v")
    parts = tuple(
        dataclasses.replace(placed, part=dataclasses.replace(placed.part, ingress_code=code))
        for placed in found.design.parts
    )
    (finding,) = PART_INGRESS.check(dataclasses.replace(found.design, parts=parts), studies_of(found))
    assert (finding.subject, finding.severity) == ("panel", severity)


def test_part_for_warmer_places() -> None:
    found = studied(change={"season/coldest_degc": -30})
    cold = {f.subject: f for f in of_rule(found, PART_TEMPERATURE) if f.severity == Severity.CONDITION}
    assert cold["inverter"].limit == -20.0
    assert "bar" not in cold


def test_refrigerator_without_a_zone_is_not_checked() -> None:
    found = studied(remove=["load/fridge/zone"])
    assert [f.severity for f in of_rule(found, PART_TEMPERATURE, "fridge")] == [Severity.NOT_CHECKED]


@pytest.mark.parametrize(
    ("part", "zone", "severity"),
    [
        ("flooded-90", "bench", Severity.CONDITION),
        ("gel-80", "bench", Severity.ADVICE),
        ("agm-100", "bench", Severity.ADVICE),
        ("flooded-90", "floor", Severity.PASS),
    ],
)
def test_gas_of_lead_acid_inside(part: str, zone: str, severity: Severity) -> None:
    found = studied(change={"part/battery/part": part, "part/battery/zone": zone})
    assert [f.severity for f in of_rule(found, BATTERY_GAS)] == [severity]


def test_gas_without_a_zone_and_of_lithium() -> None:
    found = studied(change={"part/battery/part": "flooded-90"}, remove=["part/battery/zone"])
    assert [f.severity for f in of_rule(found, BATTERY_GAS)] == [Severity.NOT_CHECKED]
    assert of_rule(base("base-12v"), BATTERY_GAS) == []
