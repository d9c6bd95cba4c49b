import dataclasses

import pytest
from base_jobs import base, of_rule, studied, studies_of

from ampwright.assessment.places import PART_INGRESS, PART_TEMPERATURE
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
