import dataclasses
import math

import pytest
from base_jobs import base, of_rule, studied, studies_of
from hypothesis import given, settings
from hypothesis import strategies as st

from ampwright.assessment.cutoff_ladder import CUTOFF_LADDER, CUTOFF_RESTART
from ampwright.assessment.sag import battery_ohm, heaviest_a, sag_of
from ampwright.findings import Severity
from ampwright.parts.inverter import Inverter


def test_sag_by_hand() -> None:
    """31 A at 22.4 V are 694 W; R = 9 mΩ at 25 °C: V = (22.4 + sqrt(501.76 - 4 x 0.009 x 694)) / 2 = 22.118 V."""
    found = base("base-24v")
    current_a = heaviest_a(found.design, found.network.points)
    power_w = 22.4 * current_a
    by_hand_v = (22.4 + math.sqrt(22.4**2 - 4.0 * 0.009 * power_w)) / 2.0
    sag = sag_of(found.design, found.network, 25.0)
    assert sag.terminal_v == pytest.approx(by_hand_v, abs=1e-9)
    assert sag.current_a * sag.terminal_v == pytest.approx(power_w)
    assert sag.terminal_v + sag.current_a * sag.resistance_ohm == pytest.approx(22.4)


def test_resistance_doubles_with_25_k_of_cold() -> None:
    design = base("base-12v").design
    assert battery_ohm(design, 0.0) == pytest.approx(2.0 * battery_ohm(design, 25.0))
    assert battery_ohm(design, 40.0) == battery_ohm(design, 25.0) == 0.005


@settings(deadline=None)
@given(st.floats(-20.0, 25.0), st.floats(0.0, 20.0))
def test_cold_never_sags_less(cell_degc: float, colder_k: float) -> None:
    found = base("base-12v")
    warm = sag_of(found.design, found.network, cell_degc)
    cold = sag_of(found.design, found.network, cell_degc - colder_k)
    assert math.isnan(cold.terminal_v) or cold.terminal_v <= warm.terminal_v + 1e-12


def test_a_battery_that_cannot_carry_the_load_is_said() -> None:
    found = base("base-12v")
    part = dataclasses.replace(found.design.battery_part(), resistance_ohm=0.2)
    parts = tuple(
        dataclasses.replace(placed, part=part) if placed.id == "battery" else placed
        for placed in found.design.parts
    )
    weak = dataclasses.replace(found.design, parts=parts)
    said = list(CUTOFF_LADDER.check(weak, studies_of(found)))
    assert [f.severity for f in said if f.subject == "load cut-off"] == [Severity.CONDITION]
    assert "gives way" in said[0].message
    assert Severity.NOT_CHECKED in {f.severity for f in said if f.subject == "inverter"}


def test_cut_off_below_management_is_last_resort_first() -> None:
    found = of_rule(studied(change={"load_cutoff/open_v": 10.2}), CUTOFF_LADDER, "load cut-off")
    assert [(f.severity, f.value, f.limit) for f in found] == [(Severity.CONDITION, 10.2, 10.4)]


@pytest.mark.parametrize(
    ("open_v", "close_v", "severity", "word"),
    [
        (12.6, 13.1, Severity.PASS, "go off below 12.6 V"),
        (11.0, 13.1, Severity.CONDITION, "nothing is shed first"),
        (12.6, 12.5, Severity.CONDITION, "come back at once"),
    ],
)
def test_the_stage_of_comfort_opens_before_the_cut_off(open_v, close_v, severity, word) -> None:
    stage = {"open_v": open_v, "close_v": close_v}
    (found,) = of_rule(studied(change={"load_cutoff/comfort": stage}), CUTOFF_LADDER, "load cut-off, comfort")
    assert (found.severity, found.value) == (severity, open_v)
    assert word in found.message


def test_heaviest_load_of_the_use_is_a_condition() -> None:
    found = of_rule(studied(change={"load_cutoff/open_v": 10.6}), CUTOFF_LADDER, "inverter")
    assert Severity.CONDITION in {f.severity for f in found}


def test_lead_acid_without_a_load_cut_off_leaves_the_inverter_as_guard() -> None:
    edits = {"part/battery/part": "agm-200", "setting/charger/output_limit_a": 20}
    guarded = of_rule(studied(change=edits), CUTOFF_LADDER, "inverter")
    assert guarded[0].severity == Severity.PASS
    bare = of_rule(studied(change=edits, remove=["load_cutoff"]), CUTOFF_LADDER, "inverter")
    assert [f.severity for f in bare] == [Severity.CONDITION]


def test_restart_of_an_unknown_inverter_is_not_checked() -> None:
    found = base("base-12v")
    parts = tuple(
        dataclasses.replace(placed, part=dataclasses.replace(placed.part, input_restart_v=0.0))
        if isinstance(placed.part, Inverter)
        else placed
        for placed in found.design.parts
    )
    said = list(CUTOFF_RESTART.check(dataclasses.replace(found.design, parts=parts), studies_of(found)))
    assert [f.severity for f in said if f.subject == "inverter"] == [Severity.NOT_CHECKED]


def test_nothing_known_is_not_checked() -> None:
    found = base("base-12v")
    network = dataclasses.replace(found.network, points=(), short_points=())
    studies = dataclasses.replace(studies_of(found), network=network)
    ladder = {f.severity for f in CUTOFF_LADDER.check(found.design, studies) if f.subject == "load cut-off"}
    assert ladder == {Severity.NOT_CHECKED}
    restart = [f.severity for f in CUTOFF_RESTART.check(found.design, studies) if f.subject == "load cut-off"]
    assert restart == [Severity.NOT_CHECKED, Severity.PASS]


def test_without_chargers_the_rest_voltage_must_close_it() -> None:
    bare = {"part/charger", "part/mains", "run/W2", "run/W3", "run/W4", "setting/charger", "setting/mains"}
    found = of_rule(
        studied("base-24v", remove=sorted(bare), change={"load_cutoff/close_v": 29.5}), CUTOFF_RESTART
    )
    assert Severity.CONDITION in {f.severity for f in found}
    assert any("a full battery rests" in f.message for f in found)
