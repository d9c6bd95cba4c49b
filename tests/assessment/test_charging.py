import pytest
from base_jobs import base, of_rule, studied

from ampwright.assessment.charging import ALTERNATOR_SPARE, RUN_SIGNAL
from ampwright.findings import Severity


def test_states_the_use_does_not_have_earn_advice() -> None:
    # the truck never idles: its idle shortage is advice
    found = studied("base-24v", change={"vehicle/alternator/hot_idle_frac": 0.4})
    short = {f.subject: f.severity for f in of_rule(found, ALTERNATOR_SPARE) if f.severity != Severity.PASS}
    assert short == {
        "alternator idle day": Severity.ADVICE,
        "alternator idle night": Severity.ADVICE,
    }


def test_idling_caution_stands_where_idling_is_planned() -> None:
    by_state = {f.subject: f.caution for f in of_rule(base("base-12v"), ALTERNATOR_SPARE)}
    assert "carbon monoxide" in by_state["alternator idle day"]
    assert by_state["alternator road day"] == ""


def test_charger_by_voltage_passes_on_a_fixed_alternator() -> None:
    found = studied(change={"part/charger/part": "dcdc-12-30"})
    (finding,) = of_rule(found, RUN_SIGNAL)
    assert (finding.value, finding.limit, finding.severity) == (13.6, 12.7, Severity.PASS)


def test_set_thresholds_replace_those_of_the_part() -> None:
    found = studied(
        change={
            "part/charger/part": "dcdc-12-30",
            "setting/charger/stop_v": 13.7,
            "setting/charger/start_v": 14.0,
        }
    )
    (finding,) = of_rule(found, RUN_SIGNAL)
    assert (finding.limit, finding.severity) == (13.7, Severity.CONDITION)


def test_vehicle_without_an_alternator_has_nothing_to_ask() -> None:
    found = studied(remove=["vehicle/alternator"])
    assert of_rule(found, RUN_SIGNAL) == []
    assert of_rule(found, ALTERNATOR_SPARE) == []


def test_start_by_voltage_says_little_on_a_regulated_alternator() -> None:
    found = studied(change={"part/charger/part": "dcdc-12-30", "vehicle/alternator/regulation": "regulated"})
    (finding,) = of_rule(found, RUN_SIGNAL)
    assert finding.severity == Severity.ADVICE
    assert "tells little" in finding.message


def test_where_nothing_is_left_no_limit_of_nought_percent_is_asked_for() -> None:
    found = studied(change={"vehicle/alternator/hot_idle_frac": 0.1})
    idle = next(f for f in of_rule(found, ALTERNATOR_SPARE) if f.subject == "alternator idle night")
    assert idle.limit == 0.0
    assert idle.way_out.startswith("Nothing is left for the chargers at idle: keep them off then")


def test_a_share_is_never_rounded_up() -> None:
    found = studied(change={"vehicle/alternator/hot_idle_frac": 0.4})
    idle = next(f for f in of_rule(found, ALTERNATOR_SPARE) if f.subject == "alternator idle day")
    assert idle.limit is not None
    assert idle.value is not None
    assert idle.limit / idle.value == pytest.approx(0.668, abs=0.004)
    assert "66 %" in idle.way_out
