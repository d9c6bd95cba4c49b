"""Split supplies, generators that start motors, and frequencies, beyond the planted faults."""

from __future__ import annotations

import dataclasses
from typing import Any

import pytest
from base_jobs import of_rule, studied

from ampwright.assessment.mains_frequency import MAINS_FREQUENCY
from ampwright.assessment.mains_lead import MAINS_LEAD_DROP
from ampwright.assessment.mains_legs import GENERATOR_START, MAINS_LEGS
from ampwright.assessment.rule import Rule
from ampwright.errors import JobError
from ampwright.findings import Finding, Severity

POST = {"name": "post", "kind": "site", "rating_a": 50, "socket": "nema-14-50"}
GENERATOR = {"name": "set", "kind": "generator", "rating_va": 2000, "is_neutral_linked": True}
EVENING = [{"start": "19:00", "end": "20:00", "uses": 1, "use_minutes": 10}]


def _one(rule: Rule, subject: str, change: dict[str, Any], base: str = "base-mains") -> Finding:
    (finding,) = of_rule(studied(base, change=change), rule, subject)
    return finding


def _american(leg: list[dict[str, Any]], **supply: Any) -> dict[str, Any]:
    return {
        "job/region": "us-ca",
        "part/mains-charger/part": "mains-30-120v",
        "mains/supply": [{**POST, **supply}],
        "mains/leg": leg,
    }


def test_a_leg_must_be_named_for_everything_at_120_v() -> None:
    finding = _one(MAINS_LEGS, "post", _american([]))
    assert finding.severity is Severity.NOT_CHECKED
    assert "which leg feeds mains-charger" in finding.message


def test_a_leg_carries_its_own() -> None:
    # 500 W at 120 V are 4.17 A; nothing hangs on the second leg
    finding = _one(MAINS_LEGS, "post", _american([{"number": 2, "feeds": ["mains-charger"]}]))
    assert finding.severity is Severity.PASS
    assert finding.value == pytest.approx(500.0 / 120.0)
    assert "Leg 1 0.0 A, leg 2 4.2 A" in finding.message
    assert "loose neutral" in finding.message


def test_a_leg_can_be_too_full() -> None:
    legs = [{"number": 1, "feeds": ["mains-charger"]}]
    finding = _one(MAINS_LEGS, "post", _american(legs, rating_a=4))
    assert finding.severity is Severity.CONDITION
    assert finding.limit == 4.0
    one = _one(MAINS_LEGS, "post", _american([], leg_count=1))
    assert one.severity is Severity.PASS
    assert one.value == pytest.approx(500.0 / 120.0)


def test_a_single_supply_has_no_legs_to_judge() -> None:
    assert not of_rule(studied("base-mains"), MAINS_LEGS)


def test_a_motor_that_says_no_start_is_asked_for() -> None:
    change = {"mains/supply": [GENERATOR], "load/mixer/has_motor": True, "load/mixer/when": EVENING}
    finding = _one(GENERATOR_START, "set", change)
    assert finding.severity is Severity.NOT_CHECKED
    assert "what mixer ask while they start" in finding.message
    # at noon nobody is hooked up
    assert not of_rule(
        studied(
            change={**change, "load/mixer/when": [{"start": "12:00", "end": "13:00"}]}, name="base-mains"
        ),
        GENERATOR_START,
    )


def test_without_a_starting_power_the_running_one_counts() -> None:
    change = {"mains/supply": [GENERATOR], "load/mixer/start_va": 1200, "load/mixer/when": EVENING}
    finding = _one(GENERATOR_START, "set", change)
    # 490 / 0.65 + 1200
    assert finding.value == pytest.approx(490.0 / 0.65 + 1200.0)
    assert finding.limit == 2000.0
    assert finding.severity is Severity.PASS
    assert "is not said" in finding.message


def test_electronics_take_both_and_an_unknown_motor_weighs() -> None:
    weight = {
        motor: _one(
            MAINS_FREQUENCY,
            "mixer",
            {"load/mixer/mains_hz": [60], **({} if motor is None else {"load/mixer/has_motor": motor})},
        ).severity
        for motor in (True, None, False)
    }
    assert weight == {True: Severity.CONDITION, None: Severity.CONDITION, False: Severity.ADVICE}
    assert _one(MAINS_FREQUENCY, "mixer", {"load/mixer/mains_hz": [50, 60]}).severity is Severity.PASS


def test_a_foreign_supply_asks_for_plates() -> None:
    change = {"mains/supply": [{**POST, "socket": "iec-60309-16", "nominal_hz": 60}]}
    found = studied("base-mains", change=change)
    (asked,) = [f for f in of_rule(found, MAINS_FREQUENCY) if f.severity is Severity.NOT_CHECKED]
    assert "Post gives 60 Hz" in asked.message
    assert "mixer" in asked.message
    (charger,) = of_rule(found, MAINS_FREQUENCY, "mains-charger")
    assert charger.severity is Severity.PASS


def test_loads_moved_by_a_switch_count_for_the_lead() -> None:
    # 490 W and the mixer's 333 VA over 230 V; without its evening hour the charger alone
    drop = _one(MAINS_LEAD_DROP, "lead", {"load/mixer/when": EVENING})
    assert "3.6 A" in drop.message
    assert "2.1 A" in _one(MAINS_LEAD_DROP, "lead", {}).message
    apart = {"load/mixer/when": EVENING, "mains/transfer": {"kind": "separate-outlets"}}
    assert "2.1 A" in _one(MAINS_LEAD_DROP, "lead", apart).message


def test_a_leg_names_parts_of_the_job() -> None:
    with pytest.raises(JobError) as raised:
        studied("base-mains", change={"mains/leg": [{"number": 1, "feeds": ["charger-9"]}]})
    (problem,) = raised.value.problems
    assert "no part 'charger-9'" in problem.message


def test_a_plate_that_is_not_stated_is_asked_for() -> None:
    found = studied("base-mains")
    parts = tuple(
        dataclasses.replace(each, part=dataclasses.replace(each.part, input_hz=()))
        if each.id == "mains-charger"
        else each
        for each in found.design.parts
    )
    design = dataclasses.replace(found.design, parts=parts)
    asked = [f for f in MAINS_FREQUENCY.check(design, None) if f.subject == "mains-charger"]
    assert [f.severity for f in asked] == [Severity.NOT_CHECKED]
    wrong = tuple(
        dataclasses.replace(each, part=dataclasses.replace(each.part, input_hz=(60,)))
        if each.id == "mains-charger"
        else each
        for each in found.design.parts
    )
    (finding,) = [
        f
        for f in MAINS_FREQUENCY.check(dataclasses.replace(found.design, parts=wrong), None)
        if f.subject == "mains-charger"
    ]
    assert (finding.severity, finding.value, finding.limit) == (Severity.CONDITION, 60.0, 50.0)
