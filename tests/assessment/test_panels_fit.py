"""Panels on free rectangles."""

from __future__ import annotations

from base_jobs import of_rule, studied

from ampwright.assessment.panels_fit import PANELS_FIT
from ampwright.findings import Severity


def roof(*free, strings=1):
    change = {
        "zone/roof/free": [{"length_mm": a, "width_mm": b} for a, b in free],
        "part/panel/strings": strings,
    }
    return of_rule(studied(change=change), PANELS_FIT)


def test_two_panels_side_by_side_with_their_gap():
    """1490 × 700 mm each, 20 mm between them: 1420 mm across are enough, 1419 mm are not."""
    assert [f.severity for f in roof((1490, 1420), strings=2)] == [Severity.PASS]
    found = roof((1490, 1419), strings=2)
    assert [f.severity for f in found] == [Severity.FAIL]


def test_two_rectangles_take_one_each_when_turned():
    assert [f.severity for f in roof((700, 1490), (1490, 700), strings=2)] == [Severity.PASS]


def test_area_alone_is_not_enough_and_is_said():
    found = roof((1490, 700), (1480, 710), strings=2)
    assert [f.severity for f in found] == [Severity.FAIL]
    assert "all arrangements were tried" in found[0].message


def test_no_rectangle_is_not_checked():
    assert [f.severity for f in of_rule(studied(remove=["zone/roof/free"]), PANELS_FIT)] == [
        Severity.NOT_CHECKED
    ]


def test_too_many_arrangements_are_not_checked():
    found = roof((4600, 1470), (1400, 2000), strings=9)
    assert {f.severity for f in found} <= {Severity.NOT_CHECKED, Severity.FAIL}
