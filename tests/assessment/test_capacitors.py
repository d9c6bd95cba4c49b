import pytest
from base_jobs import base, of_rule, studied

from ampwright.assessment.capacitors import INVERTER_CAPACITORS
from ampwright.findings import Severity


def test_pulse_of_the_base_job_by_hand() -> None:
    (finding,) = of_rule(base("base-12v"), INVERTER_CAPACITORS)
    # 14.4 V behind 14.4 / 4000 + 2 x 0.5 m x 0.386 + 2 x 0.8 m x 0.554 mΩ = 4.872 mΩ; 14.4² x 4.7 mF / (2 x 4.872 mΩ)
    assert finding.value == pytest.approx(100.0, abs=0.1)
    # class T, 100 A: 570 A for 0.01 s is the smallest, 3249 A²s, less 0.5 % per K of heat from 25 to 45 °C: x 0.9²; half
    assert finding.limit == pytest.approx(0.5 * 3249 * 0.81, rel=1e-6)
    assert finding.severity == Severity.ADVICE
    assert "S1" in finding.message
    assert "2,955 A" in finding.message


def test_without_an_isolator_it_passes() -> None:
    (finding,) = of_rule(studied(remove=["run/W1/device/S1"]), INVERTER_CAPACITORS)
    assert finding.severity == Severity.PASS


def test_resistor_gives_time_and_energy() -> None:
    (finding,) = of_rule(studied(change={"part/inverter/precharge_ohm": 10.0}), INVERTER_CAPACITORS)
    assert finding.severity == Severity.PASS
    # 5 x 10 Ω x 4.7 mF = 0.235 s; ½ x 4.7 mF x 14.4² = 0.487 Ws; 14.4²/10 = 20.7 W
    assert finding.value == pytest.approx(0.235)
    assert "0.49 Ws" in finding.message
    assert "21 W" in finding.message


def test_inverter_that_limits_it_by_itself() -> None:
    (finding,) = of_rule(studied(change={"part/inverter/part": "invchg-1600"}), INVERTER_CAPACITORS)
    assert finding.severity == Severity.PASS


def test_loop_is_not_followed() -> None:
    second = {
        "id": "W7B",
        "start": "bar",
        "end": "inverter",
        "cable": "cable-35",
        "length_m": 0.8,
        "zones": ["bench"],
    }
    (finding,) = of_rule(studied(add={"run": [second]}), INVERTER_CAPACITORS)
    assert finding.severity == Severity.NOT_CHECKED
