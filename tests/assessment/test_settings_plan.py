import datetime as dt
import math

import pytest
from base_jobs import BASES, base, studied

from ampwright.assessment.charger_lines import charger_lines
from ampwright.assessment.result import Assessment
from ampwright.assessment.settings_advice import (
    advised_charge_v,
    advised_cutoff,
    advised_idle_a,
    advised_input_a,
    advised_output_a,
)
from ampwright.assessment.settings_plan import settings_plan
from ampwright.assessment.settings_records import DeviceSettings, SettingLine
from ampwright.energy.bank import rest_v
from ampwright.job.design import DesignPart

LEAD = {"part/battery/part": "agm-200"}
BARE = ["setting/charger", "setting/controller", "load_cutoff"]


def device(found: Assessment, name: str) -> DeviceSettings:
    return next(each for each in settings_plan(found).devices if each.id == name)


def line(found: Assessment, name: str, field: str) -> SettingLine:
    return next(each for each in device(found, name).lines if each.name == field)


def placed(found: Assessment, name: str) -> DesignPart:
    return next(each for each in found.design.parts if each.id == name)


@pytest.mark.parametrize("name", BASES)
def test_what_protects_comes_before_what_charges(name: str) -> None:
    kinds = [each.id.rpartition(".")[2] for each in settings_plan(base(name)).devices]
    assert kinds[0] == "load cut-off"
    assert kinds[-1] in {"charger", "alternator-charger"}


def test_battery_type_comes_before_voltages() -> None:
    names = [each.name for each in device(base("base-12v"), "charger").lines]
    assert names[:3] == ["programme", "charge_v", "float_v"]


def test_job_part_and_proposal_are_told_apart() -> None:
    found = base("base-12v")
    assert line(found, "charger", "charge_v").origin == "job"
    assert line(found, "inverter", "stop_v").origin == "part"
    assert line(found, "inverter", "stop_v").is_fixed
    bare = studied(remove=BARE)
    assert {each.origin for each in device(bare, "load cut-off").lines} == {"proposal"}
    assert line(bare, "charger", "charge_v").origin == "proposal"
    assert line(bare, "charger", "charge_v").value == 14.4
    assert settings_plan(bare).proposal_count >= 8


def test_proposed_cut_off_by_hand() -> None:
    """20 % of charge rests at 4 x 3.1685 V; the heaviest lasting load's current times the cold resistance comes off.

    The cells of this use are never colder than 15 °C: 5 mΩ x 2^(10/25) = 6.6 mΩ at most.
    """
    found = studied(remove=["load_cutoff"])
    design = found.design
    assert rest_v(design, 0.2) == pytest.approx(12.674)
    open_v = advised_cutoff(design, found.network, found.energy).cutoff.open_v
    current_a = 33.0 * 11.8 / 10.4
    assert 12.674 - current_a * 0.0066 - 0.01 <= open_v <= 12.674 - current_a * 0.005 + 0.1
    assert open_v == pytest.approx(round(open_v, 1))


def test_proposed_cut_off_keeps_away_from_the_inverter() -> None:
    found = studied(remove=["load_cutoff"], change={"use/reserve_frac": 0.0, **LEAD})
    advice = advised_cutoff(found.design, found.network, found.energy).cutoff
    assert 10.5 < advice.open_v < advice.close_v <= 13.3


def test_proposals_settle_the_ladder() -> None:
    bare = studied(remove=["load_cutoff"])
    advice = advised_cutoff(bare.design, bare.network, bare.energy).cutoff
    again = studied(change={"load_cutoff/open_v": advice.open_v, "load_cutoff/close_v": advice.close_v})
    rules = {"cutoff-ladder", "cutoff-restart"}
    assert {str(f.severity) for f in again.findings if f.rule in rules} == {"pass"}


def test_other_chargers_decide_what_is_proposed() -> None:
    found = studied(remove=["setting/controller"])
    assert advised_charge_v(found.design, placed(found, "controller")) == 14.2


def test_output_limits_share_what_the_battery_takes() -> None:
    found = studied(change={**LEAD, "setting/charger/programme": "agm"})
    # 40 A and 20 A where 50 A are taken: five sixths
    assert advised_output_a(found.design, placed(found, "charger")) == 33.0
    assert advised_output_a(found.design, placed(found, "controller")) == 16.0
    assert advised_output_a(base("base-12v").design, placed(base("base-12v"), "charger")) is None


def test_idle_limit_from_what_the_alternator_spares() -> None:
    found = studied(
        change={"vehicle/alternator/hot_idle_frac": 0.45, "vehicle/alternator/own_load_day_a": 40}
    )
    advice = advised_idle_a(found.design, found.energy, placed(found, "charger"))
    assert advice is not None
    limit_a, state = advice
    assert limit_a == math.floor(40.0 * state.spare_a / state.wanted_a)
    assert line(found, "charger", "idle_limit_a").origin == "proposal"
    assert advised_idle_a(found.design, found.energy, placed(found, "controller")) is None


def test_input_limit_from_the_post() -> None:
    found = studied("base-24v", change={"part/mains/part": "mains-20-24v", "use/mains_limit_a": 2})
    # 20 A at 28.4 V take more than 2 A of 230 V
    assert advised_input_a(found.design, placed(found, "mains")) == 2.0
    assert line(found, "mains", "input_limit_a").origin == "proposal"
    assert advised_input_a(found.design, placed(found, "charger")) is None


def test_readings_stand_beside_what_is_wanted() -> None:
    left = {
        "by": "R. Lind",
        "date": dt.date(2026, 2, 1),
        "firmware": "2.1",
        "charge_v": 14.4,
        "programme": "lfp",
    }
    found = studied(change={"setting/charger/as_left": left})
    charge = line(found, "charger", "charge_v")
    assert (charge.value, charge.as_left, charge.is_off) == (14.2, 14.4, True)
    programme = line(found, "charger", "programme")
    assert (programme.as_left, programme.is_off) == ("lfp", False)
    assert line(found, "charger", "float_v").as_left is None
    assert (device(found, "charger").by, device(found, "charger").firmware) == ("R. Lind", "2.1")


def test_lead_acid_gets_its_slope() -> None:
    found = studied(
        change={**LEAD, "setting/charger/programme": "agm", "setting/controller/programme": "agm"}
    )
    slope = line(found, "controller", "compensation_v_per_k")
    assert (slope.value, slope.origin) == (pytest.approx(0.024), "proposal")
    assert line(found, "controller", "equalise_v").value == 0.0


def test_windows_hold_device_and_battery() -> None:
    charge = line(base("base-12v"), "charger", "charge_v")
    assert (charge.low, charge.high) == (14.0, 14.6)


def test_what_does_not_charge_has_no_lines() -> None:
    found = base("base-12v")
    assert charger_lines(found, placed(found, "inverter")) == ()


def test_written_limits_are_the_jobs() -> None:
    found = studied(
        "base-24v",
        change={
            "setting/mains/input_limit_a": 2,
            "setting/mains/absorption_minutes": 90,
            "setting/mains/output_limit_a": 8,
            "setting/charger/idle_limit_a": 10,
        },
    )
    for name, field, value in (
        ("mains", "input_limit_a", 2),
        ("mains", "absorption_minutes", 90),
        ("mains", "output_limit_a", 8),
        ("charger", "idle_limit_a", 10),
    ):
        assert (line(found, name, field).value, line(found, name, field).origin) == (value, "job")
