import datetime as dt

import pytest
from base_jobs import design, job, of_rule, studied
from planted import design_from

from ampwright.assessment.as_left import AS_LEFT, reading_tolerance
from ampwright.findings import Severity

READ = {"by": "R. Lind", "date": dt.date(2026, 2, 1)}
LEFT = "setting/charger/as_left"


def test_checks_use_the_reading() -> None:
    found = design(change={LEFT: {**READ, "charge_v": 14.4}})
    charger = next(placed for placed in found.parts if placed.id == "charger")
    assert charger.setting is not None
    assert charger.setting.charge_v == 14.4
    assert charger.setting.float_v == 13.5
    assert [each.charge_v for each in found.wanted_settings if each.part == "charger"] == [14.2]


def test_the_cut_off_is_read_too() -> None:
    found = studied(change={"load_cutoff/as_left": {**READ, "open_v": 11.5, "close_v": 12.8}})
    assert found.design.job.load_cutoff is not None
    assert found.design.job.load_cutoff.open_v == 11.5
    (off,) = [f for f in of_rule(found, AS_LEFT) if f.severity == Severity.CONDITION]
    assert (off.subject, off.value, off.limit, off.at_most) == ("load cut-off", 11.5, 11.8, False)
    assert "The checks use 11.50 V" in off.message


def test_what_was_not_read_is_said() -> None:
    (finding,) = of_rule(studied(change={LEFT: {**READ, "charge_v": 14.2, "programme": "lfp"}}), AS_LEFT)
    assert (finding.severity, "float voltage" in finding.message) == (Severity.ADVICE, True)


def test_a_wrong_battery_type_is_found_though_voltages_agree() -> None:
    left = {**READ, "charge_v": 14.2, "float_v": 13.5, "programme": "agm"}
    found = of_rule(studied(change={LEFT: left}), AS_LEFT)
    assert [f.severity for f in found] == [Severity.CONDITION]
    assert "'agm'" in found[0].message


def test_nothing_read_nothing_said() -> None:
    assert of_rule(studied(), AS_LEFT) == []


def test_a_reading_within_half_a_step_agrees() -> None:
    left = {**READ, "charge_v": 14.25, "float_v": 13.5, "programme": "lfp"}
    assert [f.severity for f in of_rule(studied(change={LEFT: left}), AS_LEFT)] == [Severity.PASS]
    assert reading_tolerance("output_limit_a", 0.1) == 0.5


def test_a_job_without_readings_stays_what_it_is() -> None:
    found = design_from(job())
    assert found.job.setting is found.wanted_settings


@pytest.mark.parametrize("name", ["base-24v", "base-module"])
def test_other_jobs_have_nothing_to_compare(name: str) -> None:
    assert of_rule(studied(name), AS_LEFT) == []
