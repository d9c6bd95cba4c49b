"""Parts and cables beside hot exhausts."""

from __future__ import annotations

import pytest
from base_jobs import of_rule, studied

from ampwright.assessment.hot_exhaust import EXHAUST_DISTANCE
from ampwright.findings import Severity


@pytest.mark.parametrize(
    ("distance_mm", "shield", "severity"),
    [
        (150, None, Severity.PASS),
        (149, None, Severity.CONDITION),
        (149, False, Severity.CONDITION),
        (50, True, Severity.PASS),
        (49, True, Severity.CONDITION),
    ],
)
def test_a_shield_allows_less(distance_mm, shield, severity):
    change = {"zone/floor/exhaust_mm": distance_mm}
    if shield is not None:
        change["zone/floor/has_heat_shield"] = shield
    (finding,) = of_rule(studied(change=change), EXHAUST_DISTANCE, "floor")
    assert finding.severity is severity
    assert "W2" in finding.message


def test_below_the_body_it_is_asked_for_and_inside_it_is_not():
    (finding,) = of_rule(studied(), EXHAUST_DISTANCE)
    assert finding.severity is Severity.ADVICE
    assert "floor" in finding.message
    assert "bench" not in finding.message


def test_a_heater_inside_is_judged_where_it_is_said():
    (finding,) = of_rule(studied(change={"zone/bench/exhaust_mm": 100}), EXHAUST_DISTANCE, "bench")
    assert finding.severity is Severity.CONDITION
