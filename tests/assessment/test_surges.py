from typing import Any

import pytest
from base_jobs import base, of_rule, studied

from ampwright.assessment.surges import ENGINE_START, LOAD_DUMP
from ampwright.findings import Severity

FEED: dict[str, Any] = {
    "id": "W20", "start": "starter-battery", "end": "radio", "cable": "cable-4", "length_m": 6.0, "zones": ["floor"],
    "is_sheathed": True, "device": [{"id": "Q20", "part": "breaker-hm-20", "distance_m": 0.1, "is_sheathed": True}],
}  # fmt: skip
RADIO: dict[str, Any] = {"id": "radio", "name": "Radio", "power_w": 24, "priority": "comfort"}


def radio(**said: Any) -> dict[str, Any]:
    return {"run": [FEED], "load": [{**RADIO, **said}]}


def test_charger_of_the_base_job_survives() -> None:
    (finding,) = of_rule(base("base-12v"), LOAD_DUMP)
    assert (finding.subject, finding.severity) == ("charger", Severity.PASS)


@pytest.mark.parametrize(
    ("clamps", "surge_v", "severity"),
    [
        (True, 34.9, Severity.CONDITION),
        (True, 35.0, Severity.PASS),
        (None, 35.0, Severity.NOT_CHECKED),
        (None, 101.0, Severity.PASS),
        (False, 100.0, Severity.CONDITION),
        (False, 101.0, Severity.PASS),
    ],
)
def test_levels_of_a_12_v_vehicle(*, clamps: bool | None, surge_v: float, severity: Severity) -> None:
    add = radio(max_v=24, survives_surge_v=surge_v, survives_reverse_v=14)
    change = {} if clamps is None else {"vehicle/alternator/clamps_load_dump": clamps}
    remove = ["vehicle/alternator/clamps_load_dump"] if clamps is None else []
    found = of_rule(studied(add=add, change=change, remove=remove), LOAD_DUMP)
    assert [f.severity for f in found if "radio" in f.message] == [severity]


def test_a_24_v_vehicle_asks_58_v_and_no_jump_start() -> None:
    feed = {**FEED, "cable": "cable-12-awg", "zones": ["locker"]}
    load = {**RADIO, "survives_surge_v": 58, "survives_reverse_v": 28}
    found = of_rule(studied("base-24v", add={"run": [feed], "load": [load]}), LOAD_DUMP)
    assert {(f.subject, f.severity) for f in found} == {("base-24v", Severity.PASS)}


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"max_v": 16}, "a jump start from 24 V puts 24 V on it, it survives 16 V"),
        ({"survives_reverse_v": 10}, "a reversed battery puts 14 V on it, it survives 10 V"),
    ],
)
def test_jump_start_and_reversed_battery(said: dict[str, float], words: str) -> None:
    add = radio(**{"max_v": 30, "survives_surge_v": 60, "survives_reverse_v": 16, **said})
    (finding,) = of_rule(studied(add=add), LOAD_DUMP, "radio")
    assert finding.severity == Severity.CONDITION
    assert words in finding.message


def test_what_states_nothing_is_named_with_what_is_missing() -> None:
    (finding,) = of_rule(studied(add=radio()), LOAD_DUMP, "radio")
    assert finding.severity == Severity.NOT_CHECKED
    assert "load dump: 35 V clamped, 101 V not" in finding.message
    assert "a jump start from 24 V" in finding.message
    assert "a reversed battery" in finding.message


def test_without_an_alternator_nothing_is_asked() -> None:
    assert of_rule(studied(remove=["vehicle/alternator"]), LOAD_DUMP) == []


def test_loads_behind_a_charger_do_not_see_the_engine_start() -> None:
    assert of_rule(base("base-12v"), ENGINE_START) == []


def test_load_that_states_no_lowest_voltage_at_engine_start() -> None:
    (finding,) = of_rule(studied(add=radio()), ENGINE_START)
    assert (finding.subject, finding.severity) == ("base-12v", Severity.NOT_CHECKED)
    assert "radio" in finding.message


def test_load_that_works_from_7_v_stays_up() -> None:
    (finding,) = of_rule(studied(add=radio(min_v=7)), ENGINE_START, "radio")
    assert finding.severity == Severity.PASS
    # 24 W at 8 V less the drop: 12 m x 4.95 mΩ/m x 1.157 (60 °C) + 1 mΩ + 6 mΩ = 75.7 mΩ; v = 4 + √(16 - 24·0.0757)
    assert finding.value == pytest.approx(7.766, abs=0.01)


def test_inverter_on_the_starter_battery_drops_out() -> None:
    # it switches off below its input_min_v, well above 8 V
    found = studied(change={"run/W7/start": "starter-battery"})
    (finding,) = of_rule(found, ENGINE_START, "inverter")
    assert finding.severity == Severity.CONDITION
