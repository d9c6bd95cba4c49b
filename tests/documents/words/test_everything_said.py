"""Every text of the sheets that have a command of their own goes through the catalogue.

The catalogue here puts marks round each text it is asked for; what is printed without a mark never reached it.
"""

import dataclasses
import re

import pytest
from tests.documents.materials import EXAMPLES, answer_of_file, job_file, material

from ampwright import api
from ampwright.documents.curve_sheets import curve_pages
from ampwright.documents.evidence.evidence import evidence_report
from ampwright.documents.measuring.measuring_sheet import measuring_sheet
from ampwright.documents.report_model import report_model
from ampwright.documents.settings_model import settings_model
from ampwright.documents.words.words import Words

MARKED = Words(language="de", translation=lambda text: f"«{text}»")


def unmarked(text):
    """Return what is left of a text without its marked parts, and without figures, units and names in capitals."""
    while "«" in text:
        shorter = re.sub(r"«[^«»]*»", "", text)
        assert shorter != text, text
        text = shorter
    return text


def has_mark(text):
    return "«" in text


@pytest.mark.parametrize("name", EXAMPLES)
def test_settings_sheet(name):
    answer, _ = answer_of_file(job_file(name))
    model = settings_model(answer.assessment, MARKED)
    lines = [line for device in model.devices for line in device.lines]
    assert lines
    for line in lines:
        assert has_mark(line.why), line.why
        assert has_mark(line.origin), line.origin
        # a channel is named by the job
        assert has_mark(line.what) or line.what[0].isdigit(), line.what
    for text in (
        model.draft,
        model.title,
        model.running,
        *model.notes,
        *model.limits,
        *model.labels.values(),
    ):
        assert has_mark(text), text


@pytest.mark.parametrize("name", EXAMPLES)
def test_curves(name):
    answer, _ = answer_of_file(job_file(name))
    pages = curve_pages(answer.assessment, MARKED)
    assert pages.sheets
    for sheet in pages.sheets:
        for text in (sheet.heading, *sheet.notes, sheet.chart.title):
            assert unmarked(text).strip() == "", text
        legend = [label for label in sheet.chart.labels if re.fullmatch(r"legend-\d+-0", label.id)]
        assert legend
        assert all(has_mark(label.text) for label in legend), [label.text for label in legend]
    for text in (*pages.matrix.notes, *(kind for block in pages.matrix.blocks for kind in block.kinds)):
        assert has_mark(text), text
    for block in pages.matrix.blocks:
        for row in block.rows:
            assert has_mark(row.faults)
            assert all(has_mark(cell) for cell in row.cells if cell != "–"), row.cells


@pytest.mark.parametrize("name", EXAMPLES)
def test_measuring(name):
    sheet = measuring_sheet(dataclasses.replace(material(name), words=MARKED))
    assert sheet.readings
    for reading in sheet.readings:
        texts = (reading.title, reading.how, reading.where, reading.meaning, *reading.also)
        assert all(has_mark(text) for text in texts), texts
    assert all(has_mark(text) for text in sheet.cautions)


@pytest.fixture(scope="module", params=EXAMPLES)
def whole_answer(request):
    return api.check(job_file(request.param))


def test_report(whole_answer):
    model = report_model(whole_answer, MARKED)
    named = {load.name for load in whole_answer.assessment.design.loads}
    for line in model.ledger:
        assert has_mark(line.name) or line.name in named, line.name
    texts = [
        *(fact.label for fact in model.facts),
        *(
            text
            for block in model.verdicts
            for text in (block.heading, block.word, block.sentence, block.rules)
        ),
        model.run_out_heading,
        model.run_out,
        *model.outlook,
        model.ledger_heading,
        *(text for change in model.changes for text in (change.description, change.result)),
        *model.questions,
        *(text for finding in model.findings for text in (finding.severity, finding.rule, *finding.figures)),
        model.passes,
        *model.assumptions,
        *model.cautions,
        *model.limits,
        *model.labels.values(),
    ]
    assert [text for text in texts if not has_mark(text)] == []


def test_evidence(whole_answer):
    base = material(EXAMPLES[0])
    report = evidence_report(dataclasses.replace(base, answer=whole_answer, words=MARKED))
    blocks = [block for _, group in report.groups for block in group]
    assert blocks
    for block in blocks:
        assert has_mark(block.name), block.name
        # the runs of weather and doubt are no rule of the list and ask no question there
        assert has_mark(block.asks) or block.id == "holds-over-runs", block.id
        assert has_mark(block.counts)
    assert all(has_mark(value) for name, value in report.facts if "verdict" in value)
    assert all(has_mark(text) for heading in report.before for text in heading.items)
