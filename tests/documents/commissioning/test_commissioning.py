import pytest
from materials import BASES, EXAMPLES, material

from ampwright.documents.commissioning.commissioning import commissioning_sheet
from ampwright.documents.sheet.sections import BLANK, TICK
from ampwright.fieldwork.predict import predicted_tests


def sections(name):
    return {section.title: section for section in commissioning_sheet(material(name)).sections}


def rows(section):
    return [tuple(cell.replace("\u00a0", " ") for cell in row) for row in section.table.rows]


@pytest.mark.parametrize("name", [*EXAMPLES, *BASES])
def test_every_test_has_a_row_with_a_blank(name):
    found = material(name)
    printed = sections(name).values()
    lines = [row for section in printed if section.table for row in section.table.rows]
    tests = predicted_tests(found.found)
    circuits = {(test.subject, test.at) for test in tests if test.state == "load"}
    others = [test for test in tests if test.state != "load"]
    blank = [row for row in lines if BLANK in row]
    dead = len(sections(name)["Dead: before the battery is joined"].table.rows)
    assert len(blank) == len(circuits) + len(others) + dead
    assert all(TICK in row for row in blank)


def test_circuit_shows_prediction_limit_and_blanks_side_by_side():
    fridge = rows(sections("base-12v")["Each circuit with its load alone"])[2]
    assert fridge[0] == "fridge"
    assert fridge[1] == "3.43 ± 1.00 A"
    assert fridge[5:7] == ("34.9 ± 4.2 mΩ", "at most 39.1 mΩ")
    assert fridge.count(BLANK) == 4


def test_no_insulation_test_on_direct_current():
    dead = sections("base-12v")["Dead: before the battery is joined"]
    assert "Never a 250 V or 500 V insulation test" in dead.cautions[0]


def test_mains_is_for_the_licensed_person():
    assert "Nobody else" in sections("base-mains")["Mains: by the licensed person only"].text[0]
    assert "no mains side" in sections("night-survey-van")["Mains"].text[0]


def test_engine_tests_carry_the_caution_on_exhaust():
    assert "carbon monoxide" in sections("base-12v")["Chargers"].cautions[0]


def test_battery_inside_a_module_is_not_opened_for_a_reading():
    notes = sections("base-module")["How to use this sheet"].notes
    assert any("do not open it" in note for note in notes)
    notes = sections("base-12v")["How to use this sheet"].notes
    assert not any("do not open it" in note for note in notes)
