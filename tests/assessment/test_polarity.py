import dataclasses

import pytest
from base_jobs import base, design, of_rule, studied

from ampwright.assessment.polarity import BREAKER_POLARITY
from ampwright.assessment.reach import feeding_nodes, reached
from ampwright.findings import Severity


def test_breakers_without_polarity_pass() -> None:
    found = of_rule(base("base-12v"), BREAKER_POLARITY)
    assert {f.subject for f in found} == {"Q3", "Q4", "Q6", "Q8"}
    assert {f.severity for f in found} == {Severity.PASS}


def test_polarised_breaker_of_a_plain_load_is_told_how_to_be_mounted() -> None:
    found = studied(change={"run/W6/device/Q6/part": "breaker-hm-150", "run/W6/cable": "cable-50"})
    (finding,) = of_rule(found, BREAKER_POLARITY, "Q6")
    assert finding.severity == Severity.ADVICE
    assert "towards bar" in finding.way_out


def test_breaker_of_the_battery_is_fed_back_by_the_chargers() -> None:
    change = {"run/W1/device/F1/part": "breaker-hm-150"}
    (finding,) = of_rule(studied(change=change), BREAKER_POLARITY, "F1")
    assert finding.severity == Severity.FAIL
    assert "charger" in finding.message
    assert "controller" in finding.message


@pytest.mark.parametrize(
    ("charger", "severity"), [("inv-600", Severity.ADVICE), ("invchg-1600", Severity.FAIL)]
)
def test_an_inverter_feeds_back_when_it_charges(charger: str, severity: Severity) -> None:
    change = {"part/inverter/part": charger, "run/W7/device/F7/part": "breaker-hm-150"}
    (finding,) = of_rule(studied(change=change), BREAKER_POLARITY, "F7")
    assert finding.severity == severity


def test_both_sides_of_a_run_in_a_loop_are_fed_by_the_battery() -> None:
    second = {
        "id": "W6B", "start": "bar", "end": "fridge", "cable": "cable-50", "length_m": 2.5, "zones": ["bench"],
        "device": [{"id": "Q6B", "part": "breaker-hm-150", "distance_m": 0.05}],
    }  # fmt: skip
    (finding,) = of_rule(studied(add={"run": [second]}), BREAKER_POLARITY, "Q6B")
    assert finding.severity == Severity.FAIL


def test_string_breakers_of_parallel_strings() -> None:
    change = {"part/battery/strings": 2, "part/battery/string_device": "breaker-hm-150"}
    (finding,) = of_rule(studied(change=change), BREAKER_POLARITY, "battery string")
    assert finding.severity == Severity.FAIL


def test_polarity_not_stated_is_not_passed() -> None:
    found = base("base-12v")
    runs = []
    for run in found.design.runs:
        devices = tuple(
            dataclasses.replace(d, part=dataclasses.replace(d.part, is_polarised=None)) if d.id == "Q8" else d
            for d in run.devices
        )
        runs.append(dataclasses.replace(run, devices=devices))
    unknown = dataclasses.replace(found, design=dataclasses.replace(found.design, runs=tuple(runs)))
    (finding,) = of_rule(unknown, BREAKER_POLARITY, "Q8")
    assert finding.severity == Severity.NOT_CHECKED


def test_what_hangs_together() -> None:
    made = design()
    starter = made.node_of("starter-battery")
    assert {made.nodes[node] for node in reached(made, starter)} == {"starter-battery", "charger.in"}
    w6 = next(run.index for run in made.runs if run.id == "W6")
    fridge = made.node_of("fridge")
    assert reached(made, fridge, without_runs=frozenset((w6,))) == {fridge}


def test_what_feeds() -> None:
    made = design()
    names = {made.nodes[node] for node in feeding_nodes(made)}
    assert names == {"battery", "starter-battery", "charger.out", "controller.out", "panel"}
