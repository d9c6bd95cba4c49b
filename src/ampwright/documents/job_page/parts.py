"""Sections of the job page that are lines, lists and tables of what other documents say too."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ampwright.documents.handover.guide import Bar, GuideModel, Line
from ampwright.documents.report_records import FindingLine, ReportModel, Sign, VerdictBlock
from ampwright.documents.single_file.html import Html, tag
from ampwright.documents.words.words import Words

__all__ = ["facts", "findings", "how_long", "ledger", "lines", "paragraphs", "verdict"]

SHAPES: dict[Sign, str] = {"good": "✓", "condition": "!", "bad": "✕", "open": "?", "advice": "i"}
"""A shape for each verdict, so that colour is never needed."""


def verdict(block: VerdictBlock) -> Html:
    """Return one of the two verdicts."""
    shape = tag("span", SHAPES[block.sign], class_="shape", aria_hidden="true")
    return tag(
        "section",
        tag("h2", block.heading),
        tag("p", shape, block.word, class_="word"),
        tag("p", block.sentence),
        tag("p", block.rules, class_="quiet"),
        class_=f"verdict is-{block.sign}",
    )


def facts(model: ReportModel) -> Html:
    """Return the title block."""
    return tag(
        "dl", *(each for fact in model.facts for each in (tag("dt", fact.label), tag("dd", fact.text)))
    )


def how_long(guide: GuideModel, words: Words) -> Html:
    """Return how long a full battery runs each thing alone."""
    heads = (words("Load"), words("Length"), words("How long"))
    head = tag("thead", tag("tr", *(tag("th", each, scope="col") for each in heads)))
    return tag("table", head, tag("tbody", *(_bar(each) for each in guide.bars)), class_="how-long")


def _bar(bar: Bar) -> Html:
    length = tag(
        "span",
        class_="length must" if bar.is_essential else "length",
        style=f"width: {100.0 * bar.part_frac:.1f}%",
    )
    text = f"{bar.text} …" if bar.is_cut else bar.text
    name = tag("b", bar.name) if bar.is_essential else bar.name
    return tag("tr", tag("th", name, scope="row"), tag("td", length, aria_hidden="true"), tag("td", text))


def ledger(model: ReportModel, words: Words) -> Html:
    """Return the energy of a day, in and out."""
    heads = (words("What"), words("Wh a day"), words("Share"))
    head = tag("thead", tag("tr", *(tag("th", each, scope="col") for each in heads)), class_="unseen")
    return tag("table", head, tag("tbody", *_ledger_rows(model)), class_="ledger")


def _ledger_rows(model: ReportModel) -> Iterator[Html]:
    for line in model.ledger:
        if line.kind == "heading":
            yield tag("tr", tag("th", line.name, scope="rowgroup", colspan="3"), class_="heading")
        else:
            numbers = (tag("td", each, class_="num") for each in (f"{line.energy} Wh", line.share))
            yield tag("tr", tag("th", line.name, scope="row"), *numbers, class_=line.kind)


def findings(model: ReportModel) -> Html:
    """Return what failed, is open or is advised."""
    if not model.findings:
        return tag("p", model.findings_note)
    return tag("ul", *(tag("li", *_finding(each)) for each in model.findings))


def _finding(line: FindingLine) -> Iterator[Html]:
    yield tag("b", f"{line.severity}: ")
    yield tag("span", f"{line.rule}. {line.message} {line.way_out}".strip())
    if line.caution:
        yield tag("p", tag("b", line.caution))
    if line.note:
        yield tag("p", line.note, class_="quiet")


def lines(named: Iterable[Line]) -> Html:
    """Return names with what is said of them."""
    return tag("ul", *(tag("li", tag("b", each.name), f": {each.text}") for each in named))


def paragraphs(texts: Iterable[str]) -> Html:
    """Return texts as a list."""
    return tag("ul", *(tag("li", text) for text in texts))
