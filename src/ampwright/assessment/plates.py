"""Rules on gear plates and fronts: parts stay on the plate and apart, and keep the air they want."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ampwright.assessment.parts_fit import GIVES_HEAT
from ampwright.assessment.plate_layout import (
    TOUCH_MM,
    PlateItem,
    PlateLayout,
    gap_mm,
    plate_layout,
)
from ampwright.assessment.rule import Rule, Studies
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.said import said
from ampwright.sources import Source

__all__ = ["PLATE_AIR", "PLATE_LAYOUT"]

WRITTEN = Source(document="job file", place="plates and part sizes")
WANTED = Source(document="part data", place="free air")
ELSEWHERE = said("Move it, take a larger plate, or put a part elsewhere.")


def _plate_layout(design: Design, _: Studies) -> Iterator[Finding]:
    for plate in design.job.plate:
        layout = plate_layout(design, plate)
        make = partial(Finding, rule="plate-layout", group=Group.USE, source=WRITTEN)
        troubles = tuple(_troubles(layout))
        for subject, depth_mm, message in troubles:
            yield make(
                subject=subject,
                severity=Severity.FAIL,
                message=message,
                value=depth_mm,
                limit=0.0,
                unit="mm",
                way_out=ELSEWHERE,
            )
        for name in layout.unsized:
            yield make(
                subject=name,
                severity=Severity.NOT_CHECKED,
                message=said(
                    "Its size is not stated, so whether it fits plate {plate} was not checked.",
                    plate=plate.id,
                ),
                way_out=said("Give length_mm, width_mm and height_mm of the part."),
            )
        for name in layout.unplaced:
            yield make(
                subject=name,
                severity=Severity.NOT_CHECKED,
                message=said(
                    "No place for it was found on plate {plate} beside the others; another arrangement may "
                    "have one.",
                    plate=plate.id,
                ),
                way_out=said("Give x_mm and y_mm of the parts yourself, or take a larger plate."),
            )
        if not troubles and not layout.unsized and not layout.unplaced:
            count = len(layout.items)
            parts = said("1 part is") if count == 1 else said("{count} parts are", count=count)
            yield make(
                subject=plate.id,
                severity=Severity.PASS,
                message=said(
                    "Plate {plate}, {width_mm:g} x {height_mm:g} mm: {parts} inside its edges and apart.",
                    plate=plate.id,
                    width_mm=plate.width_mm,
                    height_mm=plate.height_mm,
                    parts=parts,
                ),
            )


def _troubles(layout: PlateLayout) -> Iterator[tuple[str, float, str]]:
    """Yield the part, by how much, and what is wrong: beyond the edge, or over another."""
    plate = layout.plate
    for number, item in enumerate(layout.items):
        beyond = max(
            plate.edge_mm - item.x_mm,
            plate.edge_mm - item.y_mm,
            item.x_mm + item.width_mm - plate.width_mm + plate.edge_mm,
            item.y_mm + item.height_mm - plate.height_mm + plate.edge_mm,
        )
        if beyond > TOUCH_MM:
            yield (
                item.placed.id,
                beyond,
                said(
                    "On plate {plate} it reaches {beyond:.0f} mm into the {edge_mm:g} mm that stay free "
                    "along the edge.",
                    plate=plate.id,
                    beyond=beyond,
                    edge_mm=plate.edge_mm,
                ),
            )
        for other in layout.items[number + 1 :]:
            depth = -gap_mm(item, other)
            if depth > TOUCH_MM:
                yield (
                    item.placed.id,
                    depth,
                    said(
                        "On plate {plate} it lies over {part} by {depth:.0f} mm.",
                        plate=plate.id,
                        part=other.placed.id,
                        depth=depth,
                    ),
                )


def _plate_air(design: Design, _: Studies) -> Iterator[Finding]:
    for plate in design.job.plate:
        layout = plate_layout(design, plate)
        for item in layout.items:
            part = item.placed.part
            if isinstance(part, GIVES_HEAT) or part.air_gap_mm is not None:
                yield _air(layout, item)


def _air(layout: PlateLayout, item: PlateItem) -> Finding:
    make = partial(Finding, rule="plate-air", group=Group.USE, subject=item.placed.id, source=WANTED)
    wanted = item.placed.part.air_gap_mm
    if wanted is None:
        return make(
            severity=Severity.NOT_CHECKED,
            message=said("The free air it wants is not stated."),
            way_out=said("Give air_gap_mm of the part from its manual."),
        )
    gaps = [(gap_mm(item, other), other.placed.id) for other in layout.items if other is not item]
    if not gaps:
        return make(
            severity=Severity.PASS, message=said("Nothing else is on plate {plate}.", plate=layout.plate.id)
        )
    clear, near = max(min(gaps)[0], 0.0), min(gaps)[1]
    is_short = clear < wanted - TOUCH_MM
    return make(
        severity=Severity.CONDITION if is_short else Severity.PASS,
        message=said(
            "On plate {plate} {clear:.0f} mm of air are left towards {near}; {wanted:g} mm are wanted.",
            plate=layout.plate.id,
            clear=clear,
            near=near,
            wanted=wanted,
        ),
        value=clear,
        limit=wanted,
        unit="mm",
        at_most=False,
        way_out=ELSEWHERE if is_short else "",
    )


PLATE_LAYOUT = Rule(
    name="plate-layout",
    group=Group.USE,
    asks="Do the parts of each plate stay on it, and beside one another?",
    check=_plate_layout,
)
PLATE_AIR = Rule(
    name="plate-air",
    group=Group.USE,
    asks="Has each device that gives heat the free air it wants on its plate?",
    check=_plate_air,
)
