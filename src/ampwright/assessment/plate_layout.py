"""Where the parts of a plate sit: as the job says, and for the rest a proposal that keeps edge, parts and free air apart.

The proposal is simple: the largest first, each as low and then as far left as it goes. It may find no place where a cleverer
arrangement would; that is said, never hidden.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from ampwright.job.design import Design, DesignPart
from ampwright.job.plate import OnPlate, Plate
from ampwright.parts.face import face_size_mm
from ampwright.records import record

__all__ = ["PlateItem", "PlateLayout", "gap_mm", "plate_layout", "wanted_gap_mm"]

TOUCH_MM = 1e-6
"""Less than this is rounding, no overlap."""


@record
class PlateItem:
    """A part on a plate, seen from the front; the plate's lower left corner is the origin."""

    placed: DesignPart
    """The part."""
    x_mm: float
    """Left edge."""
    y_mm: float
    """Lower edge."""
    width_mm: float
    """Extent to the right, as turned."""
    height_mm: float
    """Extent upwards, as turned."""
    is_turned: bool
    """True when it is turned by a quarter to the left."""
    is_proposed: bool
    """True where the job names no place."""

    @property
    def air_mm(self) -> float:
        """Free air it wants; 0 where not stated."""
        return self.placed.part.air_gap_mm or 0.0


@record
class PlateLayout:
    """Everything on a plate."""

    plate: Plate
    """The plate."""
    items: tuple[PlateItem, ...]
    """Parts with a place."""
    unsized: tuple[str, ...]
    """Parts whose size is not stated."""
    unplaced: tuple[str, ...]
    """Parts for which no place was found."""


def plate_layout(design: Design, plate: Plate) -> PlateLayout:
    """Return where everything on a plate sits."""
    by_id = {placed.id: placed for placed in design.parts}
    items: list[PlateItem] = []
    waiting: list[tuple[OnPlate, tuple[float, float]]] = []
    unsized: list[str] = []
    for on in plate.place:
        face = face_size_mm(by_id[on.part].part)
        if face is None:
            unsized.append(on.part)
        elif on.x_mm is None or on.y_mm is None:
            waiting.append((on, face))
        else:
            items.append(_item(by_id[on.part], face, (on.x_mm, on.y_mm), is_turned=on.is_turned))
    unplaced: list[str] = []
    waiting.sort(key=lambda each: (-each[1][0] * each[1][1], each[0].part))
    for on, face in waiting:
        found = _proposed(plate, by_id[on.part], face, items, is_turned=on.is_turned)
        if found is None:
            unplaced.append(on.part)
        else:
            items.append(found)
    order = [on.part for on in plate.place]
    items.sort(key=lambda item: order.index(item.placed.id))
    return PlateLayout(plate=plate, items=tuple(items), unsized=tuple(unsized), unplaced=tuple(unplaced))


def _item(
    placed: DesignPart,
    face: tuple[float, float],
    at: tuple[float, float],
    *,
    is_turned: bool,
    is_proposed: bool = False,
) -> PlateItem:
    width, height = face[::-1] if is_turned else face
    return PlateItem(
        placed=placed,
        x_mm=at[0],
        y_mm=at[1],
        width_mm=width,
        height_mm=height,
        is_turned=is_turned,
        is_proposed=is_proposed,
    )


def _proposed(
    plate: Plate, placed: DesignPart, face: tuple[float, float], taken: list[PlateItem], *, is_turned: bool
) -> PlateItem | None:
    """Return the part at its lowest, then leftmost free place, as it stands or else turned; None where there is none."""
    for turned in (is_turned, not is_turned):
        found = [
            item
            for x_mm, y_mm in _corners(plate, placed, taken)
            if _is_free(
                plate, item := _item(placed, face, (x_mm, y_mm), is_turned=turned, is_proposed=True), taken
            )
        ]
        if found:
            return min(found, key=lambda item: (item.y_mm, item.x_mm))
    return None


def _corners(plate: Plate, placed: DesignPart, taken: list[PlateItem]) -> Iterator[tuple[float, float]]:
    """Yield lower left corners that touch an edge or keep just the wanted gap from a part."""
    air = placed.part.air_gap_mm or 0.0
    rights = {plate.edge_mm, *(item.x_mm + item.width_mm + max(air, item.air_mm) for item in taken)}
    tops = {plate.edge_mm, *(item.y_mm + item.height_mm + max(air, item.air_mm) for item in taken)}
    for x_mm in sorted(rights):
        for y_mm in sorted(tops):
            yield x_mm, y_mm


def _is_free(plate: Plate, item: PlateItem, taken: list[PlateItem]) -> bool:
    reach_x, reach_y = item.x_mm + item.width_mm, item.y_mm + item.height_mm
    if (
        reach_x > plate.width_mm - plate.edge_mm + TOUCH_MM
        or reach_y > plate.height_mm - plate.edge_mm + TOUCH_MM
    ):
        return False
    return all(gap_mm(item, other) >= wanted_gap_mm(item, other) - TOUCH_MM for other in taken)


def gap_mm(one: PlateItem, other: PlateItem) -> float:
    """Return the clear distance of two faces, corner to corner where they are diagonal; negative = how deep they overlap."""
    across = max(other.x_mm - one.x_mm - one.width_mm, one.x_mm - other.x_mm - other.width_mm)
    upwards = max(other.y_mm - one.y_mm - one.height_mm, one.y_mm - other.y_mm - other.height_mm)
    if across > 0.0 and upwards > 0.0:
        return math.hypot(across, upwards)
    return max(across, upwards)


def wanted_gap_mm(one: PlateItem, other: PlateItem) -> float:
    """Return the free air between two parts: the larger of what either wants."""
    return max(one.air_mm, other.air_mm)
