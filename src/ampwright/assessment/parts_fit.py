"""Rule on space: whether the parts go into their places and enclosures with the air they need."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ampwright.assessment.items import Item, placed_items, size_mm
from ampwright.assessment.packing import Size, fits, has_shelf_packing, turned
from ampwright.assessment.rule import Rule, Studies
from ampwright.assessment.wording import named, size_text
from ampwright.findings import Finding, Group, Severity
from ampwright.job.design import Design
from ampwright.job.quantity import known_value
from ampwright.parts.battery import Battery
from ampwright.parts.charger import AlternatorCharger, MainsCharger, PanelController
from ampwright.parts.hardware import Enclosure
from ampwright.parts.inverter import Inverter
from ampwright.parts.kinds import Part
from ampwright.parts.panel import Panel
from ampwright.records import record
from ampwright.said import said
from ampwright.sources import Source, own_choice

__all__ = ["PARTS_FIT"]

GIVES_HEAT = (AlternatorCharger, Inverter, MainsCharger, PanelController)
MEASURED = Source(document="job file", place="free space of the place")
HEIGHT = 2
SIDES = {"length": 0, "width": 1, "height": HEIGHT}
LITRE_MM3 = 1e6


@record
class _Room:
    """A place or enclosure and what goes into it."""

    name: str
    """Id of the zone or enclosure."""
    size: Size | None
    """Its clear size; None = not said."""
    items: tuple[Item, ...]
    """What goes into it."""
    source: Source
    """Where its size comes from."""


def _parts_fit(design: Design, _: Studies) -> Iterator[Finding]:
    missing: list[str] = []
    for room in _rooms(design):
        yield from _upright(room)
        unsized = [item.id for item in room.items if size_mm(item.part) is None]
        airless = [
            item.id
            for item in room.items
            if isinstance(item.part, GIVES_HEAT) and item.part.air_gap_mm is None
        ]
        missing += [said("the size of {name}", name=name) for name in unsized]
        missing += [said("the free air {name} needs", name=name) for name in airless]
        if room.size is None:
            missing.append(said("the free space of {name}", name=room.name))
        else:
            yield from _room(design, room, is_whole=not unsized and not airless)
    homeless = [item.id for item in placed_items(design) if item.zone is None and item.inside < 0]
    if homeless:
        missing.append(said("the place of {named}", named=named(homeless)))
    if missing:
        yield Finding(
            rule="parts-fit",
            group=Group.USE,
            severity=Severity.NOT_CHECKED,
            subject=design.job.job.id,
            message=said("It is not known whether all parts fit: not said is {named}.", named=named(missing)),
            way_out=said("Measure the free length, width and height of each place."),
        )


def _rooms(design: Design) -> Iterator[_Room]:
    items = placed_items(design)
    for placed, box in design.placed(Enclosure):
        inside = tuple(item for item in items if item.inside == placed.index)
        size = (box.inside_length_mm, box.inside_width_mm, box.inside_height_mm)
        if inside:
            source = Source(document=f"part data, {box.id}", place=box.source)
            yield _Room(name=placed.id, size=size, items=inside, source=source)
    for zone in design.zones:
        here = tuple(
            item
            for item in items
            if item.is_in(zone)
            and item.inside < 0
            and not (isinstance(item.part, Panel) and zone.kind in {"roof", "outside"})
        )
        sides = [
            known_value(side)
            for side in (zone.written.length_mm, zone.written.width_mm, zone.written.height_mm)
        ]
        known = [side for side in sides if side is not None]
        if here:
            room = (known[0], known[1], known[2]) if len(known) == len(sides) else None
            yield _Room(name=zone.id, size=room, items=here, source=MEASURED)


def _must_stand(part: Part) -> bool:
    return part.must_stay_upright or (isinstance(part, Battery) and part.chemistry == "flooded")


def _upright(room: _Room) -> Iterator[Finding]:
    for item in room.items:
        if item.up not in {None, "height"} and _must_stand(item.part):
            yield Finding(
                rule="parts-fit",
                group=Group.USE,
                severity=Severity.FAIL,
                subject=item.id,
                message=said(
                    "{item} is to lie with its {up} upright, but it must stand on its base.",
                    item=item.id,
                    up=item.up,
                ),
                way_out=said("Stand it upright, or use a part that may lie."),
            )


def _ways(item: Item, *, with_air: bool) -> tuple[Size, ...]:
    """Return the ways an item may stand; air at every side but the largest one, which is mounted on."""
    size = size_mm(item.part)
    if size is None:
        return ()
    gap = (item.part.air_gap_mm or 0.0) if with_air else 0.0
    thin = size.index(min(size))
    padded = tuple(side + (gap if position == thin else 2.0 * gap) for position, side in enumerate(size))
    if item.up is not None:
        uprights: tuple[int, ...] = (SIDES[item.up],)
    else:
        uprights = (HEIGHT,) if _must_stand(item.part) else (0, 1, HEIGHT)
    return turned((padded[0], padded[1], padded[2]), uprights=uprights)


def _room(design: Design, room: _Room, *, is_whole: bool) -> Iterator[Finding]:
    if room.size is None:
        return
    make = partial(Finding, rule="parts-fit", group=Group.USE, source=room.source)
    sized = [item for item in room.items if size_mm(item.part) is not None]
    too_large = [item for item in sized if not fits(_ways(item, with_air=True), room.size)]
    for item in too_large:
        value, limit = _worst_side(_ways(item, with_air=True), room.size)
        gap = item.part.air_gap_mm or 0.0
        air = said(" with {size} of air around it", size=size_text(design, gap)) if gap else ""
        yield make(
            severity=Severity.FAIL,
            subject=item.id,
            value=value,
            limit=limit,
            unit="mm",
            message=said(
                "{item} does not go into {name}: it needs {size}{air}, {size_2} is free.",
                item=item.id,
                name=room.name,
                size=size_text(design, value),
                air=air,
                size_2=size_text(design, limit),
            ),
            way_out=said("Use a smaller part, turn it where it may be turned, or choose another place."),
        )
    if not too_large:
        yield from _together(room, sized, is_whole=is_whole)


def _worst_side(ways: tuple[Size, ...], room: Size) -> tuple[float, float]:
    """Return need and room of the side that fits least, in the way that comes nearest."""
    excess = [max(zip(way, room, strict=True), key=lambda pair: pair[0] - pair[1]) for way in ways]
    return min(excess, key=lambda pair: pair[0] - pair[1])


def _together(room: _Room, sized: list[Item], *, is_whole: bool) -> Iterator[Finding]:
    if room.size is None or not sized:
        return
    make = partial(Finding, rule="parts-fit", group=Group.USE, subject=room.name)
    bare = sum(item.count * _volume_l(_ways(item, with_air=False)[0]) for item in sized)
    clear = _volume_l(room.size)
    count = sum(item.count for item in sized)
    what = said("{count} parts", count=count) if count > 1 else said("1 part")
    boxes = tuple(_ways(item, with_air=True) for item in sized for _ in range(item.count))
    if bare > clear:
        yield make(
            severity=Severity.FAIL,
            value=bare,
            limit=clear,
            unit="l",
            source=room.source,
            message=said(
                "{name}: {what} have {bare:.0f} litres without any air, the place has {clear:.0f}.",
                name=room.name,
                what=what,
                bare=bare,
                clear=clear,
            ),
            way_out=said("Move parts to another place."),
        )
    elif has_shelf_packing(boxes, room.size):
        if is_whole:
            yield make(
                severity=Severity.PASS,
                value=bare,
                limit=clear,
                unit="l",
                source=room.source,
                message=said(
                    "{name}: {what} fill {bare:.0%} of it; an arrangement with their free air was found. "
                    "Cables and their bends are not counted.",
                    name=room.name,
                    what=what,
                    bare=bare / clear,
                ),
            )
    else:
        yield make(
            severity=Severity.NOT_CHECKED,
            source=own_choice("shelf-packing"),
            message=said(
                "{name}: {what} fill {bare:.0%} of it and each goes in alone; simple shelves found no "
                "arrangement of all with their free air.",
                name=room.name,
                what=what,
                bare=bare / clear,
            ),
            way_out=said("Lay them out on a drawing or on the floor."),
        )


def _volume_l(size: Size) -> float:
    return size[0] * size[1] * size[2] / LITRE_MM3


PARTS_FIT = Rule(
    name="parts-fit",
    group=Group.USE,
    asks="Do the parts go into their places and enclosures with the free air they need?",
    check=_parts_fit,
)
