"""Rule: is each part built for the shaking of its place."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.assessment.items import placed_items
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import named, part_source
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.job.design_zone import DesignZone
from ampwright.parts.hardware import BusBar, Enclosure, Inlet, Outlet
from ampwright.said import said
from ampwright.standards.mounting_places.places import mounting_place

__all__ = ["VIBRATION"]

RANK = {"stationary": 0, "body": 1, "engine": 2, "wheel": 3}
"""From calm to rough; the places are those of ISO 16750-3 (contents list read), their order common practice."""
PASSIVE = (BusBar, Enclosure, Inlet, Outlet)
"""Parts without electronics or cells, which are not asked for a class."""
WORDS = {
    "stationary": said("a house"),
    "body": said("a vehicle's body"),
    "engine": said("an engine or gearbox"),
    "wheel": said("an axle or wheel"),
}


def _vibration(design: Design, _: Studies) -> Iterator[Finding]:
    unknown: list[str] = []
    for item in placed_items(design):
        if isinstance(item.part, PASSIVE):
            continue
        if item.zone is None or not item.part.vibration_class:
            unknown.append(item.id)
            continue
        place = _class_of(item.zone)
        is_weak = RANK[item.part.vibration_class] < RANK[place]
        yield Finding(
            rule="vibration",
            group=Group.WIRING,
            severity=Severity.CONDITION if is_weak else Severity.PASS,
            subject=item.id,
            source=part_source(item.part),
            message=said(
                "{item} is built for the shaking of {words}; {zone} shakes like {words_2}.",
                item=item.id,
                words=WORDS[item.part.vibration_class],
                zone=item.zone.id,
                words_2=WORDS[place],
            ),
            way_out=said(
                "Mount it on the body, with dampers where its maker allows, or use a part built for it."
            )
            if is_weak
            else "",
        )
    if unknown:
        yield Finding(
            rule="vibration",
            group=Group.WIRING,
            severity=Severity.NOT_CHECKED,
            subject=design.job.job.id,
            message=said(
                "Whether {named} {what} the shaking of the place is not known: class or place is not said.",
                named=named(unknown),
                what=said("stands") if len(unknown) == 1 else said("stand"),
            ),
            way_out=said("Ask for the tests to ISO 16750-3 or IEC 60068-2-6 and -64."),
        )


def _class_of(zone: DesignZone) -> str:
    """Return what shakes a place: as said, else what is usual for its kind."""
    return zone.written.vibration or mounting_place(zone.kind).vibration_class


VIBRATION = Rule(
    name="vibration",
    group=Group.WIRING,
    asks="Is each part built for the shaking of its place?",
    check=_vibration,
)
