"""Time-current charts of a design on paper: one for each device, several to a page, as PDF.

Notes give times and currents as held; whether a circuit passes is said by the findings, not here.
"""

from __future__ import annotations

import dataclasses
import math
from typing import Any

from ampwright.assessment.result import Assessment
from ampwright.documents.curve_matrix import device_selectivity, matrix_of
from ampwright.documents.curve_model import curve_chart, weakest_s
from ampwright.documents.curve_records import CurveCable, CurveCircuit, CurveDevice, CurvePages, CurveSheet
from ampwright.documents.curve_scale import MOST_A
from ampwright.documents.curve_svg import curve_svg
from ampwright.documents.curve_view import curve_circuits
from ampwright.documents.curve_words import amperes, time_text
from ampwright.documents.override_view import override_heading, override_lines
from ampwright.documents.report_facts import revision_line
from ampwright.documents.report_model import DRAFT
from ampwright.documents.typst_pdf import as_data, typst_pdf
from ampwright.documents.words.words import Words, english, noted
from ampwright.standards.device_bands.band import band_steps_a, device_band
from ampwright.standards.device_bands.classes import device_limits
from ampwright.standards.device_bands.discrimination import discrimination

__all__ = ["curve_pages", "curve_sheets", "curves_pdf", "page_data", "pictures", "sheet_of"]

JUST_ABOVE = 1.0 + 1e-9
"""A shortest time falls just above its step."""
LABELS = {
    "charts": noted("Time-current charts"),
    "how": noted(
        "Time upwards, current across. A device opens somewhere within its band; the steps are the points of its table, "
        "nothing between them is made up. The band holds from the coldest air of the job to the hottest air along the run. "
        "The cable limit starts from the insulation's own limit; up to 5 s no heat is given off."
    ),
    "none": noted("No fuse or breaker stands in a run of this job, so there is nothing to draw."),
    "first": noted("Which opens first"),
    "lower": noted("lower device"),
    "faults": noted("faults where it stands"),
    "below": noted("below"),
}
"""Fixed words of charts and matrix by the names under which the template reads them."""


def curve_sheets(assessment: Assessment, words: Words | None = None) -> tuple[CurveSheet, ...]:
    """Return one chart with its notes for each device that protects a run; in English where no words are given."""
    return tuple(sheet_of(circuit, words) for circuit in curve_circuits(assessment))


def sheet_of(circuit: CurveCircuit, words: Words | None = None) -> CurveSheet:
    """Return the chart of one circuit with its heading and notes; in English where no words are given."""
    words = words or english()
    return CurveSheet(
        heading=words("{device} protects {runs}", device=circuit.own.id, runs=", ".join(circuit.runs)),
        chart=curve_chart(circuit, words),
        notes=tuple(note for note in _notes(circuit, words) if note),
    )


def _notes(circuit: CurveCircuit, words: Words) -> tuple[str, ...]:
    missing = ", ".join(circuit.unknown_runs)
    smallest, largest = words("Smallest fault"), words("Largest fault")
    return (
        _at_fault(circuit, smallest, {each: each.far_fault_a for each in circuit.cables}, words),
        _at_fault(circuit, largest, {each: each.fault_a for each in circuit.cables}, words),
        "" if circuit.far_fault_a is not None else words("The smallest fault current is not known."),
        words("No capacity or short-time limit is known for {runs}; its limit is not drawn.", runs=missing)
        if missing
        else "",
        _above(circuit, words),
        _source(circuit.own, words),
    )


def _at_fault(circuit: CurveCircuit, word: str, faults: dict[CurveCable, float | None], words: Words) -> str:
    """Say when the device opens and how long the cable endures it, for the run that has the least margin."""
    found: list[tuple[float, str]] = []
    for cable, current_a in faults.items():
        if current_a is None or current_a <= 0.0:
            continue
        band = device_band(circuit.own.rated, current_a=current_a)
        longest_s = None if band is None else band.opening_max_s
        if band is None:
            opens = words("no opening time is held")
        elif longest_s is None:
            opens = words("it need not open")
        else:
            opens = words("open after at most {time}", time=time_text(longest_s, words))
        endures_s = weakest_s((cable,), current_a)
        text = words(
            "{fault} of {run}, {current}: {opens}; the cable endures {time}.",
            fault=word,
            run=cable.run,
            current=amperes(current_a, words),
            opens=opens,
            time=time_text(endures_s, words),
        )
        found.append((endures_s / (math.inf if longest_s is None else longest_s), text))
    return min(found, key=_margin)[1] if found else ""


def _margin(entry: tuple[float, str]) -> float:
    """Sort key; a cable that endures for ever what need not be opened has all the margin there is."""
    return math.inf if math.isnan(entry[0]) else entry[0]


def _above(circuit: CurveCircuit, words: Words) -> str:
    """Say up to which current the device opens before the one above it can."""
    if circuit.upstream is None:
        return ""
    own, upstream = circuit.own.rated, circuit.upstream.rated
    steps = sorted({*band_steps_a(own), *band_steps_a(upstream)})
    asked = {each for step in steps for each in (step, step * JUST_ABOVE)} | {MOST_A}
    currents = sorted(each for each in asked if each <= MOST_A)
    found = discrimination(
        [device_band(upstream, current_a=each) for each in currents],
        [device_band(own, current_a=each) for each in currents],
        currents_a=currents,
    )
    name = circuit.upstream.id
    if found.from_a is None:
        return words("Nothing held says that it opens before {device}.", device=name)
    if found.is_total:
        return words("It opens before {device} at every current drawn.", device=name)
    from_a = amperes(found.from_a, words)
    if found.up_to_a is None:
        return words(
            "Nothing held says that it opens before {device}: both may open from {low}.",
            device=name,
            low=from_a,
        )
    return words(
        "It opens before {device} from {low} up to {high}; above, both may.",
        device=name,
        low=from_a,
        high=amperes(found.up_to_a, words),
    )


def _source(device: CurveDevice, words: Words) -> str:
    """Say where the times come from; the standing is the weakest of all of them."""
    if not band_steps_a(device.rated):
        return words(
            "No opening times are held for {kind} of this rating: its band is not drawn.",
            kind=words(device.kind),
        )
    own = device.rated.points
    source = own[0].source if own else device_limits(device.rated.device_class).source
    parts = ", ".join(part for part in (source.document, source.edition) if part)
    return words("Times: {source}, {standing}.", source=parts, standing=words(source.standing))


def curve_pages(assessment: Assessment, words: Words | None = None) -> CurvePages:
    """Return the charts of a design and the matrix of its devices; in English where no words are given."""
    words = words or english()
    return CurvePages(
        labels={name: words(text) for name, text in LABELS.items()},
        sheets=curve_sheets(assessment, words),
        matrix=matrix_of(device_selectivity(assessment), words),
    )


def page_data(pages: CurvePages) -> dict[str, Any]:
    """Return charts and matrix as plain values for a template, the pictures left out."""
    return {
        "labels": pages.labels,
        "sheets": [
            {
                "heading": sheet.heading,
                "alt": sheet.chart.description,
                "notes": sheet.notes,
                "height_mm": sheet.chart.height_mm,
                "width_mm": sheet.chart.width_mm,
            }
            for sheet in pages.sheets
        ],
        "matrix": dataclasses.asdict(pages.matrix),
    }


def pictures(pages: CurvePages) -> dict[str, str]:
    """Return the charts as SVG texts by the names under which a template reads them."""
    return {f"chart-{i}": curve_svg(sheet.chart) for i, sheet in enumerate(pages.sheets)}


def curves_pdf(assessment: Assessment, words: Words | None = None) -> bytes:
    """Return the charts and the matrix of a design as a tagged PDF; the same assessment gives the same bytes."""
    words = words or english()
    about = assessment.design.job.job
    pages = curve_pages(assessment, words)
    page = {
        "language": words.language,
        "page_words": words("page {page} of {count}"),
        "paper": assessment.design.region.paper,
        "overrides_heading": override_heading(assessment.overridden, assessment.on, words),
        "overrides": override_lines(assessment.overridden, job_id=about.id, words=words),
        "title": words("{title} - time-current charts", title=about.title),
        "author": about.author,
        "draft": "" if assessment.wiring_verdict == "no fault found" else words(DRAFT),
        "running": revision_line(about, words),
        **page_data(pages),
    }
    data = {"page": as_data(page, language=words.language), **pictures(pages)}
    return typst_pdf("curve_sheets.typ", data, date=about.date.isoformat())
