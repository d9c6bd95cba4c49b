"""The border of the power module: the outline of all cells whose contents belong to it."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.documents.diagram.layout import BAR_MM, block_height_mm
from ampwright.documents.diagram.placer import Placer
from ampwright.documents.diagram.records import Box, Point
from ampwright.documents.diagram.tree import Twig, all_twigs

__all__ = ["AROUND_MM", "bar_cell", "inside_cells", "outlines"]

BAR_ZONE_MM = 2.0
AROUND_MM = 0.6
"""By which the border stands off."""
STEP_MM = 8.0
"""Steps of the border smaller than this are evened out."""


def inside_cells(placer: Placer, branches: list[Twig]) -> Iterator[Box]:
    """Yield the cells of one side that lie in the module."""
    for branch in branches:
        for twig in all_twigs(branch):
            yield from _cells(placer, twig)


def bar_cell(placer: Placer, left_mm: float, right_mm: float) -> Box:
    """Return the cell of the bar itself."""
    return (
        left_mm,
        placer.bar_mm - BAR_MM / 2 - BAR_ZONE_MM,
        right_mm,
        placer.bar_mm + BAR_MM / 2 + BAR_ZONE_MM,
    )


def _cells(placer: Placer, twig: Twig) -> Iterator[Box]:
    rows, joint, block = placer.rows, twig.joint, twig.block
    left, right = twig.x_mm - twig.core_mm[0] - AROUND_MM, twig.x_mm + twig.core_mm[1] + AROUND_MM
    start = max(placer.starts_mm(twig), rows.segment_mm[twig.level] if twig.joint else 0.0)
    parent = twig.parent
    if parent is not None and twig in parent.near:
        start = rows.junction_mm[parent.level] - 0.5
    elif parent is not None and parent is not placer.page.section.root:
        start = rows.end_mm[parent.level]
    if joint is not None and (joint.run is not None and joint.run.is_inside_module):
        yield _cell(placer, left, right, start, rows.block_mm[twig.level])
    if block is not None and block.is_inside_module:
        deep = any(
            child.joint is not None and child.joint.run is not None and child.joint.run.is_inside_module
            for child in twig.children
        )
        own = rows.block_mm[twig.level] + block_height_mm(twig) + 0.6
        end = rows.end_mm[twig.level]
        end = own if not deep and end - own > STEP_MM else end
        yield _cell(placer, left, right, rows.block_mm[twig.level] - AROUND_MM, end + AROUND_MM)


def _cell(placer: Placer, left: float, right: float, start: float, end: float) -> Box:
    top, bottom = sorted((placer.y(start), placer.y(end)))
    return (left, top, right, bottom)


def outlines(cells: list[Box]) -> list[tuple[Point, ...]]:
    """Return the outlines of all cells together."""
    xs = sorted({round(x, 3) for cell in cells for x in (cell[0], cell[2])})
    ys = sorted({round(y, 3) for cell in cells for y in (cell[1], cell[3])})

    def is_full(i: int, j: int) -> bool:
        if not (0 <= i < len(xs) - 1 and 0 <= j < len(ys) - 1):
            return False
        x, y = (xs[i] + xs[i + 1]) / 2, (ys[j] + ys[j + 1]) / 2
        return any(left < x < right and top < y < bottom for left, top, right, bottom in cells)

    full = {(i, j) for i in range(len(xs)) for j in range(len(ys)) if is_full(i, j)}
    edges: dict[Point, list[Point]] = {}
    for i, j in sorted(full):
        corners = [(xs[i], ys[j]), (xs[i + 1], ys[j]), (xs[i + 1], ys[j + 1]), (xs[i], ys[j + 1])]
        outside = [(i, j - 1), (i + 1, j), (i, j + 1), (i - 1, j)]
        for side, neighbour in enumerate(outside):
            if neighbour not in full:
                edges.setdefault(corners[side], []).append(corners[(side + 1) % 4])
    return list(_loops(edges))


def _loops(edges: dict[Point, list[Point]]) -> Iterator[tuple[Point, ...]]:
    while edges:
        start = min(edges)
        loop = [start]
        here = edges[start].pop()
        while here != start:
            loop.append(here)
            here = edges[here].pop()
        edges = {point: ways for point, ways in edges.items() if ways}
        yield tuple(_corners(loop))


def _corners(loop: list[Point]) -> Iterator[Point]:
    for number, point in enumerate(loop):
        before, after = loop[number - 1], loop[(number + 1) % len(loop)]
        if (before[0] == point[0]) != (point[0] == after[0]):
            yield point
