"""Rule on the roof: whether the panels go on its free rectangles."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ampwright.assessment.items import Item, placed_items, size_mm
from ampwright.assessment.packing import has_tiling
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import named, size_text
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.job.design_zone import DesignZone
from ampwright.job.quantity import likely_value
from ampwright.parts.panel import Panel
from ampwright.said import said
from ampwright.sources import Source

__all__ = ["PANELS_FIT"]

MEASURED = Source(document="job file", place="free rectangles of the roof")
M2_MM2 = 1e6


def _panels_fit(design: Design, _: Studies) -> Iterator[Finding]:
    missing: list[str] = []
    panels = [item for item in placed_items(design) if isinstance(item.part, Panel)]
    for zone in design.zones:
        here = [item for item in panels if item.is_in(zone) and zone.kind in {"roof", "outside"}]
        if not here:
            continue
        unsized = [item.id for item in here if size_mm(item.part) is None]
        missing += [said("the size of {name}", name=name) for name in unsized]
        if not zone.written.free:
            missing.append(said("the free rectangles of {zone}", zone=zone.id))
        elif not unsized:
            yield from _roof(design, zone, here)
    if missing:
        yield Finding(
            rule="panels-fit",
            group=Group.USE,
            severity=Severity.NOT_CHECKED,
            subject=design.job.job.id,
            message=said(
                "It is not known whether the panels fit: not said is {named}.", named=named(missing)
            ),
            way_out=said("Measure the flat, free rectangles between hatches, vents and bars."),
        )


def _roof(design: Design, zone: DesignZone, panels: list[Item]) -> Iterator[Finding]:
    make = partial(Finding, rule="panels-fit", group=Group.USE, subject=zone.id, source=MEASURED)
    gap = max(item.part.air_gap_mm or 0.0 for item in panels)
    rooms = tuple(
        (likely_value(each.length_mm) + gap, likely_value(each.width_mm) + gap) for each in zone.written.free
    )
    sheets = tuple(
        (item.part.length_mm + gap, item.part.width_mm + gap) for item in panels for _ in range(item.count)
    )
    lonely = [item for item in panels if not _goes_alone(item, rooms, gap)]
    for item in lonely:
        longest = max(max(room) for room in rooms) - gap
        yield make(
            severity=Severity.FAIL,
            subject=item.id,
            message=said(
                "{item} measures {size} by {size_2} and goes on no free rectangle of {zone}, whose "
                "longest side is {size_3}.",
                item=item.id,
                size=size_text(design, item.part.length_mm),
                size_2=size_text(design, item.part.width_mm),
                zone=zone.id,
                size_3=size_text(design, longest),
            ),
            way_out=said("Use a smaller panel."),
        )
    if lonely:
        return
    area, free = (sum(a * b for a, b in flats) / M2_MM2 for flats in (sheets, rooms))
    found = has_tiling(sheets, rooms)
    what = said("1 panel") if len(sheets) == 1 else said("{sheets_count} panels", sheets_count=len(sheets))
    if found is None:
        yield make(
            severity=Severity.NOT_CHECKED,
            message=said(
                "{zone}: {what} for {free:.1f} m² of free roof; too many arrangements to try them all.",
                zone=zone.id,
                what=what,
                free=free,
            ),
            way_out=said("Lay them out on a drawing."),
        )
    elif found:
        yield make(
            severity=Severity.PASS,
            value=area,
            limit=free,
            unit="m²",
            message=said(
                "{zone}: {area:.1f} m² of panel, {what}, on {free:.1f} m² of free roof, side by side.",
                zone=zone.id,
                area=area,
                what=what,
                free=free,
            ),
        )
    else:
        too_much = area > free
        yield make(
            severity=Severity.FAIL,
            value=area if too_much else None,
            limit=free if too_much else None,
            unit="m²" if too_much else "",
            message=said(
                "{zone}: {area:.2f} m² of panel, {what}, do not go on its free rectangles of {free:.2f} m²",
                zone=zone.id,
                area=area,
                what=what,
                free=free,
            )
            + ("." if too_much else said("; all arrangements were tried.")),
            way_out=said("Use fewer or smaller panels."),
        )


def _goes_alone(item: Item, rooms: tuple[tuple[float, float], ...], gap: float) -> bool:
    long, short = sorted((item.part.length_mm + gap, item.part.width_mm + gap), reverse=True)
    return any(long <= max(room) and short <= min(room) for room in rooms)


PANELS_FIT = Rule(
    name="panels-fit",
    group=Group.USE,
    asks="Do the panels go on the free rectangles of the roof, side by side?",
    check=_panels_fit,
)
