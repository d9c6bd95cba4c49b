import math

import pytest
from base_jobs import design, of_rule, studied

from ampwright.assessment.setting_range import SETTING_RANGE, is_settable, setting_range
from ampwright.findings import Severity
from ampwright.parts.catalogue import shipped_catalogue

PARTS = shipped_catalogue()


def test_a_charger_without_an_adjustable_limit_has_one_current() -> None:
    found = setting_range(PARTS.find("dcdc-12-20"), "output_limit_a")
    assert (found.kind, found.low, found.high) == ("fixed", 20.0, 20.0)
    assert setting_range(PARTS.find("dcdc-12-20"), "input_limit_a").kind == "absent"


def test_what_is_not_of_the_device_is_absent() -> None:
    assert setting_range(PARTS.find("solar-mp-20"), "input_limit_a").kind == "absent"
    assert setting_range(PARTS.find("inv-600"), "charge_v").kind == "absent"
    assert setting_range(PARTS.find("lfp-100"), "stop_v").kind == "absent"
    assert setting_range(PARTS.find("invchg-1600"), "charge_v").low == 14.0


def test_a_fixed_cut_off_fixes_the_restart() -> None:
    assert setting_range(PARTS.find("inv-600"), "start_v").low == 12.0
    found = setting_range(PARTS.find("inv-1000"), "start_v")
    assert (found.kind, found.low, found.high) == ("range", 10.0, PARTS.find("inv-1000").input_max_v)


def test_settable_needs_a_known_range() -> None:
    assert is_settable(PARTS.find("mains-20"), "float_v", 13.6)
    assert not is_settable(PARTS.find("mains-20"), "float_v", 12.9)
    assert not is_settable(PARTS.find("mains-20"), "absorption_minutes", 60.0)
    assert math.isinf(setting_range(PARTS.find("mains-20"), "input_limit_a").high)


@pytest.mark.parametrize(
    ("path", "value", "words"),
    [
        ("setting/controller/input_limit_a", 5, "no such setting"),
        ("setting/charger/stop_v", 9.0, "from 10.8 V to 12 V"),
        ("setting/charger/equalise_v", 15.0, "fixed at 0 V"),
        ("setting/charger/idle_limit_a", 5, "from 10 A to 40 A"),
    ],
)
def test_values_a_device_does_not_take(path: str, value: float, words: str) -> None:
    found = of_rule(studied(change={path: value}), SETTING_RANGE, path.split("/")[1])
    assert [f.severity for f in found] == [Severity.FAIL]
    assert words in found[0].message


def test_a_range_nobody_stated_is_said() -> None:
    (finding,) = of_rule(studied(change={"setting/charger/absorption_minutes": 60}), SETTING_RANGE, "charger")
    assert (finding.severity, "absorption time" in finding.message) == (Severity.ADVICE, True)


def test_a_device_without_a_setting_is_not_asked() -> None:
    job = studied("base-24v", remove=["setting/mains"])
    assert {f.subject for f in of_rule(job, SETTING_RANGE)} == {"charger"}
    assert design().wanted_settings[0].part == "charger"
