import dataclasses
import math

import numpy as np
import planted
import pytest
from base_jobs import base, design, of_rule, studied, studies_of

from ampwright.assessment.battery import DEPTH_OF_DISCHARGE, DISCHARGE_CURRENT, STRING_PROTECTION
from ampwright.assessment.battery_charge import (
    BATTERIES_JOINED,
    CHARGE_CURRENT,
    CHARGE_VOLTAGE,
    COLD_CHARGING,
)
from ampwright.findings import Severity
from ampwright.parts.charger import AlternatorCharger


def test_charge_currents_that_can_meet_are_added() -> None:
    (finding,) = of_rule(base("base-24v"), CHARGE_CURRENT)
    # 25 A from the alternator or 12 A from mains, never both
    assert (finding.value, finding.severity) == (25.0, Severity.PASS)


def test_engine_running_while_hooked_up_is_said() -> None:
    small = studied(
        "base-24v", change={"part/battery/part": "lfp-100-24v", "part/mains/part": "mains-20-24v"}
    )
    assert of_rule(small, CHARGE_CURRENT)[0].severity == Severity.PASS
    part = dataclasses.replace(small.design.battery_part(), charge_max_a=40.0)
    parts = tuple(
        dataclasses.replace(placed, part=part) if placed.id == "battery" else placed
        for placed in small.design.parts
    )
    (finding,) = CHARGE_CURRENT.check(dataclasses.replace(small.design, parts=parts), studies_of(small))
    # 25 A or 20 A fit into 40 A, 45 A together do not
    assert finding.severity == Severity.ADVICE
    assert "45 A" in finding.message


def test_inverter_with_a_charger_counts_as_mains() -> None:
    found = studied("base-24v", change={"part/mains/part": "invchg-2400-24v", "run/W4/end": "mains"})
    (finding,) = of_rule(found, CHARGE_CURRENT)
    assert finding.value == 50.0


def test_no_charger_no_finding() -> None:
    bare = {"part/charger", "part/mains", "run/W2", "run/W3", "run/W4", "setting/charger", "setting/mains"}
    found = studied("base-24v", remove=sorted(bare))
    assert of_rule(found, CHARGE_CURRENT) == []
    assert of_rule(found, CHARGE_VOLTAGE) == []


def test_charger_without_a_programme_for_the_battery() -> None:
    found = base("base-24v")
    parts = []
    for placed in found.design.parts:
        part = placed.part
        if isinstance(part, AlternatorCharger):
            part = dataclasses.replace(part, chemistries=("agm", "gel"))
        parts.append(dataclasses.replace(placed, part=part))
    findings = list(
        CHARGE_VOLTAGE.check(dataclasses.replace(found.design, parts=tuple(parts)), studies_of(found))
    )
    assert [(f.subject, f.severity) for f in findings if f.severity != Severity.PASS] == [
        ("charger", Severity.CONDITION)
    ]


def test_charge_voltage_above_what_can_be_set() -> None:
    finding = of_rule(studied(change={"setting/charger/charge_v": 15.2}), CHARGE_VOLTAGE, "charger")[0]
    assert (finding.value, finding.limit, finding.at_most) == (15.2, 14.8, True)


def test_discharge_above_the_peak_fails() -> None:
    found = base("base-24v")
    part = dataclasses.replace(found.design.battery_part(), discharge_max_a=10.0, discharge_peak_a=20.0)
    parts = tuple(
        dataclasses.replace(placed, part=part) if placed.id == "battery" else placed
        for placed in found.design.parts
    )
    (finding,) = DISCHARGE_CURRENT.check(dataclasses.replace(found.design, parts=parts), studies_of(found))
    assert finding.severity == Severity.FAIL


def test_load_plugged_in_at_the_battery_counts() -> None:
    radio = {"id": "radio", "name": "Radio", "power_w": 118, "at": "battery"}
    more = of_rule(studied(add={"load": [radio]}), DISCHARGE_CURRENT)[0].value
    less = of_rule(base("base-12v"), DISCHARGE_CURRENT)[0].value
    assert more is not None
    assert less is not None
    assert more - less == pytest.approx(10.0, abs=0.1)  # 118 W at 11.8 V


def test_strings_with_devices_pass() -> None:
    found = studied(
        change={
            "part/battery/part": "lfp-100",
            "part/battery/strings": 2,
            "part/battery/string_device": "fuse-t-125",
        }
    )
    assert [f.severity for f in of_rule(found, STRING_PROTECTION)] == [Severity.PASS]
    assert list(STRING_PROTECTION.check(design(), studies_of(base("base-12v")))) == []


def test_cold_is_taken_from_cells_and_season_whichever_is_lower() -> None:
    found = base("base-12v")
    cells = found.energy.cell_degc.copy()
    cells[3] = -2.0
    studies = dataclasses.replace(
        studies_of(found), energy=dataclasses.replace(found.energy, cell_degc=cells)
    )
    (finding,) = COLD_CHARGING.check(found.design, studies)
    assert (finding.value, finding.severity) == (-2.0, Severity.CONDITION)


def test_caution_speaks_of_the_battery_there_is() -> None:
    lead = studied(
        change={
            "season/coldest_degc": -17,
            "part/battery/part": "agm-200",
            "setting/charger/output_limit_a": 20,
        }
    )
    assert "lithium" not in of_rule(lead, COLD_CHARGING)[0].caution
    found = base("base-12v")
    bare = dataclasses.replace(found.design.battery_part(), is_management_inside=False, charge_min_degc=10.0)
    parts = tuple(
        dataclasses.replace(placed, part=bare) if placed.id == "battery" else placed
        for placed in found.design.parts
    )
    (finding,) = COLD_CHARGING.check(dataclasses.replace(found.design, parts=parts), studies_of(found))
    assert finding.severity == Severity.FAIL
    assert "lithium" in finding.caution


def test_current_through_a_join_that_is_not_known_is_not_checked() -> None:
    found = planted.faulty("charge-current-through-a-join")
    lost = np.full_like(found.network.peak_a, math.nan)
    studies = dataclasses.replace(studies_of(found), network=dataclasses.replace(found.network, peak_a=lost))
    severities = [f.severity for f in CHARGE_CURRENT.check(found.design, studies)]
    assert severities == [Severity.NOT_CHECKED, Severity.PASS]


def test_current_through_a_join_is_what_its_first_run_carries_into_the_battery() -> None:
    found = planted.faulty("charge-current-through-a-join")
    (run,) = [run for run in found.design.runs if run.id == "W1"]
    into_a = max(-float(point.run_a[run.index]) for point in found.network.points)
    through, chargers = of_rule(found, CHARGE_CURRENT)
    assert through.value == pytest.approx(into_a)
    assert chargers.value == 60.0


def test_join_names_the_runs_between_the_batteries() -> None:
    (finding,) = of_rule(planted.faulty("batteries-joined"), BATTERIES_JOINED)
    assert "(runs W20, W1)" in finding.message
    assert "W2," not in finding.message


def test_no_starter_battery_is_no_join() -> None:
    found = planted.faulty("batteries-joined")
    vehicle = dataclasses.replace(found.design.vehicle, has_starter_battery=False)
    without = dataclasses.replace(found.design, vehicle=vehicle)
    assert list(BATTERIES_JOINED.check(without, studies_of(found))) == []


def test_depth_is_held_against_the_usable_part() -> None:
    found = base("base-12v")
    lowest = float(found.energy.soc_frac.min())
    (finding,) = of_rule(found, DEPTH_OF_DISCHARGE)
    assert finding.value == pytest.approx(100 * lowest)
    assert (finding.limit, finding.severity) == (pytest.approx(20.0), Severity.PASS)
    part = dataclasses.replace(found.design.battery_part(), usable_frac=1.0 - lowest - 0.01)
    parts = tuple(
        dataclasses.replace(placed, part=part) if placed.id == "battery" else placed
        for placed in found.design.parts
    )
    strict = dataclasses.replace(found.design, parts=parts)
    (finding,) = DEPTH_OF_DISCHARGE.check(strict, studies_of(found))
    assert finding.severity == Severity.ADVICE


def test_lithium_without_a_cut_off_is_not_advised() -> None:
    found = studied(remove=["load_cutoff"])
    assert [f.severity for f in of_rule(found, DEPTH_OF_DISCHARGE)] == [Severity.PASS]
