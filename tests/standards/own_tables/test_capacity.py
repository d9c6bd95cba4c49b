"""A user's table of cable currents. Expected values by hand from the rows below."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampwright.errors import JobError, TableError
from ampwright.standards.own_tables.capacity import capacity_table, own_current

HEAD = "# document: Book of currents\n# edition: 2020\n# table: 4\n# page: 12\n# by: A. Example, 3 May\n"
COLUMNS = "area_mm2,insulation_degc,ambient_degc,conductors_loaded,current_a\n"
ROWS = "4,90,30,2,40\n4,90,60,2,30\n6,90,30,2,50\n6,90,60,2,36\n4,90,30,4,30\n6,90,30,4,38\n"
TABLE = capacity_table(HEAD + COLUMNS + ROWS, file="own.csv")


def _current(area_mm2, *, insulation_degc=90.0, ambient_degc=30.0, loaded=2):
    return own_current(
        TABLE, area_mm2, insulation_degc=insulation_degc, ambient_degc=ambient_degc, conductors_loaded=loaded
    )


@pytest.mark.parametrize(
    ("area_mm2", "ambient_degc", "loaded", "current_a"),
    [
        (4.0, 30.0, 2, 40.0),
        (6.0, 60.0, 2, 36.0),
        (5.0, 30.0, 2, 45.0),  # half way between 40 and 50
        (4.0, 45.0, 2, 35.0),  # half way between 40 and 30
        (5.0, 45.0, 2, 39.0),  # half way between 35 and 43
        (4.0, 10.0, 2, 40.0),  # cooler air counts as the coolest of the table
        (4.0, 30.0, 1, 40.0),  # one conductor is read as two
        (4.0, 30.0, 3, 30.0),  # three are read as four
        (4.01, 30.0, 2, 40.0),  # a rounded trade size
    ],
)
def test_look_up(area_mm2, ambient_degc, loaded, current_a):
    found = _current(area_mm2, ambient_degc=ambient_degc, loaded=loaded)
    assert found.current_a == pytest.approx(current_a)
    assert (
        str(found.source) == "Book of currents, 2020, table 4, page 12, typed by A. Example, 3 May in own.csv"
    )


def test_better_insulation_is_read_in_the_tables_own_and_said():
    found = _current(4.0, insulation_degc=105.0)
    assert found.current_a == 40.0
    assert found.note == "insulation of 105 degC read as 90 degC"
    assert _current(5.0).note == "interpolated between rows"
    assert _current(4.0).note == ""


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ({"area_mm2": 2.5}, "2.5 mm²: own.csv holds 4 to 6 mm²"),
        ({"area_mm2": 10.0}, "10 mm²: own.csv holds 4 to 6 mm²"),
        ({"area_mm2": 4.0, "ambient_degc": 61.0}, "air of 61 degC: own.csv ends at 60 degC"),
        ({"area_mm2": 4.0, "ambient_degc": 40.0, "loaded": 4}, "air of 40 degC: own.csv ends at 30 degC"),
        ({"area_mm2": 4.0, "loaded": 5}, "5 conductors loaded together: own.csv ends at 4"),
        ({"area_mm2": 4.0, "insulation_degc": 70.0}, "insulation of 70 degC: own.csv begins at 90 degC"),
    ],
)
def test_never_extrapolated(arguments, said):
    with pytest.raises(TableError, match=said):
        _current(**arguments)


@given(st.floats(4.0, 6.0), st.floats(4.0, 6.0), st.floats(30.0, 60.0), st.floats(30.0, 60.0))
def test_thicker_never_carries_less_and_hotter_never_more(first, second, one, other):
    thin, thick = sorted((first, second))
    cool, hot = sorted((one, other))
    assert _current(thin, ambient_degc=cool).current_a <= _current(thick, ambient_degc=cool).current_a + 1e-9
    assert _current(thin, ambient_degc=hot).current_a <= _current(thin, ambient_degc=cool).current_a + 1e-9


def test_a_spreadsheets_semicolons_and_decimal_commas():
    text = (HEAD + COLUMNS).replace(",", ";") + "2,5;90;30;2;27,5\n4;90;30;2;40\n"
    table = capacity_table(text, file="own.csv")
    found = own_current(table, 2.5, insulation_degc=90, ambient_degc=30, conductors_loaded=2)
    assert found.current_a == 27.5


def _problems(text):
    with pytest.raises(JobError) as caught:
        capacity_table(text, file="own.csv")
    assert caught.value.file == "own.csv"
    return [(each.line, each.path, each.message) for each in caught.value.problems]


def test_all_problems_at_once_with_their_lines():
    rows = "4,90,30,2,40\n4,90,30,2,41\n6,90,30,2,forty\n10,90,30,2,30\n16,90,30,2.5,80\n25,90,,2,100\n4,90,95,2,50\n"
    found = _problems("# document: Book\n# page: 3\n" + COLUMNS + rows)
    assert {(line, path) for line, path, _ in found} == {
        (None, "by"),
        (5, "area_mm2"),
        (6, "current_a"),
        (7, "current_a"),
        (8, "conductors_loaded"),
        (9, "ambient_degc"),
        (10, "current_a"),
        (10, "ambient_degc"),
        (None, "area_mm2"),
    }
    assert next(message for line, path, message in found if line == 5).startswith("says again what line 4")
    assert next(message for line, path, message in found if line == 7).startswith("30 A is not above that of")
    assert any("no row for 10 mm2 at 95 degC" in message for _, _, message in found)


def test_columns_that_are_missing_unknown_or_twice():
    text = HEAD + "area_mm2,area_mm2,insulation_degc,ambient_degc,amps\n4,4,90,30,20\n"
    assert {(line, path) for line, path, _ in _problems(text)} == {
        (6, "conductors_loaded"),
        (6, "current_a"),
        (6, "amps"),
        (6, "area_mm2"),
    }


@pytest.mark.parametrize("text", ["", HEAD, HEAD + COLUMNS])
def test_a_file_without_rows_is_refused(text):
    assert any("no rows" in message for _, _, message in _problems(text))
