"""Cables' ends: fit and temperature. Expected values by hand from part figures and Table 5."""

import dataclasses

import pytest
from base_jobs import base, design, of_rule, studies_of

from ampwright.assessment.ends import cable_ends, parts_at_nodes
from ampwright.assessment.terminals import TERMINAL_TEMPERATURE, TERMINALS_FIT
from ampwright.findings import Severity
from ampwright.parts.catalogue import shipped_catalogue

PARTS = shipped_catalogue().parts


def _found(rule, of, subject=None):
    findings = list(rule.check(of, studies_of(base("base-12v"))))
    return [f for f in findings if subject is None or f.subject == subject]


def _with_part(name, **changes):
    found = design("base-12v")
    parts = tuple(
        dataclasses.replace(placed, part=dataclasses.replace(placed.part, **changes))
        if placed.id == name
        else placed
        for placed in found.parts
    )
    return dataclasses.replace(found, parts=parts)


def _run(of, name):
    return next(run for run in of.runs if run.id == name)


def test_ends_of_a_run_are_parts_devices_and_plugs() -> None:
    found = design("base-12v")
    ends = [end.where for end in cable_ends(found, _run(found, "W6"), parts_at_nodes(found))]
    assert ends == ["bar", "device Q6", "plug plug-50"]
    ends = [end.where for end in cable_ends(found, _run(found, "W2"), parts_at_nodes(found))]
    assert ends == ["charger.in", "device F2"]


def test_a_channel_has_its_own_clamp() -> None:
    found = design("base-12v")
    (channel,) = cable_ends(found, _run(found, "W9"), parts_at_nodes(found))
    assert (channel.where, channel.form, channel.max_mm2) == ("outputs.5", "clamp", 6.0)
    feed = [
        end
        for end in cable_ends(found, _run(found, "W8"), parts_at_nodes(found))
        if end.where == "outputs.in"
    ]
    assert [end.form for end in feed] == ["stud"]


def test_parts_that_say_nothing_are_listed_once() -> None:
    changed = _with_part("bar", terminal="", stud_mm=0.0)
    (finding,) = _found(TERMINALS_FIT, changed, changed.job.job.id)
    assert finding.severity == Severity.NOT_CHECKED
    assert finding.message.startswith("Nothing is said of the terminals of bus-250:")


def test_no_lug_for_the_stud() -> None:
    (finding,) = _found(TERMINALS_FIT, _with_part("bar", stud_mm=16.0), "W6")  # 4 mm² lugs end at M10
    assert finding.severity == Severity.CONDITION
    assert "no usual cable lug for 4 mm² goes on the M16 stud of bar" in finding.message


def test_below_the_clamps_smallest_conductor() -> None:
    (finding,) = _found(TERMINALS_FIT, _with_part("charger", terminal_min_mm2=16.0), "W3")
    assert (finding.severity, finding.value, finding.limit) == (Severity.CONDITION, 10.0, 16.0)


def test_a_bars_studs_together() -> None:
    # six runs on the bar: W1, W3, W4, W6, W7 and W8
    (finding,) = _found(TERMINALS_FIT, _with_part("bar", stud_count=1), "bar")
    assert (finding.severity, finding.value, finding.limit) == (Severity.CONDITION, 6.0, 4.0)
    (finding,) = _found(TERMINALS_FIT, design("base-12v"), "bar")
    assert (finding.severity, finding.limit) == (Severity.PASS, 24.0)


def test_the_terminals_class_limits_the_cable() -> None:
    # 35 mm² to an inverter terminal of 60 degC in air of 45 degC: read in the 60 degC column
    (finding,) = _found(TERMINAL_TEMPERATURE, _with_part("inverter", terminal_degc=60.0), "W7")
    assert finding.limit is not None
    # 35 mm² counts as 31.7 mm² by its resistance (0.554 ohm/km), between 3 AWG (26.67, 120 A) and 2 AWG (33.63, 140 A)
    at_30 = 120.0 + (17.58 / 0.554 - 26.67) / (33.63 - 26.67) * 20.0
    assert finding.limit == pytest.approx(at_30 * (15.0 / 30.0) ** 0.5, rel=0.02)
    assert "inverter, 60 °C" in finding.message


def test_a_class_that_is_not_said_counts_as_60() -> None:
    cool = _with_part("inverter", terminal_degc=0.0)
    (finding,) = _found(TERMINAL_TEMPERATURE, cool, "W7")
    assert finding.severity == Severity.PASS
    parts = tuple(
        dataclasses.replace(placed, zone=dataclasses.replace(placed.zone, ambient_max_degc=59.0))
        if placed.id == "inverter"
        else placed
        for placed in cool.parts
    )
    (finding,) = _found(TERMINAL_TEMPERATURE, dataclasses.replace(cool, parts=parts), "W7")
    assert finding.severity == Severity.NOT_CHECKED
    assert "its class is not said" in finding.message
    said = _with_part("inverter", terminal_degc=60.0)
    hot = tuple(
        parts[p.index]
        if p.id != "inverter"
        else dataclasses.replace(parts[p.index], part=said.parts[p.index].part)
        for p in parts
    )
    (finding,) = _found(TERMINAL_TEMPERATURE, dataclasses.replace(said, parts=hot), "W7")
    assert finding.severity == Severity.FAIL


def test_base_jobs_say_everything_of_their_terminals() -> None:
    for name in ("base-12v", "base-24v", "base-module"):
        severities = {
            f.severity for rule in (TERMINALS_FIT, TERMINAL_TEMPERATURE) for f in of_rule(base(name), rule)
        }
        assert severities == {Severity.PASS}


def test_every_shipped_part_that_is_wired_says_its_terminals() -> None:
    unwired = {"cable", "enclosure", "fridge", "plug"}
    assert [p.id for p in PARTS.values() if p.kind not in unwired and not p.terminal] == []
    assert [p.id for p in PARTS.values() if p.kind not in unwired - {"plug"} and not p.terminal_degc] == []
