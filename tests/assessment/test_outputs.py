import dataclasses

import pytest
from base_jobs import base, of_rule, studied, studies_of

from ampwright.assessment.circuits import Circuits
from ampwright.assessment.outputs import CHANNEL_CURRENT, MODULE_CURRENT, NEGATIVE_SWITCHED
from ampwright.findings import Severity


def test_constant_power_draws_more_at_low_battery_than_at_nominal() -> None:
    found = studied(change={"load/laptop/power_w": 106})
    (finding,) = of_rule(found, CHANNEL_CURRENT, "outputs.6")
    # 106 W at 12 V are 8.8 A; from 11.8 V less 0.11 V before the channel and 32 mΩ behind it they are 9.3 A
    assert finding.value == pytest.approx(9.31, abs=0.03)
    assert finding.severity == Severity.FAIL


def test_module_without_a_device_in_its_feed() -> None:
    found = studied(remove=["run/W8/device", "run/W1/device/F1"])
    assert Severity.NOT_CHECKED in {f.severity for f in of_rule(found, MODULE_CURRENT)}


LOW_SIDE = {
    "part/outputs/part": "out-16",
    "run/W9/start": "outputs.13",
    "channel/Lights/number": 13,
    "channel/Lights/limit_a": 5,
}


def test_fused_positive_of_a_negative_switched_load() -> None:
    own = [{"id": "Q9", "part": "breaker-hm-20", "distance_m": 0.05}]
    found = studied(change={**LOW_SIDE, "run/W9/device": own})
    assert [f.severity for f in of_rule(found, NEGATIVE_SWITCHED)] == [Severity.PASS]


def test_feed_that_cannot_be_followed_is_not_passed() -> None:
    found = studied(change=LOW_SIDE)
    studies = studies_of(found)
    unknown = tuple(dataclasses.replace(one, is_in_loop=True) for one in studies.circuits.by_run)
    studies = dataclasses.replace(studies, circuits=Circuits(by_run=unknown))
    (finding,) = NEGATIVE_SWITCHED.check(found.design, studies)
    assert finding.severity == Severity.NOT_CHECKED


def test_high_side_channels_ask_nothing() -> None:
    assert of_rule(base("base-12v"), NEGATIVE_SWITCHED) == []
