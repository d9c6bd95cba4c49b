"""Things with a size and a mass: placed parts, refrigerators and the power module as one."""

from __future__ import annotations

from typing import Literal

from ampwright.job.design import Design
from ampwright.job.design_zone import DesignZone
from ampwright.job.fit import Mount
from ampwright.parts.kinds import Part
from ampwright.records import record

__all__ = ["Item", "module_mass_kg", "placed_items", "size_mm"]


@record
class Item:
    """One placed thing, or several cases of it."""

    id: str
    """Name in the job."""
    part: Part
    """Catalogue record."""
    zone: DesignZone | None
    """Where it is; None = not said."""
    index: int
    """Index in Design.parts; -1 for a refrigerator."""
    inside: int
    """Index of the enclosure it is in; -1 = none."""
    count: int
    """Cases of it."""
    up: Literal["height", "width", "length"] | None
    """Dimension that stands upright; None = any."""
    mount: Mount | None
    """How it is held."""
    is_inside_module: bool
    """True when it belongs to the power module."""
    is_new: bool
    """False when the vehicle had it before this system."""
    is_on_trailer: bool
    """True when it is carried on a trailer."""

    def is_in(self, zone: DesignZone) -> bool:
        """Say whether it is in a place."""
        return self.zone is not None and self.zone.id == zone.id


def placed_items(design: Design) -> tuple[Item, ...]:
    """Return everything placed, refrigerators last."""
    parts = [
        Item(
            id=placed.id,
            part=placed.part,
            zone=placed.zone,
            index=placed.index,
            inside=placed.inside,
            count=placed.case_count,
            up=placed.up,
            mount=placed.mount,
            is_inside_module=placed.is_inside_module,
            is_new=placed.owner != "vehicle",
            is_on_trailer=placed.part_of == "trailer",
        )
        for placed in design.parts
    ]
    fridges = [
        Item(
            id=load.id,
            part=load.fridge,
            zone=load.zone,
            index=-1,
            inside=-1,
            count=load.count,
            up=None,
            mount=load.mount,
            is_inside_module=False,
            is_new=True,
            is_on_trailer=load.part_of == "trailer",
        )
        for load in design.loads
        if load.fridge is not None
    ]
    return (*parts, *fridges)


def size_mm(part: Part) -> tuple[float, float, float] | None:
    """Return length, width and height; None where one is not stated."""
    size = (part.length_mm, part.width_mm, part.height_mm)
    return size if all(side > 0.0 for side in size) else None


def module_mass_kg(design: Design) -> float | None:
    """Return the mass of the power module with the parts of its options; None without a module."""
    use, definition = design.job.module, design.module
    if use is None or definition is None:
        return None
    added = {
        f"{use.id}.{part.id}"
        for option in definition.option
        if option.id in use.options
        for part in option.part
    }
    return definition.mass_kg + sum(
        placed.part.mass_kg * placed.case_count for placed in design.parts if placed.id in added
    )
