"""Whether boxes fit a room, and rectangles a set of rectangles.

For boxes only bounds are known: one that fits nowhere, volumes that exceed the room, or an arrangement found on
simple shelves. For rectangles the search is exhaustive. Sizes are lengths in one unit.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from itertools import permutations

__all__ = ["Size", "fits", "has_shelf_packing", "has_tiling", "turned"]

Size = tuple[float, float, float]
"""Extent along length, width and height of the room."""
Flat = tuple[float, float]
MOST_TRIES = 20_000
"""Placements tried before the search for rectangles gives up; own choice: about 0.1 s."""


def turned(size: Size, *, uprights: tuple[int, ...]) -> tuple[Size, ...]:
    """Return the ways a box may stand, edges parallel to the room's.

    Parameters
    ----------
    uprights : positions in `size` of the sides that may stand upright

    Examples
    --------
    >>> turned((3.0, 2.0, 1.0), uprights=(2,))
    ((3.0, 2.0, 1.0), (2.0, 3.0, 1.0))
    """
    ways: dict[Size, None] = {}
    for upright in uprights:
        first, second = (side for position, side in enumerate(size) if position != upright)
        ways[(first, second, size[upright])] = None
        ways[(second, first, size[upright])] = None
    return tuple(ways)


def fits(ways: tuple[Size, ...], room: Size) -> bool:
    """Say whether one box fits the empty room in one of its ways."""
    return any(all(side <= clear for side, clear in zip(way, room, strict=True)) for way in ways)


def has_shelf_packing(boxes: tuple[tuple[Size, ...], ...], room: Size) -> bool:
    """Say whether boxes were placed on shelves without overlap; False proves nothing.

    Layers are stacked along each axis in turn, rows fill a layer, boxes fill a row, the largest first.

    Parameters
    ----------
    boxes : for each box the ways it may stand
    """
    for axes in permutations(range(3)):
        inner: Size = (room[axes[0]], room[axes[1]], room[axes[2]])
        mapped = tuple(tuple((way[axes[0]], way[axes[1]], way[axes[2]]) for way in ways) for ways in boxes)
        for sign in (1.0, -1.0):
            if _layers_fit(mapped, inner, sign):
                return True
    return False


def _layers_fit(boxes: tuple[tuple[Size, ...], ...], room: Size, sign: float) -> bool:
    """Try one order: a way is chosen by its extent along the stacking axis, flat first or tall first."""
    ranked = [sorted(ways, key=lambda way: (sign * way[2], sign * way[1])) for ways in boxes]
    ranked.sort(key=lambda ways: (-ways[0][2], -ways[0][0] * ways[0][1]))
    x = y = z = depth = height = 0.0
    for ways in ranked:
        placed = False
        for start in (
            (x, y, z, depth, height),
            (0.0, y + depth, z, 0.0, height),
            (0.0, 0.0, z + height, 0.0, 0.0),
        ):
            way = _way_at(ways, room, start)
            if way is not None:
                x, y, z = start[0] + way[0], start[1], start[2]
                depth, height = max(start[3], way[1]), max(start[4], way[2])
                placed = True
                break
        if not placed:
            return False
    return True


def _way_at(ways: list[Size], room: Size, start: tuple[float, ...]) -> Size | None:
    """Return the first way that stays in the room; a later row may not grow into the one behind it."""
    for way in ways:
        if start[0] + way[0] <= room[0] and start[1] + way[1] <= room[1] and start[2] + way[2] <= room[2]:
            return way
    return None


@lru_cache(maxsize=64)
def has_tiling(sheets: tuple[Flat, ...], rooms: tuple[Flat, ...]) -> bool | None:
    """Say whether rectangles, each turned either way, fit side by side in the rooms; None = search given up.

    Exhaustive: any arrangement can be pushed to the left and to the bottom until each sheet touches a sheet or
    wall on both sides, and sheets can then be placed in an order in which those two come first. A memo is kept,
    since variants of a job ask the same question.

    Examples
    --------
    >>> has_tiling(((2.0, 1.0), (2.0, 1.0)), ((2.0, 2.0),)), has_tiling(((2.0, 1.0),), ((1.5, 1.5),))
    (True, False)
    """
    if sum(a * b for a, b in sheets) > sum(a * b for a, b in rooms):
        return False
    tries = [0]
    found = _placed(tuple(sorted(sheets, reverse=True)), tuple((room, ()) for room in rooms), tries)
    return None if tries[0] > MOST_TRIES and not found else found


Taken = tuple[float, float, float, float]
Room = tuple[Flat, tuple[Taken, ...]]


def _placed(sheets: tuple[Flat, ...], rooms: tuple[Room, ...], tries: list[int]) -> bool:
    if not sheets:
        return True
    seen: set[Flat] = set()
    for position, sheet in enumerate(sheets):
        if sheet in seen:
            continue
        seen.add(sheet)
        rest = sheets[:position] + sheets[position + 1 :]
        for number, (room, taken) in enumerate(rooms):
            for spot in _spots(sheet, room, taken):
                tries[0] += 1
                if tries[0] > MOST_TRIES:
                    return False
                changed = (*rooms[:number], (room, (*taken, spot)), *rooms[number + 1 :])
                if _placed(rest, changed, tries):
                    return True
    return False


def _spots(sheet: Flat, room: Flat, taken: tuple[Taken, ...]) -> Iterator[Taken]:
    """Yield the free places of a sheet whose left and lower sides touch something."""
    for a, b in dict.fromkeys((sheet, sheet[::-1])):
        for x in dict.fromkeys((0.0, *(one[2] for one in taken))):
            for y in dict.fromkeys((0.0, *(one[3] for one in taken))):
                spot = (x, y, x + a, y + b)
                is_inside = spot[2] <= room[0] and spot[3] <= room[1]
                if is_inside and not any(_overlap(spot, one) for one in taken):
                    yield spot


def _overlap(one: Taken, other: Taken) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]
