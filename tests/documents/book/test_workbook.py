import io
import re
import time
import zipfile

import openpyxl
import pytest
from materials import material

from ampwright.documents.book.records import Cell, Formula, Table
from ampwright.documents.book.workbook import head_rows, workbook_bytes
from ampwright.documents.sheet.sheet import sheet_of

SHEET = sheet_of(material("night-survey-van"), "Bill")


def made(*values):
    table = Table(name="Bill: a/b", widths=(20,), rows=tuple((Cell(value=value),) for value in values))
    return workbook_bytes([table], SHEET)


def read(content):
    book = openpyxl.load_workbook(io.BytesIO(content))
    return [row[0] for row in book.worksheets[0].iter_rows()]


@pytest.mark.parametrize("text", ['=HYPERLINK("x")', "=1+1", "+1", "-1", "@x", "#N/A", "1e9", "2026-01-01"])
def test_text_stays_text(text):
    (cell,) = read(made(text))
    assert (cell.value, cell.data_type) in {(text, "s"), (text, "str")}


def test_text_in_the_file_is_no_formula():
    with zipfile.ZipFile(io.BytesIO(made("=1+1"))) as archive:
        assert b"<f>" not in archive.read("xl/worksheets/sheet1.xml")


def test_formula_is_one():
    cells = read(made(1.5, 2.5, Formula(text="=SUM(A1:A2)")))
    assert [(cell.data_type, cell.value) for cell in cells] == [("n", 1.5), ("n", 2.5), ("f", "=SUM(A1:A2)")]


def test_letters_no_spreadsheet_can_hold_are_left_out():
    assert read(made("a\x00b\x1fc"))[0].value == "abc"


def test_bytes_do_not_follow_the_clock():
    first = made("a")
    time.sleep(1.1)
    assert made("a") == first


def test_properties_hold_the_date_of_the_revision():
    with zipfile.ZipFile(io.BytesIO(made("a"))) as archive:
        text = archive.read("docProps/core.xml").decode()
        assert {entry.date_time for entry in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}
    assert re.findall(r">(\d{4}[^<]*)<", text) == ["2026-09-14T00:00:00Z", "2026-09-14T00:00:00Z"]


def test_draft_stands_in_the_sheet_and_in_the_head_of_its_printed_pages():
    assert any(row and row[0].value == "DRAFT, DO NOT ENERGISE" for row in head_rows(SHEET))
    with zipfile.ZipFile(io.BytesIO(made("a"))) as archive:
        assert "<oddHeader>&amp;CDRAFT, DO NOT ENERGISE" in archive.read("xl/worksheets/sheet1.xml").decode()
