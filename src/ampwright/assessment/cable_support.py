"""Rule: is each cable held often enough, and kept from the edges of what it goes through.

It judges what the job says of clips and openings; what is not said is only named.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import named, size_text
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.job.quantity import known_value
from ampwright.job.wiring import Run
from ampwright.said import said, said_together
from ampwright.sources import Source, own_choice

__all__ = ["CABLE_SUPPORT"]

EDGE_SOURCE = Source(document="33 CFR 183.445", edition="text in force", place="(a), law of boats")
SPACING_SOURCE = Source(
    document="46 CFR 143.575", edition="text in force", place="(a)(2), 48 inch, law of towing vessels"
)
SPACING_MAX_MM = 1219.2
"""48 inch: longest distance of hangers (46 CFR 143.575(a)(2))."""
SPACING_USUAL_MM = 450.0
"""Own choice, docs/choices.md#clip-spacing."""


def _cable_support(design: Design, _: Studies) -> Iterator[Finding]:
    make = partial(Finding, rule="cable-support", group=Group.WIRING)
    unsaid: list[str] = []
    for run in design.job.run:
        spacing_mm = known_value(run.clip_spacing_mm)
        if spacing_mm is None and not run.passes:
            unsaid.append(run.id)
            continue
        yield from _edges(run, make)
        if spacing_mm is not None:
            yield _spacing(design, run, spacing_mm, make)
    if unsaid:
        yield make(
            severity=Severity.ADVICE,
            subject=design.job.job.id,
            message=said(
                "How {runs} are held and pass through walls is not said: a cable that chafes burns.",
                runs=named(unsaid),
            ),
            source=EDGE_SOURCE,
            way_out=said(
                "A grommet or conduit at every edge, a clip at least every {spacing}.",
                spacing=size_text(design, SPACING_USUAL_MM),
            ),
        )


def _edges(run: Run, make: partial[Finding]) -> Iterator[Finding]:
    if run.passes:
        is_bare = "bare" in run.passes
        yield make(
            severity=Severity.CONDITION if is_bare else Severity.PASS,
            subject=run.id,
            message=said("{run} goes over a bare edge: shaking cuts through its insulation.", run=run.id)
            if is_bare
            else said(
                "{run} is kept from every edge it passes ({fromkeys}).",
                run=run.id,
                fromkeys=said_together(dict.fromkeys(run.passes), between=", "),
            ),
            source=EDGE_SOURCE,
            way_out=said("A grommet, gland or conduit at each opening.") if is_bare else "",
            caution=said("A cable that chafes through to the metal burns.") if is_bare else "",
        )


def _spacing(design: Design, run: Run, spacing_mm: float, make: partial[Finding]) -> Finding:
    is_far, is_wide = spacing_mm > SPACING_MAX_MM, spacing_mm > SPACING_USUAL_MM
    limit_mm = SPACING_MAX_MM if is_far else SPACING_USUAL_MM
    return make(
        severity=Severity.CONDITION if is_far else Severity.ADVICE if is_wide else Severity.PASS,
        subject=run.id,
        message=said(
            "{run} is held every {size}; {size_2} {what}.",
            run=run.id,
            size=size_text(design, spacing_mm),
            size_2=size_text(design, limit_mm),
            what=said("is the most of a law on ships")
            if is_far
            else said("or less is usual where a vehicle shakes"),
        ),
        value=spacing_mm,
        limit=limit_mm,
        unit="mm",
        source=SPACING_SOURCE if is_far else own_choice("clip-spacing"),
        way_out=said("Set more clips; close to each terminal and each bend.") if is_wide else "",
    )


CABLE_SUPPORT = Rule(
    name="cable-support",
    group=Group.WIRING,
    asks="Is each cable held often enough, and kept from the edges it passes?",
    check=_cable_support,
)
