import dataclasses
import json

import pypdfium2
import pytest
from materials import answer_of_file, job_file
from overlaps import faults
from typer.testing import CliRunner

from ampwright.assessment.selectivity import Selectivity
from ampwright.cli.main import app
from ampwright.cli.show_curves import curves_json, curves_text
from ampwright.documents.curve_matrix import cell_text, device_selectivity, matrix_of
from ampwright.documents.curve_sheets import curves_pdf
from ampwright.documents.report_pdf import report_pdf
from ampwright.documents.words.words import english

RUN = CliRunner()


def found(name):
    return answer_of_file(job_file(name))[0].assessment


@pytest.fixture(scope="module")
def study():
    return device_selectivity(found("base-module"))


def test_rows_are_lower_and_columns_upper_devices(study):
    (block,) = matrix_of(study).blocks
    assert block.devices == ("pm.F1", "F13")
    rows = {row.device: row.cells for row in block.rows}
    assert rows["F14"] == ("not selective *", "not selective *")
    assert rows["pm.Q3"][1] == "–"
    assert rows["pm.Q3"][0].startswith("overload, to")


def test_words_of_a_cell(study):
    pair = dataclasses.replace(study.pairs[0], is_from_memory=False, far_fault_a=100.0, up_to_a=400.0)
    assert cell_text(pair, english()) == "up to 400\u00a0A"
    assert cell_text(dataclasses.replace(pair, far_fault_a=500.0), english()) == "overload, to 400\u00a0A"
    assert cell_text(dataclasses.replace(pair, is_total=True), english()) == "all faults"
    assert cell_text(dataclasses.replace(pair, up_to_a=None), english()) == "not selective"
    assert cell_text(dataclasses.replace(pair, why_unknown="no times"), english()) == "not checked"


def test_what_is_not_checked_is_named(study):
    open_pair = dataclasses.replace(study.pairs[0], why_unknown="no opening times are held for X")
    notes = matrix_of(Selectivity(pairs=(open_pair,), left_out=())).notes
    assert any("Not checked" in note and "no opening times are held for X" in note for note in notes)
    assert not matrix_of(Selectivity(pairs=(), left_out=())).blocks


def test_more_upper_devices_than_fit_make_another_table(study):
    pairs = []
    for number in range(7):
        device = dataclasses.replace(study.pairs[0].above.device, id=f"F{number}")
        above = dataclasses.replace(study.pairs[0].above, device=device)
        pairs.append(dataclasses.replace(study.pairs[0], above=above))
    blocks = matrix_of(Selectivity(pairs=tuple(pairs), left_out=())).blocks
    assert [len(block.devices) for block in blocks] == [5, 2]
    assert all(len(row.cells) == len(block.devices) for block in blocks for row in block.rows)


@pytest.mark.parametrize("name", ["base-module", "base-mains", "night-survey-van", "vaccine-outreach"])
def test_nothing_is_clipped_or_lies_over_another(name):
    document = pypdfium2.PdfDocument(curves_pdf(found(name)))
    assert [fault for page in document for fault in faults(page)] == []


def test_the_report_takes_charts_and_matrix_as_its_appendix():
    answer = answer_of_file(job_file("base-module"))[0]
    plain, longer = (
        pypdfium2.PdfDocument(report_pdf(answer, with_curves=curves)) for curves in (False, True)
    )
    assert len(longer) > len(plain)
    text = "".join(page.get_textpage().get_text_range() for page in longer)
    for words in ("Appendix", "Which opens first", "F14 protects", "not selective *"):
        assert words in text
        assert words not in "".join(page.get_textpage().get_text_range() for page in plain)
    assert [fault for page in list(longer)[len(plain) :] for fault in faults(page)] == []


def test_text_and_json_say_the_same():
    text, plain = (
        curves_text(found("base-module"), written=None),
        json.loads(curves_json(found("base-module"))),
    )
    assert all(len(line) <= 80 for line in text.splitlines())
    results = {(each["lower"], each["upper"]): each for each in plain["pairs"]}
    assert results["F14", "F13"]["result"] == "not selective"
    assert results["pm.Q3", "pm.F1"]["result"] == "overload only"
    assert results["pm.Q3", "pm.F1"]["selective_to_a"] < results["pm.Q3", "pm.F1"]["far_fault_a"]
    assert {each["device"] for each in plain["circuits"]} >= {"F14", "F10", "pm.F1"}
    assert "F14 100 A        F13 150 A" in text


def test_charts_need_a_report():
    done = RUN.invoke(app, ["check", str(job_file("base-12v")), "--with-curves"])
    assert done.exit_code == 2
    assert "--report" in done.output
