import dataclasses

import pytest
from base_jobs import base, of_rule, studied, studies_of

from ampwright.assessment.panels import PANEL_COLD_VOLTAGE, PANEL_CURRENT, PANEL_STRING_FUSES
from ampwright.findings import Severity
from ampwright.parts.panel import Panel

SECOND = {
    "part": [{"id": "panel2", "part": "panel-100", "zone": "roof"}],
    "run": [
        {
            "id": "W11",
            "start": "panel2",
            "end": "controller.in",
            "cable": "cable-6",
            "length_m": 4,
            "zones": ["roof"],
        }
    ],
}


def test_panels_on_one_input_are_added() -> None:
    found = studied(change={"part/panel/part": "panel-100", "part/panel/strings": 2}, add=SECOND)
    (finding,) = of_rule(found, PANEL_CURRENT)
    assert finding.value == pytest.approx(3 * 5.58)
    # two strings here and one there: each is pushed by the two others, 11.2 A into 10 A
    by_panel = {f.subject: f for f in of_rule(found, PANEL_STRING_FUSES)}
    assert set(by_panel) == {"panel", "panel2"}
    assert all(f.severity == Severity.FAIL for f in by_panel.values())


def test_two_strings_need_no_fuse() -> None:
    found = studied(change={"part/panel/part": "panel-100", "part/panel/strings": 2})
    (finding,) = of_rule(found, PANEL_STRING_FUSES)
    assert (finding.value, finding.severity) == (pytest.approx(5.58), Severity.PASS)
    assert of_rule(base("base-12v"), PANEL_STRING_FUSES) == []


def test_string_fuse_larger_than_the_panel_allows() -> None:
    found = studied(
        change={
            "part/panel/part": "panel-100",
            "part/panel/strings": 3,
            "part/panel/string_device": "fuse-gpv-15",
        }
    )
    (finding,) = of_rule(found, PANEL_STRING_FUSES)
    assert (finding.value, finding.limit, finding.severity) == (15.0, 10.0, Severity.FAIL)


def test_panel_without_a_controller() -> None:
    found = studied(remove=["run/W5"])
    (finding,) = of_rule(found, PANEL_COLD_VOLTAGE)
    assert finding.severity == Severity.NOT_CHECKED
    assert of_rule(found, PANEL_CURRENT) == []


def test_string_above_what_the_panel_is_built_for() -> None:
    found = base("base-12v")
    parts = tuple(
        dataclasses.replace(placed, part=dataclasses.replace(placed.part, system_max_v=25.0))
        if isinstance(placed.part, Panel)
        else placed
        for placed in found.design.parts
    )
    findings = list(
        PANEL_COLD_VOLTAGE.check(dataclasses.replace(found.design, parts=parts), studies_of(found))
    )
    assert [f.limit for f in findings if f.severity == Severity.FAIL] == [25.0]
