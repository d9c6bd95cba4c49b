"""The single-line diagram of a job on a page, and what is known of the circuit or part that was chosen on it.

Answers what can be chosen, which findings speak of it and where its fields are; the drawing is that of the documents.
"""

from __future__ import annotations

from collections.abc import Iterator
from urllib.parse import urlencode

from django.utils.translation import gettext

from ampwright.assessment.result import Assessment
from ampwright.documents.curve_sheets import sheet_of
from ampwright.documents.curve_svg import curve_svg
from ampwright.documents.curve_view import curve_circuits
from ampwright.documents.curve_words import plain_text
from ampwright.documents.diagram.compose import Subject, subject_drawing
from ampwright.documents.diagram.svg import Linked, sheet_svg
from ampwright.documents.quantity_text import quantity_text
from ampwright.findings import Finding
from ampwright.job.design import Design
from ampwright.job.design_wiring import DesignRun
from ampwright.job.nodes import SECOND_NODE, STARTER_NODE
from ampwright.records import record
from ampwright.web.answers import Live
from ampwright.web.signs import finding_sign
from ampwright.web.words.reader import reader_words

__all__ = ["Check", "Chosen", "Curve", "chosen_thing", "diagram_sheets"]


@record
class Check:
    """One finding in figures."""

    finding: Finding
    """The finding."""
    sign: str
    """Shape of its severity."""
    value: str
    """The figure found."""
    limit: str
    """The figure it is held against."""
    rule: str
    """The rule in the reader's words."""
    text: str
    """What was found and what would mend it."""
    caution: str
    """A hazard; may be empty."""
    override: str
    """Who took it on; may be empty."""


@record
class Curve:
    """The time-current chart of a circuit."""

    picture: str
    """The chart as SVG."""
    heading: str
    """Device and what it protects."""
    notes: tuple[str, ...]
    """What the chart says at the two faults."""


@record
class Chosen:
    """What was chosen on the diagram."""

    kind: str
    """Circuit, load or part."""
    name: str
    """Its name in the job."""
    facts: tuple[tuple[str, str], ...]
    """What it is, as pairs of word and figure."""
    fields: tuple[tuple[str, str], ...]
    """Name and path of the rows of the job that say it; empty inside a power module."""
    checks: tuple[Check, ...]
    """Findings that speak of it, heaviest first."""
    curve: Curve | None
    """Time-current chart; None where no device protects it, or it is no circuit."""


def diagram_sheets(live: Live, chosen: str) -> tuple[str, ...]:
    """Return the sheets of the diagram as SVG, every circuit, load and part a link."""
    found = live.assessment
    if found is None:
        return ()
    is_proved = live.answer is not None and live.answer.wiring_verdict == "no fault found"
    subject = Subject(
        design=found.design,
        words=reader_words(),
        is_draft=not is_proved,
        override_count=len(live.answer.overridden if live.answer is not None else found.overridden),
    )
    things = dict(_choices(found.design))
    silent = frozenset(name for name in things if name.startswith("device-"))
    marked = frozenset(name for name, thing in things.items() if thing == chosen)
    return tuple(
        sheet_svg(
            sheet,
            Linked(
                name=f"sheet-{sheet.number}",
                links={name: f"?{urlencode({'circuit': thing})}#chosen" for name, thing in things.items()},
                chosen=marked,
                silent=silent,
            ),
        )
        for sheet in subject_drawing(subject).sheets
    )


def _choices(design: Design) -> Iterator[tuple[str, str]]:
    """Yield the name of each group of the drawing that can be chosen, and what is then chosen."""
    for run in design.runs:
        yield f"run-{run.id}", run.id
        for device in run.devices:
            yield f"device-{device.id}", run.id
    for name in (STARTER_NODE, SECOND_NODE):
        yield f"part-{name}", name
    for part in design.parts:
        yield f"part-{part.id}", part.id
    for load in design.loads:
        yield f"load-{load.id}", load.id


def chosen_thing(found: Assessment, name: str) -> Chosen | None:
    """Return what is known of a circuit, load or part; None where there is none of that name."""
    design = found.design
    run = next((each for each in design.runs if each.id == name), None)
    if run is not None:
        return _circuit(found, run)
    if name not in {thing for _, thing in _choices(design)}:
        return None
    kind = gettext("Load") if any(load.id == name for load in design.loads) else gettext("Part")
    own = tuple(path for path in (_row(found, "load", name), _row(found, "part", name)) if path)
    fields = own or ((("vehicle", "vehicle"),) if name in (STARTER_NODE, SECOND_NODE) else ())
    subjects = {name, f"{name}.in", f"{name}.out"}
    runs = ", ".join(each.id for each in design.runs if _touches(design, each, name))
    facts = ((gettext("Cable runs"), runs),) if runs else ()
    return Chosen(
        kind=kind, name=name, facts=facts, fields=fields, checks=_checks(found, subjects), curve=None
    )


def _touches(design: Design, run: DesignRun, name: str) -> bool:
    return any(design.nodes[end].partition(".")[0] == name for end in (run.start, run.end))


def _circuit(found: Assessment, run: DesignRun) -> Chosen:
    design, units = found.design, found.design.job.job.units
    devices = [f"{each.id} {quantity_text(each.part.rating_a, 'A')}" for each in run.devices]
    facts = (
        (gettext("From"), design.nodes[run.start]),
        (gettext("To"), design.nodes[run.end]),
        (gettext("Cable"), quantity_text(run.cable.area_mm2, "mm²", units=units)),
        (gettext("Length, one way"), quantity_text(run.length_m, "m", units=units)),
        (gettext("Devices"), ", ".join(devices) or gettext("none")),
        (gettext("Largest current in use"), quantity_text(float(found.network.peak_a[run.index]), "A")),
    )
    ends = [design.nodes[end].partition(".")[0] for end in (run.start, run.end)]
    rows = [
        _row(found, "run", run.id),
        *(_row(found, table, end) for end in ends for table in ("load", "part")),
    ]
    return Chosen(
        kind=gettext("Circuit"),
        name=run.id,
        facts=facts,
        fields=tuple(row for row in rows if row),
        checks=_checks(found, {run.id, *(device.id for device in run.devices)}),
        curve=_curve(found, run),
    )


def _row(found: Assessment, table: str, name: str) -> tuple[str, str] | None:
    """Return name and path of the row of a table of the job; None where it has none of that name."""
    rows = getattr(found.design.job, table)
    index = next((index for index, each in enumerate(rows) if each.id == name), None)
    return (name, f"{table}.{index}") if index is not None else None


def _checks(found: Assessment, subjects: set[str]) -> tuple[Check, ...]:
    units, words = found.design.job.job.units, reader_words()
    return tuple(
        Check(
            finding=each,
            sign=finding_sign(each.severity),
            value="" if each.value is None else words.quantity(each.value, each.unit, units=units),
            limit="" if each.limit is None else words.quantity(each.limit, each.unit, units=units),
            rule=words.rule(each.rule),
            text=f"{words.said(each.message)} {words.said(each.way_out)}".strip(),
            caution=words.said(each.caution),
            override=words.said(each.override.sentence) if each.override else "",
        )
        for each in found.findings
        if each.subject in subjects
    )


def _curve(found: Assessment, run: DesignRun) -> Curve | None:
    circuit = next((each for each in curve_circuits(found) if plain_text(run.id) in each.runs), None)
    if circuit is None:
        return None
    sheet = sheet_of(circuit)
    return Curve(picture=curve_svg(sheet.chart, family="inherit"), heading=sheet.heading, notes=sheet.notes)
