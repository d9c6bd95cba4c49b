"""Head and foot of a sheet: title, whose, revision, banner and overrides, the same on every document."""

from __future__ import annotations

import dataclasses
from typing import Any

from ampwright.documents.override_view import override_heading, override_lines
from ampwright.documents.pack.records import Material
from ampwright.documents.report_facts import running_line
from ampwright.documents.report_model import DRAFT
from ampwright.documents.report_records import Paper
from ampwright.documents.typst_pdf import as_data, typst_pdf
from ampwright.documents.words.words import Language, noted
from ampwright.records import record

__all__ = ["LICENSED", "Sheet", "sheet_of", "sheet_pdf"]

LICENSED = noted(
    "The local code and licensed practice decide; mains voltage belongs to a licensed electrician. The manual of the part "
    "fitted goes first."
)


@record
class Sheet:
    """What is printed on every page of a document."""

    paper: Paper
    """Sheet."""
    language: Language
    """Language of the text."""
    date: str
    """Date of the revision, YYYY-MM-DD."""
    document_title: str
    """Title in the document's properties."""
    author: str
    """Who is responsible; empty = not said."""
    draft: str
    """Banner on every page; empty = none."""
    draft_sentence: str
    """The banner as running text: a screen reader skips what stands in the margin."""
    overrides_heading: str
    """Heading of the block of overrides on every page; empty = none in force."""
    overrides: tuple[str, ...]
    """Lines of that block."""
    running: str
    """Line at the foot of every page."""
    page_words: str
    """How a page is counted, with {page} and {count}."""
    title: str
    """Title of the job."""
    kind: str
    """What the document is."""


def sheet_of(material: Material, title: str) -> Sheet:
    """Return head and foot of a document; `title` says what it is, in English."""
    about, answer, words = material.about, material.answer, material.words
    is_draft = answer.wiring_verdict != "no fault found"
    return Sheet(
        paper=material.design.region.paper,
        language=words.language,
        date=about.date.isoformat(),
        document_title=f"{about.title} - {words(title)}",
        author=about.author,
        draft=words(DRAFT) if is_draft else "",
        draft_sentence=words("This sheet is a draft: do not energise.") if is_draft else "",
        overrides_heading=override_heading(answer.overridden, answer.assessment.on, words),
        overrides=override_lines(answer.overridden, job_id=about.id, words=words),
        running=running_line(answer, words),
        page_words=words("page {page} of {count}"),
        title=about.title,
        kind=words(title),
    )


def sheet_pdf(template: str, sheet: Sheet, body: Any, **pictures: str) -> bytes:
    """Return a tagged PDF of a document.

    Parameters
    ----------
    template : typst file below ampwright.documents, e.g. "card/card.typ"; it reads `sys.inputs.sheet` and `sys.inputs.body`
    body : page model of plain records, tuples, texts and numbers
    pictures : SVG texts by the name under which the template reads them
    """
    data = {
        "sheet": as_data(dataclasses.asdict(sheet), language=sheet.language),
        "body": as_data(dataclasses.asdict(body), language=sheet.language),
        **pictures,
    }
    return typst_pdf(template, data, date=sheet.date)
