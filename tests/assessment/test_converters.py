"""Step-down converters in a sound 24 V truck, one thing changed at a time."""

import dataclasses
from typing import Any

import planted
import pytest
from base_jobs import studies_of

from ampwright.api import sun_of
from ampwright.assessment.assess import assess
from ampwright.assessment.converters import CONVERTER_LIMIT
from ampwright.assessment.result import Assessment
from ampwright.findings import Finding, Severity
from ampwright.parts.converter import Converter


def truck(**edit: Any) -> Assessment:
    return planted.assessed(planted.edited(planted.base_job("base-24v"), edit))


def said(found: Assessment, rule: str, subject: str) -> Finding:
    (finding,) = [f for f in found.findings if (f.rule, f.subject) == (rule, subject)]
    return finding


def with_part(**changes: Any) -> Assessment:
    """Return the truck with another converter than the catalogue's."""
    design = planted.design_from(planted.base_job("base-24v"))
    parts = []
    for placed in design.parts:
        part = placed.part
        if isinstance(part, Converter):
            placed = dataclasses.replace(placed, part=dataclasses.replace(part, **changes))  # noqa: PLW2901
        parts.append(placed)
    design = dataclasses.replace(design, parts=tuple(parts))
    return assess(design, sun_of(design, planted.HERE))


def test_without_a_zone_its_output_is_not_known() -> None:
    found = said(truck(set={"part/step/zone": ""}), "converter-load", "step")
    assert found.severity == Severity.NOT_CHECKED


def test_its_output_falls_in_hot_air() -> None:
    """Full up to 50 °C, nothing at 75: at 60 °C 60 % of a peak of 25 A."""
    found = said(truck(set={"zone/locker/ambient_max_degc": 60}), "converter-load", "step")
    assert (found.severity, found.limit) == (Severity.PASS, pytest.approx(15.0))


def test_a_peak_that_ends_before_a_minute_does_not_count() -> None:
    found = said(with_part(output_peak_s=10.0), "converter-load", "step")
    assert found.limit == 20.0
    assert "no peak lasts a minute" in found.message


def test_in_an_enclosure_the_air_inside_counts() -> None:
    box = {"id": "box", "part": "box-small", "zone": "locker"}
    found = truck(add={"part": [box]}, set={"part/step/inside": "box"})
    (heat,) = [heat for heat in studies_of(found).heat if found.design.parts[heat.part].id == "box"]
    expected_a = 25.0 * min((75.0 - heat.air_degc) / 25.0, 1.0)
    (step,) = heat.parts
    assert step.loss_w == pytest.approx(60.0 * (1 / 0.9 - 1) + 1.5)
    assert said(found, "converter-load", "step").limit == pytest.approx(expected_a)


@pytest.mark.parametrize(
    ("edit", "severity"),
    [({}, Severity.FAIL), ({"load/dash/priority": "comfort"}, Severity.CONDITION)],
)
def test_too_much_weighs_by_what_it_feeds(edit: dict[str, Any], severity: Severity) -> None:
    """450 W are more than 28 A at 13.6 V: no voltage is known behind it, and the collapse is said once."""
    found = truck(set={"load/dash/power_w": 450, "load/dash/peak_w": 450, **edit})
    finding = said(found, "converter-load", "step")
    assert finding.severity == severity
    assert "voltage sinks" in finding.message
    assert said(found, "lowest-voltage", "dash").severity == Severity.NOT_CHECKED
    assert [f.subject for f in found.findings if f.rule == "feed-carries-load"] == ["charger", "step"]


def test_one_that_shuts_off_says_so() -> None:
    found = truck(set={"part/step/part": "step-24-12-5", "load/dash/peak_w": 100})
    assert "switches off" in said(found, "converter-load", "step").message


def test_a_device_above_the_limit_never_opens() -> None:
    found = said(truck(set={"run/W8/device/Q8/part": "breaker-hm-30"}), "converter-limit", "step")
    assert (found.severity, found.value, found.limit) == (Severity.ADVICE, 30.0, 28.0)
    assert "Q8 (30 A)" in found.message


def test_a_thin_cable_behind_a_device_by_memory_is_not_checked() -> None:
    """16 AWG carries 22 A, the converter gives 28 A; the 20 A breaker opens at that by times from memory."""
    found = said(truck(set={"run/W8/cable": "cable-16-awg"}), "converter-limit", "W8")
    assert (found.severity, found.value) == (Severity.NOT_CHECKED, 28.0)


def test_a_thin_cable_without_any_device_fails_twice() -> None:
    found = truck(set={"run/W8/cable": "cable-16-awg", "run/W8/device": []})
    assert said(found, "converter-limit", "W8").severity == Severity.FAIL
    assert said(found, "device-against-cable", "W8").severity == Severity.FAIL
    assert said(found, "device-at-source", "W8").severity == Severity.FAIL


def test_a_cable_that_carries_the_limit_needs_no_device() -> None:
    found = truck(set={"run/W8/device": []})
    assert said(found, "device-against-cable", "W8").severity == Severity.PASS
    assert said(found, "output-fails-shorted", "W8").value == 30.0
    assert not [f for f in found.findings if (f.rule, f.subject) == ("device-at-source", "W8")]


def test_a_cable_outside_the_table_is_not_checked() -> None:
    found = truck(set={"zone/locker/ambient_max_degc": 110})
    assert said(found, "converter-limit", "W8").severity == Severity.NOT_CHECKED


def test_behind_a_failed_converter_the_input_device_protects_only_what_it_fits() -> None:
    """100 A before it: far above the 60 A that 12 AWG allows."""
    found = truck(
        set={"run/W8/device": [], "run/W7/cable": "cable-6-awg", "run/W7/device/Q7/part": "breaker-hm-100"}
    )
    finding = said(found, "output-fails-shorted", "W8")
    assert (finding.severity, finding.value) == (Severity.CONDITION, 100.0)


def test_an_isolated_one_lets_nothing_through() -> None:
    found = with_part(is_isolated=True, output_guard_v=None)
    assert said(found, "converter-fails-shorted", "step").severity == Severity.PASS
    assert not [f for f in found.findings if (f.rule, f.subject) == ("output-fails-shorted", "W8")]


def test_a_guard_above_what_the_weakest_stands_is_told() -> None:
    finding = said(with_part(output_guard_v=18.0), "converter-fails-shorted", "step")
    assert (finding.severity, finding.value, finding.limit) == (Severity.ADVICE, 18.0, 16.0)


def test_what_the_loads_stand_may_not_be_said() -> None:
    found = truck(remove=["load/dash/max_v"], set={"part/step/part": "step-24-12-15"})
    finding = said(found, "converter-fails-shorted", "step")
    assert (finding.severity, finding.limit) == (Severity.ADVICE, None)
    assert "dash" in finding.message


def test_a_guarded_one_passes_whatever_is_said_of_the_loads() -> None:
    found = truck(remove=["load/dash/max_v"])
    assert said(found, "converter-fails-shorted", "step").severity == Severity.PASS


def test_a_weak_feed_collapses() -> None:
    """28 A x 13.6 V / 0.9 + 1.5 W = 424.6 W; twice that needs V²/4R of 849 W at 22.4 V: more than 148 mΩ is too much."""
    found = truck(set={"run/W7/joint_ohm": 0.2})
    finding = said(found, "feed-carries-load", "step")
    assert (finding.severity, finding.value) == (Severity.FAIL, pytest.approx(424.6, abs=0.1))


def test_its_input_has_a_lowest_and_a_highest_voltage() -> None:
    found = with_part(input_stop_v=22.3, input_start_v=23.0, input_max_v=28.0)
    assert said(found, "lowest-voltage", "step.in").severity == Severity.FAIL
    assert said(found, "highest-voltage", "step.in").severity == Severity.FAIL


def test_an_input_that_hangs_on_nothing_is_not_checked() -> None:
    found = truck(remove=["run/W7"])
    assert said(found, "feed-carries-load", "step").severity == Severity.NOT_CHECKED
    assert said(found, "wired", "step.in").severity == Severity.NOT_CHECKED


def test_an_output_that_feeds_nothing_has_no_limit_to_judge() -> None:
    found = truck(remove=["run/W8", "load/dash"])
    assert [f for f in found.findings if f.rule == "converter-limit"] == []
    assert said(found, "converter-load", "step").severity == Severity.PASS


def test_on_the_starter_battery_the_engine_start_stops_it() -> None:
    found = truck(set={"run/W7/start": "starter-battery"})
    finding = said(found, "engine-start", "step")
    assert (finding.severity, finding.limit) == (Severity.CONDITION, 19.0)


def test_load_dump_is_asked_of_it_there() -> None:
    found = truck(set={"run/W7/start": "starter-battery"})
    (finding,) = [f for f in found.findings if f.rule == "load-dump" and "step" in f.message]
    assert finding.severity == Severity.PASS


def test_a_loop_behind_it_is_not_judged() -> None:
    again = {
        "id": "W9",
        "start": "step.out",
        "end": "dash",
        "cable": "cable-12-awg",
        "length_m": 3,
        "zones": ["locker"],
    }
    found = truck(add={"run": [again]})
    findings = CONVERTER_LIMIT.check(found.design, studies_of(found))
    assert {f.severity for f in findings if f.subject in {"W8", "W9"}} == {Severity.NOT_CHECKED}


def test_an_input_of_the_wrong_voltage_fails() -> None:
    found = truck(set={"run/W7/start": "starter-battery", "vehicle/system_v": 12})
    finding = said(found, "nominal-voltage", "step")
    assert (finding.severity, finding.value) == (Severity.FAIL, 12.0)


def test_a_load_of_24_v_behind_it_is_no_use() -> None:
    finding = said(truck(set={"load/dash/nominal_v": 24}), "nominal-voltage", "dash")
    assert (finding.severity, finding.way_out, finding.caution) == (Severity.FAIL, "", "")
