from typing import Any

from base_jobs import base, of_rule, studied

from ampwright.assessment.uncounted import CURRENT_SENSOR
from ampwright.findings import Severity

SENSOR: dict[str, list[dict[str, Any]]] = {
    "part": [{"id": "shunt", "part": "shunt-300", "zone": "bench"}],
    "run": [
        {
            "id": "W1B",
            "start": "shunt.out",
            "end": "bar",
            "cable": "cable-50",
            "length_m": 0.3,
            "zones": ["bench"],
        }
    ],
}


def with_sensor(**change: Any) -> Any:
    return studied(add=SENSOR, change={"run/W1/end": "shunt.in", **change})


def test_without_a_sensor_nothing_is_asked() -> None:
    assert of_rule(base("base-12v"), CURRENT_SENSOR) == []


def test_sensor_between_battery_and_everything() -> None:
    (finding,) = of_rule(with_sensor(), CURRENT_SENSOR)
    assert (finding.subject, finding.severity) == ("shunt", Severity.PASS)


def test_each_way_past_the_sensor_is_named() -> None:
    found = with_sensor(**{"run/W3/start": "battery", "run/W6/start": "battery"})
    (finding,) = of_rule(found, CURRENT_SENSOR)
    assert finding.severity == Severity.CONDITION
    assert "fridge (run W6)" in finding.message
    assert "charger (run W3)" in finding.message
    assert "inverter" not in finding.message


def test_sensor_the_wrong_way_round() -> None:
    change = {"run/W1/end": "shunt.out", "run/W1B/start": "shunt.in"}
    found = of_rule(studied(add=SENSOR, change=change), CURRENT_SENSOR)
    assert any(f.severity == Severity.CONDITION and "wrong way round" in f.message for f in found)


def test_sensor_of_one_branch_is_no_battery_monitor() -> None:
    add = {
        "part": SENSOR["part"],
        "run": [{"id": "W6B", "start": "shunt.out", "end": "fridge", "cable": "cable-4", "length_m": 1}],
    }
    (finding,) = of_rule(studied(add=add, change={"run/W6/end": "shunt.in"}), CURRENT_SENSOR)
    assert finding.severity == Severity.ADVICE
    assert "no measure of charge" in finding.message


def test_return_through_metal_to_a_tie_before_the_sensor() -> None:
    change = {"run/W6/back": "chassis", "run/W6/plugs": [], "bond/bar/at": "battery"}
    (finding,) = of_rule(with_sensor(**change), CURRENT_SENSOR)
    assert finding.severity == Severity.CONDITION
    assert "W6" in finding.message
