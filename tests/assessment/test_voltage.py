import dataclasses

import pytest
from base_jobs import base, of_rule, studied, studies_of

from ampwright.assessment.voltage import FEED_CARRIES_LOAD, HIGHEST_VOLTAGE, LOWEST_VOLTAGE
from ampwright.findings import Severity


def test_unknown_limit_falls_back_to_a_tenth_below_its_source() -> None:
    found = studied(remove=["load/lights/min_v"])
    (finding,) = of_rule(found, LOWEST_VOLTAGE, "lights")
    assert (finding.limit, finding.severity) == (pytest.approx(0.9 * 11.8), Severity.PASS)
    long = studied(change={"run/W9/length_m": 70}, remove=["load/lights/min_v"])
    assert of_rule(long, LOWEST_VOLTAGE, "lights")[0].severity == Severity.CONDITION


def test_unknown_source_is_not_passed() -> None:
    found = studied(remove=["load/lights/min_v"])
    low = found.network.node_low_v.copy()
    low[found.design.node_of("battery")] = float("nan")
    studies = dataclasses.replace(
        studies_of(found), network=dataclasses.replace(found.network, node_low_v=low)
    )
    (finding,) = (f for f in LOWEST_VOLTAGE.check(found.design, studies) if f.subject == "lights")
    assert finding.severity == Severity.NOT_CHECKED


def test_comfort_load_below_its_voltage_is_a_condition() -> None:
    found = studied(change={"load/laptop/min_v": 11.75})
    assert of_rule(found, LOWEST_VOLTAGE, "laptop")[0].severity == Severity.CONDITION


def test_unknown_highest_voltage_is_advice() -> None:
    found = studied(remove=["load/fridge/max_v"])
    (finding,) = of_rule(found, HIGHEST_VOLTAGE, "fridge")
    assert (finding.severity, finding.limit) == (Severity.ADVICE, None)


def test_input_limit_eases_the_feed() -> None:
    found = studied(change={"setting/charger/input_limit_a": 20, "run/W2/joint_ohm": 0.031})
    (finding,) = of_rule(found, FEED_CARRIES_LOAD)
    # 20 A at 13.6 V instead of 617 W
    assert (finding.value, finding.severity) == (pytest.approx(272.0), Severity.PASS)


def test_charger_that_is_not_wired() -> None:
    found = studied(remove=["run/W2"])
    (finding,) = of_rule(found, FEED_CARRIES_LOAD)
    assert finding.severity == Severity.NOT_CHECKED


def test_base_feed_is_strong() -> None:
    (finding,) = of_rule(base("base-12v"), FEED_CARRIES_LOAD)
    assert finding.severity == Severity.PASS
