import dataclasses
import io
import math

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st
from materials import material

from ampwright.assessment.terminals import LUGS_MAX_COUNT
from ampwright.documents.cabling.pieces import pieces
from ampwright.documents.cabling.records import Terminal
from ampwright.documents.schedule.cutting import cut_pieces, grouped, not_cut, roll_count, sum_m
from ampwright.documents.schedule.document import cable_schedule
from ampwright.documents.schedule.model import schedule_model
from ampwright.documents.schedule.terminal_plan import stacks

TRUCK = material("bicycle-repair-truck")
FOUND = pieces(TRUCK.design)


def test_rolls_are_filled_longest_first():
    piece = FOUND[0]
    cuts = [dataclasses.replace(piece, cut_m=cut_m) for cut_m in (6.0, 6.0, 4.0, 4.0)]
    # 20 m in all, but 6 + 4 fill a roll of 10 m twice; with rolls of 9 m each length of 6 m wants its own and 4 + 4 a third
    assert [roll_count(cuts, roll_m) for roll_m in (10.0, 9.0, 5.0)] == [2, 3, 2]


@given(st.lists(st.floats(0.2, 25.0), max_size=30))
def test_rolls_hold_what_is_cut(cuts_m):
    cuts = [dataclasses.replace(FOUND[0], cut_m=cut_m) for cut_m in cuts_m]
    count = roll_count(cuts, 25.0)
    assert count >= math.ceil(math.fsum(cuts_m) / 25.0 - 1e-6)
    assert count <= len(cuts_m)


def stack_of(areas_mm2, stud_count):
    terminal = Terminal(place="bar", pole="plus", form="stud", stud_mm=8, torque_nm=10, stud_count=stud_count)
    ends = []
    for number, area_mm2 in enumerate(areas_mm2):
        cable = dataclasses.replace(FOUND[0].cable, area_mm2=area_mm2)
        ends.append((dataclasses.replace(FOUND[0], id=str(number), cable=cable), terminal))
    return [[piece.cable.area_mm2 for piece, _ in stack] for stack in stacks(terminal, ends)]


def test_studs_are_shared_out_largest_lowest():
    assert stack_of([2.5, 35.0, 16.0, 70.0, 6.0], 2) == [[70.0, 16.0, 2.5], [35.0, 6.0]]


@given(
    st.lists(st.sampled_from([1.5, 2.5, 6.0, 16.0, 35.0, 70.0]), min_size=1, max_size=20), st.integers(1, 8)
)
def test_no_lug_lies_on_a_smaller_one(areas_mm2, stud_count):
    found = stack_of(areas_mm2, stud_count)
    assert all(stack == sorted(stack, reverse=True) for stack in found)
    assert max(map(len, found)) - min(map(len, found)) <= 1
    assert sorted(area for stack in found for area in stack) == sorted(areas_mm2)


def test_too_many_lugs_are_told():
    design = TRUCK.design
    bar = next(placed for placed in design.parts if placed.id == "bar")
    part = dataclasses.replace(bar.part, stud_count=1)
    parts = tuple(dataclasses.replace(p, part=part) if p.id == "bar" else p for p in design.parts)
    changed = dataclasses.replace(design, parts=parts)
    found = dataclasses.replace(TRUCK.answer.assessment, design=changed)
    model = schedule_model(
        dataclasses.replace(TRUCK, answer=dataclasses.replace(TRUCK.answer, assessment=found))
    )
    block = next(each for each in model.terminals if each.place == "bar\u00a0+")
    assert f"MORE than {LUGS_MAX_COUNT} lugs" in block.what


def test_every_conductor_stands_in_the_schedule_and_at_both_terminals():
    model = schedule_model(TRUCK)
    rows = [row[0] for block in model.runs for row in block.rows] + [row[0] for row in model.bonds]
    assert sorted(rows) == sorted(piece.id for piece in FOUND)
    ends = [row[2] for block in model.terminals for row in block.rows]
    assert sorted(ends) == sorted([piece.id for piece in FOUND] * 2)


def test_module_is_not_taken_apart():
    model = schedule_model(material("night-survey-van"))
    assert "do not open" in model.module_note
    assert {row[0] for row in model.module_rows} == {
        run.id for run in material("night-survey-van").design.runs if run.is_inside_module
    }
    assert not any(block.id.startswith("pm.") for block in model.runs)
    assert not any(p.is_inside_module for p in cut_pieces(pieces(material("night-survey-van").design)))


def test_lugs_inside_the_module_count_on_its_studs():
    model = schedule_model(material("base-module"))
    block = next(each for each in model.terminals if each.place == "pm.bar\u00a0+")
    assert {"fitted in the module"} < {row[4] for row in block.rows}


def test_what_others_supply_is_not_cut():
    plain = material("night-survey-van")
    ports = tuple(dataclasses.replace(port, supplied_by="customer") for port in plain.design.ports)
    found = pieces(dataclasses.replace(plain.design, ports=ports))
    assert {p.supplied_by for p in found if p.run == "W10"} == {"customer"}
    assert not any(piece.run == "W10" for piece in cut_pieces(found))


def sheets(found):
    made = {file.name: file.content for file in cable_schedule(found)}
    return openpyxl.load_workbook(io.BytesIO(made["cable-schedule.xlsx"]))


def test_workbook_holds_each_conductor_with_numbers():
    (sheet, *_) = sheets(TRUCK).worksheets
    rows = {row[1].value: row for row in sheet.iter_rows() if row[1].value}
    row = rows["W1.1+"]
    assert (row[9].value, row[10].value) == (0.12, 0.25)
    assert set(rows) >= {piece.id for piece in FOUND}


def test_sums_of_the_workbook_are_formulas_over_their_group():
    sheet = sheets(TRUCK).worksheets[2]
    cells = list(sheet.iter_rows(min_col=5, max_col=5))
    found = []
    for (cell,) in cells:
        if cell.data_type == "f":
            first, last = (int(text) for text in cell.value.removeprefix("=SUM(E").rstrip(")").split(":E"))
            assert last == cell.row - 1
            found.append(round(sum(cells[row - 1][0].value for row in range(first, last + 1)), 2))
    groups = grouped(cut_pieces(FOUND)).values()
    assert found == [sum_m(group) for group in groups if sum_m(group)]


@pytest.mark.parametrize("name", ["base-24v", "base-mains"])
def test_us_paper_has_gauges_and_feet(name):
    model = schedule_model(material(name))
    is_us = material(name).about.units == "us"
    assert ("AWG" in model.runs[0].rows[0][5]) == is_us
    assert ("ft" in model.runs[0].rows[0][7]) == is_us


def test_ends_are_called_as_the_job_calls_them():
    model = schedule_model(material("night-survey-van"))
    block = next(each for each in model.runs if each.id == "W10")
    assert block.summary.startswith("starter-battery to pm.starter-feed: ")
    assert block.details[0].endswith("from starter-battery")


def test_leads_to_metal_are_to_be_measured():
    design = TRUCK.design
    runs = tuple(
        dataclasses.replace(run, back_cable=None, back_length_m=0.0) if run.id == "W9" else run
        for run in design.runs
    )
    changed = dataclasses.replace(design, runs=runs)
    texts = list(not_cut(changed, pieces(changed), TRUCK.words))
    assert any(text.endswith("measure them: W9.") for text in texts)
    assert not any("measure them" in text for text in not_cut(design, FOUND, TRUCK.words))
