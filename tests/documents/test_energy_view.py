import dataclasses

import numpy as np
import pytest
from answers import assessment, energy_result, ledger

from ampwright.documents.energy_view import MOST_ENTRIES, ledger_lines, use_course
from ampwright.documents.quantity_text import NARROW_SPACE
from ampwright.documents.words.words import english


def lines_by_name(given):
    return {line.name: line.energy.replace(NARROW_SPACE, " ") for line in ledger_lines(given, english())}


def test_course_holds_the_series_and_the_reserve():
    energy = energy_result(3)
    course = use_course(assessment(energy))
    assert (course.day_count, course.step_h, course.reserve_frac) == (3, 0.25, 0.1)
    assert course.soc_frac is energy.soc_frac
    assert course.fridges[0].name == "Vaccine refrigerator"
    assert (course.fridges[0].low_degc, course.fridges[0].high_degc) == (2.0, 8.0)
    assert course.fridges[0].contents_degc.max() == 9.0


def test_times_without_sun_and_cut_offs_become_spans():
    course = use_course(assessment(energy_result(3)))
    assert course.nights == ((0.0, 6.0), (18.0, 30.0), (42.0, 54.0), (66.0, 72.0))
    assert [(each.start_h, each.end_h) for each in course.cut_offs] == [(53.0, 54.0)]


def test_open_management_counts_as_cut_off():
    energy = energy_result(1)
    shut = np.zeros(96, dtype=bool)
    shut[:8] = True
    course = use_course(assessment(dataclasses.replace(energy, is_management_open=shut), days=1))
    assert (course.cut_offs[0].start_h, course.cut_offs[0].end_h) == (0.0, 2.0)


def test_no_panel_no_shading():
    energy = dataclasses.replace(energy_result(1), source_kinds=("mains", "alternator"))
    assert use_course(assessment(energy, days=1)).nights == ()


def test_stretches_follow_the_day_plans():
    course = use_course(assessment(energy_result(2), days=2))
    found = [(each.kind, each.start_h, each.end_h) for each in course.stretches]
    assert found == [
        ("road", 8.0, pytest.approx(9.5)),
        ("road", pytest.approx(32.0), pytest.approx(33.5)),
        ("idle", pytest.approx(18.0), pytest.approx(18.5)),
        ("idle", pytest.approx(42.0), pytest.approx(42.5)),
    ]


def test_a_period_past_midnight_wraps_within_its_day():
    given = assessment(energy_result(1), days=1)
    plan = given.design.plans[0]
    late = dataclasses.replace(plan.periods[0], start_min=1380, end_min=60)
    design = dataclasses.replace(given.design, plans=(dataclasses.replace(plan, periods=(late,)),))
    spans = [(s.start_h, s.end_h) for s in use_course(dataclasses.replace(given, design=design)).stretches]
    assert spans == [(0.0, 1.0), (pytest.approx(23.0), pytest.approx(24.0))]


def test_fridge_without_limits_is_not_drawn():
    given = assessment(energy_result(1), days=1)
    load = dataclasses.replace(given.design.loads[0], contents_low_degc=None, contents_high_degc=None)
    design = dataclasses.replace(given.design, loads=(load, given.design.loads[1]))
    assert use_course(dataclasses.replace(given, design=design)).fridges == ()


def test_books_are_balanced_per_day():
    shown = lines_by_name(assessment(energy_result(3)))
    assert shown["sun, mppt"] == "600"
    assert shown["alternator, dcdc"] == "400"
    assert shown["out of the battery's store"] == "100"
    assert shown["all that came in"] == "1 100"
    assert shown["Vaccine refrigerator"] == "700"
    assert shown["own consumption of parts"] == "60"
    assert shown["all that went out or was lost"] == "1 100"
    assert shown["lost in chargers before their outputs"] == "70"
    assert shown["wanted by loads and not given"] == "17"


def test_stored_energy_stands_on_the_other_side_when_it_grows():
    books = dataclasses.replace(ledger(1), stored_change_wh=200.0)
    energy = dataclasses.replace(energy_result(1), ledger=books)
    shown = lines_by_name(assessment(energy, days=1))
    assert shown["into the battery's store"] == "200"
    assert "out of the battery's store" not in shown


def test_nothing_prints_no_line_for_zero():
    names = lines_by_name(assessment(energy_result(3)))
    assert "cell heaters" not in names
    assert "loads straight from mains" not in names


def test_many_loads_are_gathered():
    given = assessment(energy_result(1), days=1)
    load = given.design.loads[1]
    many = tuple(dataclasses.replace(load, index=i, id=f"l{i}", name=f"Lamp {i}") for i in range(40))
    books = dataclasses.replace(ledger(1), load_wh=np.arange(40.0) + 1.0)
    energy = dataclasses.replace(given.energy, ledger=books)
    design = dataclasses.replace(given.design, loads=many)
    lines = ledger_lines(dataclasses.replace(given, energy=energy, design=design), english())
    start = next(i for i, line in enumerate(lines) if line.name == "Out")
    end = next(i for i, line in enumerate(lines) if line.name == "Lost")
    assert end - start - 1 == MOST_ENTRIES
    assert lines[end - 1].name.endswith("smaller ones")
