import dataclasses

import pytest
from base_jobs import base, of_rule, studied, studies_of

from ampwright.assessment.cables import BUS_BAR_RATING, CABLE_CAPACITY, PLUG_RATING
from ampwright.assessment.device_place import DEVICE_AT_SOURCE, FED_FROM_BOTH_ENDS
from ampwright.assessment.device_size import DEVICE_AGAINST_CABLE, OUTPUT_FAILS_SHORTED
from ampwright.assessment.result import Assessment
from ampwright.findings import Finding, Severity
from ampwright.job.design import Design


def with_cables(found: Assessment, area_mm2: float) -> Design:
    runs = tuple(
        dataclasses.replace(
            run,
            cable=dataclasses.replace(run.cable, area_mm2=area_mm2, resistance_ohm_per_km=17.5 / area_mm2),
        )
        for run in found.design.runs
    )
    return dataclasses.replace(found.design, runs=runs)


def test_cable_outside_the_table_leaves_every_rule_of_capacity_open() -> None:
    found = base("base-12v")
    huge = with_cables(found, 240.0)
    for rule in (
        CABLE_CAPACITY,
        DEVICE_AGAINST_CABLE,
        DEVICE_AT_SOURCE,
        FED_FROM_BOTH_ENDS,
        OUTPUT_FAILS_SHORTED,
    ):
        findings: list[Finding] = list(rule.check(huge, studies_of(found)))
        assert findings
        assert {f.severity for f in findings} == {Severity.NOT_CHECKED}, rule.name


def test_plug_and_bar_below_the_voltage() -> None:
    found = studied(change={"run/W5/plugs": ["plug-50"], "part/panel/in_series": 2})
    runs = tuple(
        dataclasses.replace(run, plugs=tuple(dataclasses.replace(p, rated_dc_v=32.0) for p in run.plugs))
        for run in found.design.runs
    )
    findings = list(PLUG_RATING.check(dataclasses.replace(found.design, runs=runs), studies_of(found)))
    failed = [f for f in findings if f.severity == Severity.FAIL]
    assert [(f.subject, f.unit, f.limit) for f in failed] == [("W5", "V", 32.0)]


def test_combiner_bar_of_panels_sees_their_open_circuit() -> None:
    combiner = {
        "part": [{"id": "combiner", "part": "bus-100", "zone": "bench"}],
        "run": [
            {
                "id": "W11",
                "start": "combiner",
                "end": "controller.in",
                "cable": "cable-6",
                "length_m": 1,
                "zones": ["bench"],
            }
        ],
    }
    found = studied(change={"run/W5/end": "combiner", "part/panel/in_series": 2}, add=combiner)
    failed = [f for f in of_rule(found, BUS_BAR_RATING, "combiner") if f.severity == Severity.FAIL]
    # 51.96 V cold open circuit on a bar for 48 V; at maximum power it would see 41 V
    assert [(f.unit, f.limit) for f in failed] == [("V", 48.0)]


def test_sensor_carries_what_passes() -> None:
    finding = of_rule(base("base-module"), BUS_BAR_RATING, "pm.shunt")[0]
    assert (finding.limit, finding.severity) == (300.0, Severity.PASS)


def test_bar_adds_what_flows_in() -> None:
    finding = of_rule(base("base-12v"), BUS_BAR_RATING, "bar")[0]
    # 40 A and 20 A of two chargers meet in it, less what the chargers themselves draw; the loads ask less
    assert finding.value == pytest.approx(60.0, abs=0.1)
