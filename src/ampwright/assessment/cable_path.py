"""Rules on the way of cables: entries of enclosures, and bends."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import named, part_source, size_text
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design, DesignPart
from ampwright.job.design_wiring import DesignRun
from ampwright.parts.cable import Cable
from ampwright.parts.hardware import Enclosure
from ampwright.said import said
from ampwright.sources import Source
from ampwright.standards.din_vde_0298_3 import bending

__all__ = ["BEND_RADIUS", "CABLE_ENTRY"]

WIRING = Group.WIRING


def _cable_entry(design: Design, _: Studies) -> Iterator[Finding]:
    unstated: list[str] = []
    for placed, box in design.placed(Enclosure):
        cables = sorted(_entering(design, placed), reverse=True)
        if not cables:
            continue
        if not box.entries:
            unstated.append(placed.id)
            continue
        holes = sorted(
            (entry.cable_max_mm for entry in box.entries for _ in range(entry.count)), reverse=True
        )
        make = partial(Finding, rule="cable-entry", group=WIRING, subject=placed.id, source=part_source(box))
        tight = next(
            (
                number
                for number, (cable_mm, _) in enumerate(cables)
                if number >= len(holes) or holes[number] < cable_mm
            ),
            None,
        )
        if tight is None:
            yield make(
                severity=Severity.PASS,
                message=said(
                    "{part}: {cables_count} cables, each has an entry of its own out of {holes_count}.",
                    part=placed.id,
                    cables_count=len(cables),
                    holes_count=len(holes),
                ),
            )
            continue
        cable_mm, run_id = cables[tight]
        left = size_text(design, holes[tight]) if tight < len(holes) else said("no entry")
        yield make(
            severity=Severity.CONDITION,
            message=said(
                "{part}: {cables_count} cables for {holes_count} entries; {run_id}, {size} thick, is "
                "left with {left}, one cable to each.",
                part=placed.id,
                cables_count=len(cables),
                holes_count=len(holes),
                run_id=run_id,
                size=size_text(design, cable_mm),
                left=left,
            ),
            way_out=said("Add or enlarge entries, each with its gland or grommet."),
            caution=said("A cable that rubs on a bare edge becomes a short circuit."),
        )
    if unstated:
        yield Finding(
            rule="cable-entry",
            group=WIRING,
            severity=Severity.NOT_CHECKED,
            subject=design.job.job.id,
            message=said("The cable entries of {named} are not stated.", named=named(unstated)),
            way_out=said("Measure its holes or glands, or say what will be drilled."),
        )


def _entering(design: Design, box: DesignPart) -> Iterator[tuple[float, str]]:
    """Yield outside diameter and run of each cable through the wall: out and back, one where cores share a sheath."""
    inside = {
        node
        for node, name in enumerate(design.nodes)
        if any(part.inside == box.index and _is_of(name, part.id) for part in design.parts)
    }
    for run in design.runs:
        if (run.start in inside) == (run.end in inside):
            continue
        yield run.cable.outside_mm, run.id
        if run.back_cable is not None and run.cable.core_count == 1:
            yield run.back_cable.outside_mm, run.id


def _is_of(node: str, part_id: str) -> bool:
    return node == part_id or node.startswith(f"{part_id}.")


def _bend_radius(design: Design, _: Studies) -> Iterator[Finding]:
    unsaid = [run for run in design.runs if run.tightest_bend_mm is None and not run.is_inside_module]
    for run in design.runs:
        if run.tightest_bend_mm is None:
            continue
        wanted_mm, source = _wanted_bend(run)
        is_tight = run.tightest_bend_mm < wanted_mm
        yield Finding(
            rule="bend-radius",
            group=WIRING,
            severity=Severity.CONDITION if is_tight else Severity.PASS,
            subject=run.id,
            value=run.tightest_bend_mm,
            limit=wanted_mm,
            unit="mm",
            at_most=False,
            source=source,
            message=said(
                "{run}: its route bends to {size}; its thickest cable wants {size_2} or more.",
                run=run.id,
                size=size_text(design, run.tightest_bend_mm),
                size_2=size_text(design, wanted_mm),
            ),
            way_out=said("Widen the bend, or use a more flexible or a thinner cable in parallel.")
            if is_tight
            else "",
        )
    if unsaid:
        stiffest = max(unsaid, key=lambda run: _wanted_bend(run)[0])
        yield Finding(
            rule="bend-radius",
            group=WIRING,
            severity=Severity.NOT_CHECKED,
            subject=design.job.job.id,
            message=said(
                "The tightest bend of {named} is not said; {stiffest} wants {size} or more.",
                named=named(run.id for run in unsaid),
                stiffest=stiffest.id,
                size=size_text(design, _wanted_bend(stiffest)[0]),
            ),
            way_out=said("Say the tightest bend of each place cables pass."),
        )


def _wanted_bend(run: DesignRun) -> tuple[float, Source]:
    """Return the largest of the radii that a run's cables want, and whose figure it is."""
    cables = [run.cable, *([run.back_cable] if run.back_cable is not None else [])]
    return max((_cable_bend(cable) for cable in cables), key=lambda wanted: wanted[0])


def _cable_bend(cable: Cable) -> tuple[float, Source]:
    if cable.bend_factor is not None:
        return cable.bend_factor * cable.outside_mm, part_source(cable)
    return bending.bend_factor(cable.outside_mm) * cable.outside_mm, bending.SOURCE


CABLE_ENTRY = Rule(
    name="cable-entry",
    group=WIRING,
    asks="Has each cable into an enclosure an entry that it fits?",
    check=_cable_entry,
)
BEND_RADIUS = Rule(
    name="bend-radius",
    group=WIRING,
    asks="Is no cable bent tighter than it stands?",
    check=_bend_radius,
)
