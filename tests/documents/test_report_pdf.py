import ctypes
import dataclasses
import subprocess
import sys

import pypdfium2
import pypdfium2.raw as pdfium
import pytest
from answers import answer, changes, finding, findings, question, with_job

from ampwright.documents.report_model import DRAFT, report_model
from ampwright.documents.report_pdf import pdf_bytes, report_pdf
from ampwright.findings import Severity

MM_PER_POINT = 25.4 / 72.0
MARGIN_MM = 14.0


def opened(data):
    return pypdfium2.PdfDocument(data)


def page_texts(data):
    return [page.get_textpage().get_text_bounded() for page in opened(data)]


def plain(text):
    """Text without line ends, breaks and narrow spaces, for comparison."""
    for mark in ("\u200b", "\u202f", "\u00a0", "\r", "\n", "\ufffe", "\u0002", " "):
        text = text.replace(mark, "")
    return text


def whole(data):
    return plain("".join(page_texts(data)))


@pytest.fixture(scope="module")
def normal():
    return report_pdf(answer())


def test_two_pages_are_the_normal_case(normal):
    assert len(opened(normal)) == 2


def test_verdict_words_and_sentences_stand_on_page_one(normal):
    first = plain(page_texts(normal)[0])
    for words in ("suits with conditions", "do not energise", "Suits if the alternator gives 97 A or more"):
        assert plain(words) in first


def test_rules_questions_and_changes_stand_on_page_one(normal):
    first = plain(page_texts(normal)[0])
    for words in (
        "wiring: 14 of 27 rules checked",
        "read its label",
        "Add 1 panel of 100 W",
        "EUR 110",
        "Runs out first",
    ):
        assert plain(words) in first


def test_findings_cautions_and_limits_stand_on_page_two(normal):
    second = plain(page_texts(normal)[1])
    for words in (
        "31.0 A",
        "at most 27.5 A",
        "margin −13 %",
        "33 CFR 183.425",
        "Use 6 mm²",
        "licensed electrician",
    ):
        assert plain(words) in second
    assert plain("It is no certificate") in second


@pytest.mark.parametrize("count", [0, 8, 40, 200])
@pytest.mark.parametrize("verdict", ["do not energise", "not fully checked"])
def test_draft_stands_on_every_page_while_a_rule_is_open(count, verdict):
    for text in page_texts(report_pdf(answer(count=count, wiring_verdict=verdict))):
        assert plain(DRAFT) in plain(text)


def test_draft_is_absent_without_fault():
    assert plain(DRAFT) not in whole(report_pdf(answer(wiring_verdict="no fault found")))


def test_more_findings_flow_on_to_further_pages():
    data = report_pdf(answer(count=40))
    assert len(opened(data)) > 2
    text = whole(data)
    for number in range(40):
        assert f"feed-{number}" in text


@pytest.mark.parametrize("count", [0, 8])
def test_forbidden_words_are_never_printed(count):
    text = whole(report_pdf(answer(count=count, wiring_verdict="no fault found"))).lower()
    for word in ("compliant", "certified", "safe"):
        assert word not in text


@pytest.mark.parametrize("region", ["au-nz", "uk-eu", "us-ca"])
def test_sheet_follows_the_region(region):
    page = opened(report_pdf(with_job(answer(), region=region)))[0]
    width_mm, height_mm = (side * MM_PER_POINT for side in page.get_size())
    wanted_mm = (215.9, 279.4) if region == "us-ca" else (210.0, 297.0)
    assert (width_mm, height_mm) == pytest.approx(wanted_mm, abs=0.1)


def test_us_units_stand_beside_metric_ones():
    hot = finding(unit="°C", value=85.0, limit=60.0)
    thin = finding(1, unit="mm²", value=4.0, limit=13.3, at_most=False)
    long = finding(2, unit="m", value=3.0, limit=0.2)
    base = answer(units="us")
    found = dataclasses.replace(base.assessment, findings=(hot, thin, long))
    text = whole(report_pdf(dataclasses.replace(base, assessment=found, worst=found)))
    for words in ("85.0 °C (185 °F)", "13.3 mm² (6 AWG)", "3.00 m (9.84 ft)"):
        assert plain(words) in text


def test_same_answer_gives_the_same_bytes():
    assert report_pdf(answer()) == report_pdf(answer())


def test_other_answer_gives_other_bytes(normal):
    assert report_pdf(answer(count=7)) != normal


def test_date_is_the_revisions(normal):
    created = opened(normal).get_metadata_value("CreationDate")
    assert created.startswith("D:20260314")


def test_document_is_tagged_titled_and_has_a_language(normal):
    document = opened(normal)
    assert pdfium.FPDFCatalog_IsTagged(document)
    assert document.get_metadata_value("Title").startswith("Touring van with a vaccine refrigerator")
    assert b"pdfuaid" in normal
    assert b"/Lang" in normal


def fonts(document):
    found = {}
    for page in document:
        for item in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_TEXT]):
            font = pdfium.FPDFTextObj_GetFont(item)
            length = pdfium.FPDFFont_GetBaseFontName(font, None, 0)
            buffer = ctypes.create_string_buffer(length)
            pdfium.FPDFFont_GetBaseFontName(font, buffer, length)
            found[buffer.value.decode()] = pdfium.FPDFFont_GetIsEmbedded(font)
    return found


def test_fonts_are_embedded_and_ours():
    found = fonts(opened(report_pdf(answer())))
    assert found
    assert set(found.values()) == {1}
    assert all("Noto" in name for name in found)


HOSTILE = (
    '#panic("x") #import "@preview/x:1.0.0"',
    "*bold* _it_ `raw` $x^2$ [b] <a> @b = head - list + num / term",
    "\"quotes\" 'single' \\ back # [ ] { } ~ // comment /* more */",
    "id-" + "x" * 150,
    "very-" * 40,
    "emoji \U0001f690\U0001f9ca end",
    "עברית ימין לשמאל",
    "سيارة",
    "T" * 200,
    "line one\nline two\r\tthird",
)
SHOWN = {
    "emoji \U0001f690\U0001f9ca end": "emoji[minibus][icecube]end",
    "עברית ימין לשמאל": None,
    "سيارة": None,
}


def text_reaches_beyond_margins(document):
    for page in document:
        width, height = page.get_size()
        textpage = page.get_textpage()
        for index in range(textpage.count_chars()):
            left, bottom, right, top = textpage.get_charbox(index)
            if right - left <= 0.0:
                continue
            if left * MM_PER_POINT < MARGIN_MM - 0.6 or (width - right) * MM_PER_POINT < MARGIN_MM - 0.6:
                return (page, textpage.get_text_range(max(index - 10, 0), 20), left, right)
            if bottom < 0.0 or top > height:
                return (page, index)
    return None


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_is_printed_as_it_is_and_stays_inside(text):
    base = with_job(answer(), title=text, customer=text, author=text)
    bad = finding(subject=text, message=text, way_out=text, rule=text)
    found = dataclasses.replace(base.assessment, findings=(bad, *findings(3)))
    hostile = dataclasses.replace(
        base,
        file=text,
        assessment=found,
        worst=found,
        use_sentence=text,
        wiring_sentence=text,
        assumptions=(text,),
        questions=(dataclasses.replace(question(), message=text),),
        changes=(dataclasses.replace(changes(1)[0], description=text, caution=text),),
    )
    data = report_pdf(hostile)
    assert text_reaches_beyond_margins(opened(data)) is None
    printed = whole(data)
    wanted = SHOWN.get(text, plain(text.replace("\t", " ")))
    if wanted is None:
        letters = [letter for letter in text if not letter.isspace()]
        assert sum(printed.count(letter) >= 8 for letter in letters) >= 0.6 * len(letters)
    else:
        assert printed.count(wanted) >= 8


def test_chart_is_described():
    model = report_model(answer())
    assert "State of charge" in model.chart.title
    assert b"/Alt" in pdf_bytes(model)


def test_model_is_made_without_the_typesetter():
    code = "import sys, ampwright.documents.report_model; sys.exit('typst' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_open_rules_of_the_whole_job_are_gathered_and_none_is_lost():
    base = answer()
    gaps = tuple(
        finding(i, subject="van-7", severity=Severity.NOT_CHECKED, rule=f"gap-{i}", value=None, limit=None)
        for i in range(9)
    )
    found = dataclasses.replace(base.assessment, findings=(finding(99), *gaps))
    text = whole(report_pdf(dataclasses.replace(base, assessment=found, worst=found)))
    assert plain("do it by hand") in text
    for number in range(9):
        assert plain(f"gap {number}.") in text
    assert "feed-99" in text
