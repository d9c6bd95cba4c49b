"""Panels and batteries in strings, wired in ways a plain job is not."""

from typing import Any

import pytest
from base_jobs import of_rule, studied

from ampwright.assessment.battery import STRING_PROTECTION
from ampwright.assessment.outputs import NEGATIVE_SWITCHED
from ampwright.assessment.panels import PANEL_STRING_FUSES
from ampwright.findings import Severity

CONTROLLER = {"part/controller/part": "solar-mp-50"}


def more_panels(count: int) -> dict[str, list[dict[str, Any]]]:
    names = [f"panel{number}" for number in range(2, count + 1)]
    return {
        "part": [{"id": name, "part": "panel-200", "zone": "roof"} for name in names],
        "run": [
            {
                "id": f"W5{name}",
                "start": name,
                "end": "controller.in",
                "cable": "cable-6",
                "length_m": 4,
                "zones": ["roof"],
            }
            for name in names
        ],
    }


@pytest.mark.parametrize("count", [2, 3, 4])
def test_panels_of_their_own_runs_count_as_parallel_strings(count: int) -> None:
    found = studied(add=more_panels(count), change=CONTROLLER)
    findings = of_rule(found, PANEL_STRING_FUSES)
    assert len(findings) == count
    panel = next(p.part for p in found.design.parts if p.id == "panel")
    others_a = (count - 1) * panel.short_circuit_a  # type: ignore[union-attr]
    expected = Severity.FAIL if others_a > panel.series_fuse_max_a else Severity.PASS  # type: ignore[union-attr]
    assert {f.severity for f in findings} == {expected}
    assert {round(f.value or 0.0, 6) for f in findings} == {round(others_a, 6)}


def test_three_strings_in_one_part_without_fuses() -> None:
    (finding,) = of_rule(studied(change={**CONTROLLER, "part/panel/strings": 3}), PANEL_STRING_FUSES)
    assert finding.severity == Severity.FAIL


def test_two_strings_of_two_in_series_need_one_device_each() -> None:
    change = {"part/battery/strings": 2, "part/battery/string_device": "fuse-t-150"}
    (finding,) = of_rule(studied(change=change), STRING_PROTECTION)
    assert finding.severity == Severity.PASS


def test_negative_switched_load_fused_behind_a_bar_only() -> None:
    # the fuse sits in the second run: the live feed from the module to the bar has none
    own = [{"id": "Q9", "part": "breaker-hm-20", "distance_m": 0.05}]
    change = {
        "part/outputs/part": "out-16", "run/W9/start": "outputs.13", "run/W9/end": "bar2",
        "channel/Lights/number": 13, "channel/Lights/limit_a": 5,
    }  # fmt: skip
    add = {
        "part": [{"id": "bar2", "part": "bus-250", "zone": "bench"}],
        "run": [
            {"id": "W9B", "start": "bar2", "end": "lights", "cable": "cable-4", "length_m": 2, "device": own}
        ],
    }
    (finding,) = of_rule(studied(add=add, change=change), NEGATIVE_SWITCHED)
    assert finding.severity == Severity.FAIL
