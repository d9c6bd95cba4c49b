"""A job's own tables in the rules: used inside their range, cited, and never stretched beyond it."""

import dataclasses

import planted
import pytest
from base_jobs import base, design

from ampwright.api import sun_of
from ampwright.assessment.assess import assess
from ampwright.assessment.capacity import largest_device_a, run_capacity
from ampwright.assessment.circuits import circuits
from ampwright.documents.curve_sheets import _source
from ampwright.documents.curve_view import _device
from ampwright.documents.words.words import english
from ampwright.findings import Severity
from ampwright.job.own_tables import OwnTables
from ampwright.parts.catalogue import shipped_catalogue
from ampwright.standards.own_tables.capacity import capacity_table
from ampwright.standards.own_tables.opening import opening_times

PARTS = shipped_catalogue().parts
HEAD = "# document: Own book\n# table: 9\n# by: A. Example\n"
CURRENTS = capacity_table(
    HEAD + "area_mm2,insulation_degc,ambient_degc,conductors_loaded,current_a\n"
    "4,90,30,2,40\n4,90,60,2,20\n6,90,30,2,50\n6,90,60,2,30\n",
    file="own.csv",
)
TIMES_TEXT = HEAD + (
    "device,current_factor,current_a,shortest_s,longest_s\n"
    "hydraulic-magnetic,1.3,,5,60\nhydraulic-magnetic,2,,0.3,10\nhydraulic-magnetic,4,,0.05,2\n"
    "hydraulic-magnetic,6,,0.005,0.012\nul-248-15-t,1.35,,60,600\nul-248-15-t,2,,2,20\n"
    "ul-248-15-t,5,,0.05,0.2\nul-248-15-t,10,,0.001,0.02\n"
)
TIMES = opening_times(TIMES_TEXT, file="times.csv")


def _with(found, **tables):
    return dataclasses.replace(found, tables=OwnTables(**tables))


def _run(found, name):
    return next(run for run in found.runs if run.id == name)


def test_own_current_counts_and_is_cited() -> None:
    found = _with(design("base-12v"), capacity=CURRENTS)
    capacity = run_capacity(found, _run(found, "W6"))
    assert capacity.current_a == pytest.approx(30.0)  # 4 mm² at 45 degC, half way between 40 and 20
    assert str(capacity.source) == "Own book, table 9, typed by A. Example in own.csv"


def test_outside_it_the_shipped_table_counts_and_says_so() -> None:
    plain, found = design("base-12v"), _with(design("base-12v"), capacity=CURRENTS)
    capacity = run_capacity(found, _run(found, "W1"))  # 50 mm²
    assert capacity.current_a == run_capacity(plain, _run(plain, "W1")).current_a
    assert capacity.source.document == "33 CFR 183.425"
    assert capacity.note.startswith("50 mm²: own.csv holds 4 to 6 mm², so the shipped table counts here")
    assessed = assess(found, sun_of(found, planted.HERE))
    by_run = {f.subject: f for f in assessed.findings if f.rule == "cable-capacity"}
    assert "so the shipped table counts here" in by_run["W1"].message
    assert by_run["W6"].source.document == "Own book"
    assert by_run["W6"].limit == pytest.approx(30.0)


def test_150_percent_belong_to_table_5_alone() -> None:
    found = design("base-24v")
    assert largest_device_a(found, 40.0).rating_a == pytest.approx(60.0)
    own = largest_device_a(_with(found, capacity=CURRENTS), 40.0)
    assert own.rating_a == 40.0
    assert own.source.place == "own-capacity-table"


def test_own_times_decide_how_large_a_device_may_be() -> None:
    times = opening_times(TIMES_TEXT + "breaker-hm-20,,32,1,100\n", file="times.csv")  # opens at 1.6
    limit = largest_device_a(_with(design(), opening=times), 40.0, device=PARTS["breaker-hm-20"])
    assert limit.rating_a == pytest.approx(1.45 * 40.0 / 1.6)
    assert "Own book" in limit.source.document


def test_with_own_times_faults_are_checked() -> None:
    assert "far-fault-clears" in base("base-12v").wiring_rules.open_rules
    found = _with(design("base-12v"), opening=TIMES)
    assessed = assess(found, sun_of(found, planted.HERE))
    cleared = [f for f in assessed.findings if f.rule == "far-fault-clears"]
    assert {f.severity for f in cleared} == {Severity.PASS}
    assert {f.source.document for f in cleared} == {"Own book"}
    assert "far-fault-clears" not in assessed.wiring_rules.open_rules


def test_a_fault_that_own_times_do_not_clear_fails() -> None:
    slow = opening_times(TIMES_TEXT + "breaker-hm-20,6,,1,3000\n", file="times.csv")
    found = _with(design("base-12v"), opening=slow)
    assessed = assess(found, sun_of(found, planted.HERE))
    failed = [f for f in assessed.findings if f.rule == "far-fault-clears" and f.severity == Severity.FAIL]
    assert [f.subject for f in failed] == ["W6"]


def test_the_chart_draws_and_cites_them() -> None:
    found = _with(design("base-12v"), opening=TIMES)
    guard = circuits(found, base("base-12v").network).by_run[_run(found, "W6").index].own
    assert guard is not None
    drawn = _device(found, guard)
    assert [p.opening_max_s for p in drawn.rated.points or ()] == [60, 10, 2, 0.012]
    assert _source(drawn, english()) == "Times: Own book, read."
