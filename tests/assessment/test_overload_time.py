"""Overload budget against the loads of the 12 V base job; the inverter gives 480 W for long in its 45 °C.

600 W at 25 °C, 510 W at 40 °C: 6 W a kelvin, 600 - 20 * 6 = 480 W; time constant 58.73 s (see test_inverter_overload).
"""

from __future__ import annotations

from typing import Any

import pytest
from base_jobs import base, of_rule, studied

from ampwright.assessment.overload_time import INVERTER_OVERLOAD_TIME
from ampwright.assessment.service import INVERTER_POWER
from ampwright.findings import Finding, Severity


def _load(name: str, power_w: float, minutes: float, **more: Any) -> dict[str, Any]:
    use = {"start": "12:00", "end": "13:00", "uses": more.pop("uses", 1), "use_minutes": minutes}
    return {
        "id": name,
        "name": name.title(),
        "power_w": power_w,
        "through": "inverter",
        "priority": "comfort",
        "when": [use],
        **more,
    }


def _found(*loads: dict[str, Any], **edits: Any) -> Finding:
    found = studied(add={"load": list(loads)}, remove=["load/mixer"], **edits)
    (finding,) = of_rule(found, INVERTER_OVERLOAD_TIME)
    return finding


def test_light_load_uses_part_of_the_budget() -> None:
    (finding,) = of_rule(base("base-12v"), INVERTER_OVERLOAD_TIME)
    # 300 W at 0.9: 333 VA of 480 VA, squared 0.4823, held for ten time constants
    assert finding.severity == Severity.PASS
    assert finding.value == pytest.approx(48.2, abs=0.05)
    assert "480 W" in finding.message


def test_use_shorter_than_the_budget_passes_and_a_longer_one_does_not() -> None:
    # 550 W: 84.2 s from rest
    assert _found(_load("kettle", 550.0, 1.4)).severity == Severity.PASS
    over = _found(_load("kettle", 550.0, 1.5))
    assert over.severity == Severity.CONDITION
    assert over.value == pytest.approx(84.2, abs=0.05)
    assert over.limit == pytest.approx(90.0)
    essential = _found(_load("kettle", 550.0, 1.5, priority="essential"))
    assert essential.severity == Severity.FAIL


def test_two_loads_need_an_order_and_a_pause() -> None:
    # Each 550 W for 1 min holds alone; together 1100 W is above the overload power and is inverter-power's.
    one, two = _load("kettle", 550.0, 1.0), _load("toaster", 550.0, 1.0)
    found = studied(add={"load": [one, two]}, remove=["load/mixer"])
    assert [f.severity for f in of_rule(found, INVERTER_POWER)] == [Severity.FAIL]
    # 400 W for 4 min with 300 W for 2 min: each below 480 W for ever; together 700 W, r^2 = 2.126736.
    both = _found(_load("kettle", 400.0, 4.0), _load("cooker", 300.0, 2.0))
    assert both.severity == Severity.CONDITION
    # after 120 s of 400 W: 0.694444 (1 - e^(-120/58.73)) = 0.60444; then 58.73 ln((2.126736 - 0.60444) / 1.126736)
    assert both.value == pytest.approx(120.0 + 17.67, abs=0.1)
    assert both.limit == pytest.approx(240.0)
    assert both.way_out == "One after another, not together."


def test_repeated_use_needs_a_pause_between_two_uses() -> None:
    # 550 W for 60 s: level 1.312934 (1 - e^(-60/58.73)) = 0.84026; it may begin at 1.312934 - 0.312934 e^(60/58.73) = 0.44370;
    # pause 58.73 ln(0.84026 / 0.44370) = 37.5 s
    rare = _found(_load("kettle", 550.0, 1.0, uses=3))
    assert rare.severity == Severity.ADVICE
    assert "at least 38 s between two uses of Kettle; a shorter pause does not restore it" in rare.way_out
    # 40 uses in an hour leave 30.8 s between two
    assert _found(_load("kettle", 550.0, 1.0, uses=40)).severity == Severity.CONDITION


def test_pause_grows_with_what_runs_beside_it() -> None:
    steady = {**_load("lamp", 200.0, 1.0), "when": [{"start": "12:00", "end": "13:00"}]}
    # 200 W: 0.173611. Beside it 350 W for 60 s is 550 W again: level 1.312934 - 1.139323 * 0.360011 = 0.90276;
    # pause 58.73 ln((0.90276 - 0.173611) / (0.44370 - 0.173611)) = 58.3 s
    found = _found(steady, _load("kettle", 350.0, 1.0, uses=3))
    assert found.severity == Severity.ADVICE
    assert "at least 58 s" in found.way_out


def test_use_beside_a_load_that_almost_fills_it() -> None:
    steady = {**_load("lamp", 400.0, 1.0), "when": [{"start": "12:00", "end": "13:00"}]}
    # 400 W: 0.694444; 540 W together, r^2 = 1.265625, from there 58.73 ln(0.571181 / 0.265625) = 44.96 s
    alone = _found(steady, _load("kettle", 140.0, 0.75))
    assert alone.severity == Severity.CONDITION
    assert alone.value == pytest.approx(44.96, abs=0.05)
    assert "beside Lamp" in alone.message
    twice = _found(steady, _load("kettle", 140.0, 0.74, uses=2))
    # 44.4 s end at 0.99743 and may begin at 0.69991: 58.73 ln(0.302986 / 0.005466) = 236 s
    assert "at least 3.9 min" in twice.way_out


@pytest.mark.parametrize(
    ("priority", "weight"), [("essential", Severity.FAIL), ("comfort", Severity.CONDITION)]
)
def test_loads_by_the_clock_count_as_for_ever(priority: str, weight: Severity) -> None:
    steady = {
        **_load("lamp", 490.0, 1.0, priority=priority, power_factor=0.99),
        "when": [{"start": "12:00", "end": "13:00", "duty_frac": 0.1}],
    }
    found = _found(steady)
    assert found.severity == weight
    assert (found.unit, found.limit) == ("VA", pytest.approx(480.0))
    assert found.value == pytest.approx(490.0 / 0.99)


def test_peak_of_a_load_lasts_a_minute() -> None:
    steady = {
        **_load("pump", 200.0, 1.0, peak_w=600.0),
        "when": [{"start": "12:00", "end": "13:00"}],
    }
    # from 0.173611, r^2 = 1.5625: 58.73 ln(1.388889 / 0.5625) = 53.08 s of 60
    found = _found(steady)
    assert found.value == pytest.approx(53.08, abs=0.05)
    assert found.limit == 60.0


def test_inverter_in_air_too_hot_for_it() -> None:
    found = _found(_load("kettle", 100.0, 1.0), change={"zone/bench/ambient_max_degc": 55})
    assert found.severity == Severity.NOT_CHECKED


def test_air_of_the_enclosure_and_of_no_place() -> None:
    box = studied(
        add={"part": [{"id": "box", "part": "box-medium", "zone": "bench"}]},
        change={"part/inverter/inside": "box"},
    )
    (boxed,) = of_rule(box, INVERTER_OVERLOAD_TIME)
    assert boxed.value is None or boxed.value > 48.3
    nowhere = studied(remove=["part/inverter/zone"])
    (open_air,) = of_rule(nowhere, INVERTER_OVERLOAD_TIME)
    assert "35 °C" in open_air.message


def test_inverter_without_loads_is_silent() -> None:
    assert of_rule(studied(remove=["load/mixer"]), INVERTER_OVERLOAD_TIME) == []
