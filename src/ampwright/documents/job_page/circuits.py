"""Every circuit of the job with its devices, its current and what the checks say of it, as one table."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.assessment.result import Assessment
from ampwright.documents.cabling.wording import cable_size_text, length_text, written_ends
from ampwright.documents.quantity_text import UNIT_SPACE
from ampwright.documents.single_file.html import Html, joined, tag
from ampwright.documents.words.words import Words, noted
from ampwright.findings import Finding, Severity
from ampwright.job.design_wiring import DesignRun

__all__ = ["circuits_table"]

HEADS = (
    noted("Circuit"),
    noted("From"),
    noted("To"),
    noted("Cable"),
    noted("Devices"),
    noted("Largest current"),
    noted("Checks"),
)


def circuits_table(found: Assessment, words: Words) -> Html:
    """Return the table of all circuits."""
    heads = tuple(words(head) for head in HEADS)
    rows = (_row(found, run, heads, words) for run in found.design.runs)
    head = tag("thead", tag("tr", *(tag("th", each, scope="col") for each in heads)))
    return tag("table", head, tag("tbody", *rows), class_="stack circuits")


def _row(found: Assessment, run: DesignRun, heads: tuple[str, ...], words: Words) -> Html:
    design, units = found.design, found.design.job.job.units
    start, end = written_ends(design, run)
    cable = cable_size_text(run.cable, words, units=units)
    devices = ", ".join(f"{each.id} {each.part.rating_a:g}{UNIT_SPACE}A" for each in run.devices)
    cells = (
        start,
        end,
        f"{cable}, {length_text(run.length_m, words, units=units)}",
        devices or words("none of its own"),
        f"{words.number(float(found.network.peak_a[run.index]))}{UNIT_SPACE}A",
        joined(*_checks(found, run, words)),
    )
    labelled = (tag("td", cell, data_label=label) for label, cell in zip(heads[1:], cells, strict=True))
    return tag("tr", tag("th", run.id, scope="row"), *labelled)


def _checks(found: Assessment, run: DesignRun, words: Words) -> Iterator[Html]:
    subjects = {run.id, *(device.id for device in run.devices)}
    own = [each for each in found.findings if each.subject in subjects]
    passed = sum(each.severity == Severity.PASS for each in own)
    yield from (_heavy(each, words) for each in own if each.severity != Severity.PASS)
    if passed:
        yield tag("p", words("{count} passed", count=passed))
    elif not own:
        yield tag("p", words("no check speaks of it"))


def _heavy(finding: Finding, words: Words) -> Html:
    name = tag("b", f"{words(str(finding.severity))}: ")
    override = f" {words.said(finding.override.sentence)}" if finding.override is not None else ""
    return tag("p", name, f"{words.said(finding.message)}{override}")
