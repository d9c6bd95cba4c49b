"""Overrides in force stand at the head of every page of report and charts, read back by another program."""

import dataclasses
import datetime as dt

import pypdfium2
import pytest
from answers import answer, assessment, energy_result, finding, findings

from ampwright.documents.override_view import LINE_COUNT, override_heading, override_lines
from ampwright.documents.report_model import DRAFT, report_model
from ampwright.documents.report_pdf import report_pdf
from ampwright.documents.words.words import english
from ampwright.findings import OverrideInForce, Severity

HELD = OverrideInForce(
    by="A. Person",
    reason="steel tube up to the breaker, seen on the bench",
    granted=dt.date(2026, 1, 10),
    expires=dt.date(2026, 6, 30),
    was=Severity.FAIL,
)
HEADING = "Overrides in force on 2026-01-15"


def taken_on(count=1, **changed):
    held = dataclasses.replace(HELD, **changed)
    return tuple(
        finding(rule="device-at-source", subject=f"W{n}", severity=Severity.CONDITION, override=held)
        for n in range(count)
    )


def with_overrides(count=1, *, weight=8, **changed):
    found = assessment(energy_result(3), count=weight)
    found = dataclasses.replace(found, findings=(*taken_on(count, **changed), *findings(weight)))
    return answer(assessment=found, worst=found, wiring_verdict="not fully checked")


def page_texts(data):
    return [page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(data)]


def plain(text):
    for mark in ("\u200b", "\u202f", "\u00a0", "\r", "\n", "\ufffe", "\u0002", " "):
        text = text.replace(mark, "")
    return text


def test_nothing_is_said_where_nothing_is_overridden():
    assert (
        override_heading((), dt.date(2026, 1, 15), english()),
        override_lines((), job_id="van-7", words=english()),
    ) == ("", ())


def test_line_names_rule_subject_weight_person_end_and_reason():
    (line,) = report_model(with_overrides(reason="steel tube to the breaker")).overrides
    assert line == (
        "device at source, W0 (fail without it). Overridden by A. Person until 2026-06-30: "
        "steel tube to the breaker."
    )


def test_long_reasons_are_broken_and_nothing_of_them_is_lost():
    lines = report_model(with_overrides(reason="seen " * 48)).overrides
    assert len(lines) > 1
    assert all(len(line) <= LINE_COUNT for line in lines)
    assert " ".join(lines).count("seen") == 48


@pytest.mark.parametrize("weight", [8, 60])
def test_every_page_of_the_pdf_carries_name_reason_and_expiry(weight):
    pages = page_texts(report_pdf(with_overrides(weight=weight)))
    assert len(pages) >= (2 if weight == 8 else 4)
    for text in map(plain, pages):
        for words in (
            HEADING,
            "A. Person",
            "2026-06-30",
            "steel tube up to the breaker, seen on the bench",
            DRAFT,
        ):
            assert plain(words) in text


def test_twelve_long_overrides_still_fit_above_the_text_of_every_page():
    longest = with_overrides(12, by="Wilhelmina " * 5, reason="wwwww " * 40)
    for page in pypdfium2.PdfDocument(report_pdf(longest)):
        text = page.get_textpage()
        assert plain(text.get_text_bounded()).count("until2026-06-30") == 12
        right_mm = max(text.get_charbox(i)[2] for i in range(text.count_chars())) * 25.4 / 72.0
        assert right_mm <= 210.0 - 14.0 + 1.0


def test_one_that_counts_only_at_the_unfavourable_end_is_printed_too():
    likely, worst = answer(), with_overrides()
    found = dataclasses.replace(likely, worst=worst.assessment, wiring_verdict="not fully checked")
    model = report_model(found)
    assert model.overrides_heading == HEADING
    assert len(model.overrides) == 2
    assert "W0" in model.overrides[0]


def test_pages_without_overrides_keep_their_shape():
    assert report_model(answer()).overrides == ()
    assert len(page_texts(report_pdf(answer()))) == 2
