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
from ampwright.documents.report_model import DRAFT
from ampwright.documents.typst_pdf import as_data, typst_pdf
from ampwright.standards.device_bands.band import band_steps_a, device_band
from ampwright.standards.device_bands.classes import device_limits
from ampwright.standards.device_bands.discrimination import discrimination

__all__ = ["curve_pages", "curve_sheets", "curves_pdf", "page_data", "pictures", "sheet_of"]

JUST_ABOVE = 1.0 + 1e-9
"""A shortest time falls just above its step."""


def curve_sheets(assessment: Assessment) -> tuple[CurveSheet, ...]:
    """Return one chart with its notes for each device that protects a run."""
    return tuple(sheet_of(circuit) for circuit in curve_circuits(assessment))


def sheet_of(circuit: CurveCircuit) -> CurveSheet:
    """Return the chart of one circuit with its heading and notes."""
    return CurveSheet(
        heading=f"{circuit.own.id} protects {', '.join(circuit.runs)}",
        chart=curve_chart(circuit),
        notes=tuple(note for note in _notes(circuit) if note),
    )


def _notes(circuit: CurveCircuit) -> tuple[str, ...]:
    missing = ", ".join(circuit.unknown_runs)
    return (
        _at_fault(circuit, "Smallest fault", {each: each.far_fault_a for each in circuit.cables}),
        _at_fault(circuit, "Largest fault", {each: each.fault_a for each in circuit.cables}),
        "" if circuit.far_fault_a is not None else "The smallest fault current is not known.",
        f"No capacity or short-time limit is known for {missing}; its limit is not drawn." if missing else "",
        _above(circuit),
        _source(circuit.own),
    )


def _at_fault(circuit: CurveCircuit, word: str, faults: dict[CurveCable, float | None]) -> str:
    """Say when the device opens and how long the cable endures it, for the run that has the least margin."""
    found: list[tuple[float, str]] = []
    for cable, current_a in faults.items():
        if current_a is None or current_a <= 0.0:
            continue
        band = device_band(circuit.own.rated, current_a=current_a)
        longest_s = None if band is None else band.opening_max_s
        opens = "it need not open" if longest_s is None else f"open after at most {time_text(longest_s)}"
        opens = "no opening time is held" if band is None else opens
        endures_s = weakest_s((cable,), current_a)
        text = (
            f"{word} of {cable.run}, {amperes(current_a)}: {opens}; the cable endures {time_text(endures_s)}."
        )
        found.append((endures_s / (math.inf if longest_s is None else longest_s), text))
    return min(found, key=_margin)[1] if found else ""


def _margin(entry: tuple[float, str]) -> float:
    """Sort key; a cable that endures for ever what need not be opened has all the margin there is."""
    return math.inf if math.isnan(entry[0]) else entry[0]


def _above(circuit: CurveCircuit) -> str:
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
        return f"Nothing held says that it opens before {name}."
    if found.is_total:
        return f"It opens before {name} at every current drawn."
    if found.up_to_a is None:
        return f"Nothing held says that it opens before {name}: both may open from {amperes(found.from_a)}."
    return f"It opens before {name} from {amperes(found.from_a)} up to {amperes(found.up_to_a)}; above, both may."


def _source(device: CurveDevice) -> str:
    """Say where the times come from; the standing is the weakest of all of them."""
    if not band_steps_a(device.rated):
        return f"No opening times are held for {device.kind} of this rating: its band is not drawn."
    own = device.rated.points
    source = own[0].source if own else device_limits(device.rated.device_class).source
    parts = ", ".join(part for part in (source.document, source.edition) if part)
    return f"Times: {parts}, {source.standing}."


def curve_pages(assessment: Assessment) -> CurvePages:
    """Return the charts of a design and the matrix of its devices."""
    return CurvePages(sheets=curve_sheets(assessment), matrix=matrix_of(device_selectivity(assessment)))


def page_data(pages: CurvePages) -> dict[str, Any]:
    """Return charts and matrix as plain values for a template, the pictures left out."""
    return {
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


def curves_pdf(assessment: Assessment) -> bytes:
    """Return the charts and the matrix of a design as a tagged PDF; the same assessment gives the same bytes."""
    about = assessment.design.job.job
    pages = curve_pages(assessment)
    page = {
        "paper": assessment.design.region.paper,
        "overrides_heading": override_heading(assessment.overridden, assessment.on),
        "overrides": override_lines(assessment.overridden, job_id=about.id),
        "title": f"{about.title} - time-current charts",
        "author": about.author,
        "draft": "" if assessment.wiring_verdict == "no fault found" else DRAFT,
        "running": f"{about.id}, revision {about.revision}, {about.date.isoformat()}.",
        **page_data(pages),
    }
    data = {"page": as_data(page), **pictures(pages)}
    return typst_pdf("curve_sheets.typ", data, date=about.date.isoformat())
