"""The job as one page in one file: verdicts, what runs how long, charts, diagram, circuits, handover, cautions.

Everything on it is what report, guide and diagram say too; it needs no script and loads nothing.
"""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Iterator
from importlib.resources import files

from ampwright.documents.chart import soc_chart
from ampwright.documents.chart_svg import chart_svg
from ampwright.documents.curve_records import CurveCircuit
from ampwright.documents.curve_sheets import sheet_of as curve_sheet
from ampwright.documents.curve_svg import curve_svg
from ampwright.documents.curve_view import curve_circuits
from ampwright.documents.diagram.compose import drawing_of
from ampwright.documents.diagram.svg import Linked, sheet_svg
from ampwright.documents.energy_view import use_course
from ampwright.documents.handover.guide import CHART_MM, GuideModel, guide_model
from ampwright.documents.job_page import parts
from ampwright.documents.job_page.circuits import circuits_table
from ampwright.documents.pack.records import Material, PackFile
from ampwright.documents.report_model import report_model
from ampwright.documents.report_records import ReportModel
from ampwright.documents.sheet.sheet import LICENSED, Sheet, sheet_of
from ampwright.documents.single_file.html import Html, raw, tag, whole_page
from ampwright.documents.words.words import Words, noted

__all__ = ["TITLE", "job_page", "page"]

TITLE = noted("Job page")


def page(material: Material) -> Iterator[PackFile]:
    """Make the page."""
    yield PackFile(name="page.html", content=job_page(material).encode())


def job_page(material: Material) -> str:
    """Return the page of a job."""
    words, sheet = material.words, sheet_of(material, TITLE)
    model = report_model(material.answer, words)
    chart = soc_chart(
        use_course(material.found, material.answer.chance),
        width_mm=CHART_MM,
        units=material.about.units,
        words=words,
    )
    guide = guide_model(material, chart)
    body = tag(
        "div",
        tag("aside", tag("span", sheet.draft), class_="draft", aria_label=sheet.draft) if sheet.draft else "",
        tag(
            "header",
            tag("h1", sheet.title),
            tag("p", f"{sheet.kind}. {guide.intro}", class_="quiet"),
            *_overrides(sheet),
        ),
        tag(
            "main",
            *_answer(model, guide, words),
            *_charts(material, chart_svg(chart), guide),
            *_wiring(material),
            *_handover(model, guide, words),
        ),
        tag(
            "footer",
            *(tag("p", text, class_="quiet") for text in (guide.foot, words(LICENSED), sheet.running)),
        ),
        class_="is-draft" if sheet.draft else "",
    )
    style = files("ampwright.documents.job_page").joinpath("job_page.css").read_text(encoding="utf-8")
    return whole_page(title=sheet.document_title, language=sheet.language, body=body, styles=(style,))


def _overrides(sheet: Sheet) -> Iterator[Html]:
    if sheet.overrides:
        yield tag(
            "div", tag("b", sheet.overrides_heading), parts.paragraphs(sheet.overrides), class_="override"
        )


def _answer(model: ReportModel, guide: GuideModel, words: Words) -> Iterator[Html]:
    yield tag("div", *(parts.verdict(block) for block in model.verdicts), class_="verdicts")
    yield parts.facts(model)
    yield tag("h2", model.run_out_heading)
    yield tag("p", model.run_out)
    yield tag("h2", guide.headings[0])
    yield parts.how_long(guide, words)
    yield tag("p", guide.bars_note, class_="quiet")
    yield tag("h2", guide.headings[1])
    for scenario in guide.scenarios:
        yield tag("h3", scenario.heading)
        yield tag("p", tag("b", scenario.answer))
        yield tag("p", scenario.why, class_="quiet")


def _charts(material: Material, chart: str, guide: GuideModel) -> Iterator[Html]:
    words, model = material.words, report_model(material.answer, material.words)
    yield tag("h2", guide.chart_words)
    yield tag(
        "div", raw(chart), class_="paper", tabindex="0", role="group", aria_label=words("Chart; scrolls")
    )
    yield tag("h2", model.ledger_heading)
    yield parts.ledger(model, words)


def _wiring(material: Material) -> Iterator[Html]:
    words = material.words
    yield tag("h2", words("Single-line diagram"))
    for sheet in drawing_of(material).sheets:
        picture = raw(sheet_svg(sheet, Linked(name=f"sheet-{sheet.number}", links={})))
        yield tag(
            "div", picture, class_="paper", tabindex="0", role="group", aria_label=words("Diagram; scrolls")
        )
    yield tag("h2", words("Circuits with their checks"))
    yield circuits_table(material.found, words)
    yield tag("h2", words("Charts of fuses and breakers"))
    yield tag("div", *(_curve(each, words) for each in curve_circuits(material.found)), class_="curves")


def _curve(circuit: CurveCircuit, words: Words) -> Html:
    """Return the chart of one device as a picture of its own: several on a page would share their ids."""
    told = curve_sheet(circuit, words)
    coded = b64encode(curve_svg(told.chart, family="sans-serif").encode()).decode()
    picture = tag("img", src=f"data:image/svg+xml;base64,{coded}", alt=told.chart.description, class_="curve")
    return tag("section", tag("h3", told.heading), picture, parts.paragraphs(told.notes))


def _handover(model: ReportModel, guide: GuideModel, words: Words) -> Iterator[Html]:
    yield tag("h2", words("What is open or needs attention"))
    yield parts.findings(model)
    for heading, told in zip(guide.headings[2:4], (guide.first_off, guide.buttons), strict=True):
        if told:
            yield tag("h2", heading)
            yield parts.lines(told)
    if guide.keep_on:
        yield tag("p", guide.keep_on)
    for heading, texts in zip(guide.headings[4:6], (guide.daily, guide.storing), strict=True):
        yield tag("h2", heading)
        yield parts.paragraphs(texts)
    yield tag("h2", guide.headings[6])
    yield parts.paragraphs(dict.fromkeys((*guide.cautions, *model.cautions)))
    yield tag("h2", words("Assumptions"))
    yield parts.paragraphs(model.assumptions)
    yield tag("h2", guide.headings[7])
    yield parts.lines(guide.call)
