"""Rules on buttons and on white light rearwards: what they say beside the planted faults."""

from __future__ import annotations

from typing import Any

import pytest
from base_jobs import base, of_rule, studied

from ampwright.assessment.buttons import BUTTON_DIMMING, BUTTON_EFFECT, BUTTON_LEGEND, LOAD_BUTTON
from ampwright.assessment.result import Assessment
from ampwright.assessment.road_light import ROAD_LIGHT
from ampwright.assessment.rule import Rule
from ampwright.findings import Severity

KEYS = {"id": "keys", "part": "buttons-6", "zone": "bench"}
HAND = {"id": "hand", "part": "remote-4", "zone": "bench"}
LIGHTS = {"panel": "keys", "number": 1, "legend": "LIGHTS", "channels": ["outputs.5"]}
LAPTOP = {"panel": "keys", "number": 2, "legend": "LAPTOP", "channels": ["outputs.6"]}
RULES = (LOAD_BUTTON, BUTTON_EFFECT, BUTTON_LEGEND, BUTTON_DIMMING, ROAD_LIGHT)


def with_buttons(*buttons: dict[str, Any], change: dict[str, Any] | None = None, **add: Any) -> Assessment:
    return studied(add={"part": [KEYS, HAND], "button": list(buttons), **add}, change=change or {})


def severities(found: Assessment, rule: Rule, subject: str | None = None) -> list[Severity]:
    return [finding.severity for finding in of_rule(found, rule, subject)]


@pytest.mark.parametrize("rule", RULES, ids=[rule.name for rule in RULES])
def test_a_job_without_panel_and_buttons_is_asked_nothing(rule: Rule) -> None:
    assert of_rule(base("base-12v"), rule) == []


def test_panels_whose_buttons_are_not_said_are_not_passed() -> None:
    found = with_buttons()
    assert severities(found, LOAD_BUTTON, "keys") == [Severity.NOT_CHECKED]
    assert severities(found, LOAD_BUTTON, "hand") == [Severity.NOT_CHECKED]


def test_load_on_a_channel_nobody_describes() -> None:
    found = studied(add={"part": [KEYS], "button": [LAPTOP]}, remove=["channel/Lights"])
    assert severities(found, LOAD_BUTTON, "lights") == [Severity.NOT_CHECKED]
    assert severities(found, LOAD_BUTTON, "laptop") == [Severity.PASS]
    assert severities(found, ROAD_LIGHT, "outputs.5") == []


def test_load_that_is_always_on_needs_no_button() -> None:
    found = with_buttons(LAPTOP, change={"channel/Lights/is_always_on": True})
    assert severities(found, LOAD_BUTTON, "lights") == [Severity.PASS]
    assert severities(found, LOAD_BUTTON, "fridge") == []


def test_button_that_an_interlock_holds_in_every_state_reaches_nothing() -> None:
    lock = {"channels": ["outputs.5"], "off_while": ["parked", "road", "reversing"]}
    found = with_buttons(LIGHTS, LAPTOP, interlock=[lock])
    assert severities(found, LOAD_BUTTON, "lights") == [Severity.CONDITION]
    assert severities(found, BUTTON_EFFECT, "keys.1") == [Severity.CONDITION]
    assert severities(found, BUTTON_EFFECT, "keys.2") == [Severity.PASS]


def test_button_of_a_channel_without_a_run() -> None:
    spare = {"module": "outputs", "number": 8, "name": "Spare"}
    found = with_buttons({**LIGHTS, "channels": ["outputs.5", "outputs.8"]}, channel=[spare])
    (finding,) = of_rule(found, BUTTON_EFFECT, "keys.1")
    assert finding.severity == Severity.CONDITION
    assert "outputs.8, where nothing is wired" in finding.message


def test_legends_that_nobody_can_tell_apart_and_a_remote_that_states_no_length() -> None:
    long = {**LAPTOP, "panel": "hand", "number": 1, "legend": "LAPTOP AND PHONES"}
    found = with_buttons(LIGHTS, {**LAPTOP, "legend": "LIGHTS"}, long)
    assert severities(found, BUTTON_LEGEND, "keys.1") == [Severity.CONDITION, Severity.PASS]
    assert severities(found, BUTTON_LEGEND, "hand.1") == []


def test_dimming_that_the_channel_can_do_and_dimming_that_the_job_does_not_say() -> None:
    dim = {**LIGHTS, "does": "dim"}
    scene = {
        **LAPTOP,
        "channels": [],
        "does": "scene",
        "level": [{"channel": "outputs.6", "level_frac": 0.3}],
    }
    found = with_buttons(dim, scene, change={"channel/Lights/is_dimmed": True})
    assert severities(found, BUTTON_DIMMING, "keys.1") == [Severity.PASS]
    assert severities(found, BUTTON_DIMMING, "keys.2") == [Severity.CONDITION]
    full = {**scene, "level": [{"channel": "outputs.6"}]}
    assert severities(with_buttons(full), BUTTON_DIMMING) == []


def test_light_of_a_switched_channel_must_be_said() -> None:
    found = with_buttons(LIGHTS, LAPTOP, change={"channel/Laptop/light_outside": "none"})
    assert severities(found, ROAD_LIGHT) == [Severity.NOT_CHECKED]


@pytest.mark.parametrize(
    ("lock", "words"),
    [
        ({"off_while": ["parked"]}, "while driving on the road."),
        ({"off_while": ["road"], "when_lost": "as-parked"}, "when the signal of the vehicle is lost."),
    ],
)
def test_interlock_that_leaves_a_gap(lock: dict[str, Any], words: str) -> None:
    change = {"channel/Lights/light_outside": "white-rearward", "channel/Laptop/light_outside": "none"}
    found = with_buttons(LIGHTS, LAPTOP, change=change, interlock=[{"channels": ["outputs.5"], **lock}])
    (finding,) = of_rule(found, ROAD_LIGHT)
    assert finding.severity == Severity.CONDITION
    assert finding.message.endswith(f"can be on {words}")


def test_rearward_light_that_is_always_on() -> None:
    change = {"channel/Lights/light_outside": "white-rearward", "channel/Lights/is_always_on": True}
    found = with_buttons(LAPTOP, change={**change, "channel/Laptop/light_outside": "none"})
    (finding,) = of_rule(found, ROAD_LIGHT)
    assert finding.severity == Severity.CONDITION
    assert "in place of is_always_on" in finding.way_out
