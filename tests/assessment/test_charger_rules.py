import pytest
from base_jobs import of_rule, studied

from ampwright.assessment.charge_habits import CHARGE_HABITS
from ampwright.assessment.float_voltage import FLOAT_VOLTAGE
from ampwright.assessment.lock_out import CHARGER_LOCK_OUT
from ampwright.findings import Severity

LEAD = {
    "part/battery/part": "agm-200",
    "setting/charger/output_limit_a": 20,
    "setting/charger/programme": "agm",
    "setting/controller/programme": "agm",
}


def test_float_above_the_window_fails() -> None:
    found = of_rule(studied(change={"setting/charger/float_v": 14.7}), FLOAT_VOLTAGE, "charger")
    assert [(f.severity, f.limit) for f in found] == [(Severity.FAIL, 14.6)]


def test_low_float_is_fine_on_lithium() -> None:
    found = of_rule(studied(change={"setting/charger/float_v": 13.2}), FLOAT_VOLTAGE, "charger")
    assert [f.severity for f in found] == [Severity.PASS]


def test_one_charger_agrees_with_itself() -> None:
    gone = ["part/mains", "run/W4", "setting/mains"]
    assert len(of_rule(studied("base-24v", remove=gone), FLOAT_VOLTAGE)) == 1


@pytest.mark.parametrize(
    ("change", "severity", "words"),
    [
        ({"setting/charger/programme": "agm"}, Severity.FAIL, "battery type 'agm'"),
        ({"setting/charger/compensation_v_per_k": 0.01}, Severity.CONDITION, "14.40 V"),
    ],
)
def test_lithium_wants_neither(change: dict[str, object], severity: Severity, words: str) -> None:
    (finding,) = of_rule(studied(change=change), CHARGE_HABITS, "charger")
    assert finding.severity == severity
    assert words in finding.message


def test_habits_switched_off_one_by_one_pass() -> None:
    off = {"setting/controller/equalise_v": 0, "setting/controller/compensation_v_per_k": 0}
    found = studied(change=off, remove=["setting/controller/programme"])
    assert [f.severity for f in of_rule(found, CHARGE_HABITS, "controller")] == [Severity.PASS]


@pytest.mark.parametrize(
    ("slope", "severity"),
    [(0.018, Severity.PASS), (0.03, Severity.PASS), (0.004, Severity.CONDITION), (0.036, Severity.CONDITION)],
)
def test_slope_of_six_lead_acid_cells_lies_between_18_and_30_mv(slope: float, severity: Severity) -> None:
    change = {**LEAD, "setting/charger/compensation_v_per_k": slope}
    (finding,) = of_rule(studied(change=change), CHARGE_HABITS, "charger")
    assert finding.severity == severity
    assert severity is Severity.PASS or "6 lead-acid cells want 18 to 30 mV" in finding.message


def test_sealed_lead_acid_is_not_equalised_and_flooded_may_be() -> None:
    change = {**LEAD, "setting/controller/equalise_v": 15.0}
    (sealed,) = of_rule(studied(change=change), CHARGE_HABITS, "controller")
    assert sealed.severity == Severity.FAIL
    flooded = {**change, "part/battery/part": "flooded-90", "setting/controller/programme": "flooded"}
    found = of_rule(studied(change=flooded), CHARGE_HABITS, "controller")
    assert {f.severity for f in found} == {Severity.ADVICE}


def test_lithium_type_on_lead_acid() -> None:
    (finding,) = of_rule(
        studied(change={**LEAD, "setting/charger/programme": "lfp"}), CHARGE_HABITS, "charger"
    )
    assert finding.severity == Severity.CONDITION


def test_lock_out_without_a_gap() -> None:
    found = of_rule(
        studied(change={"setting/charger/start_v": 11.5, "setting/charger/stop_v": 11.6}), CHARGER_LOCK_OUT
    )
    assert [f.severity for f in found] == [Severity.CONDITION, Severity.PASS]


def test_lock_out_that_empties_the_starter_battery() -> None:
    change = {
        "part/charger/part": "dcdc-12-30",
        "setting/charger/stop_v": 12.0,
        "setting/charger/start_v": 13.2,
    }
    found = of_rule(studied(change=change), CHARGER_LOCK_OUT)
    # six cells of 2.05 V
    assert [(f.severity, f.limit) for f in found] == [
        (Severity.CONDITION, pytest.approx(12.3)),
        (Severity.PASS, pytest.approx(12.78)),
    ]
