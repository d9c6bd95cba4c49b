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
from ampwright.standards.mounting_places.places import mounting_place

__all__ = ["VIBRATION"]

RANK = {"stationary": 0, "body": 1, "engine": 2, "wheel": 3}
"""From calm to rough; the places are those of ISO 16750-3 (contents list read), their order common practice."""
PASSIVE = (BusBar, Enclosure, Inlet, Outlet)
"""Parts without electronics or cells, which are not asked for a class."""
WORDS = {
    "stationary": "a house",
    "body": "a vehicle's body",
    "engine": "an engine or gearbox",
    "wheel": "an axle or wheel",
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
            message=f"{item.id} is built for the shaking of {WORDS[item.part.vibration_class]}; {item.zone.id} shakes like "
            f"{WORDS[place]}.",
            way_out="Mount it on the body, with dampers where its maker allows, or use a part built for it."
            if is_weak
            else "",
        )
    if unknown:
        yield Finding(
            rule="vibration",
            group=Group.WIRING,
            severity=Severity.NOT_CHECKED,
            subject=design.job.job.id,
            message=f"Whether {named(unknown)} {'stands' if len(unknown) == 1 else 'stand'} the shaking of the place is not "
            "known: class or place is not said.",
            way_out="Ask for the tests to ISO 16750-3 or IEC 60068-2-6 and -64.",
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
