"""An output module: a strip with one cell for each output in use, its number, limit and legend."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.documents.diagram.labels import LINE_MM, SMALL_MM, Line
from ampwright.documents.diagram.layout import AFTER_MM, STRIP_MM, UNUSED_MM
from ampwright.documents.diagram.pen import column, line, line_mm
from ampwright.documents.diagram.placer import Placer
from ampwright.documents.diagram.records import Group, Path, Point, Text
from ampwright.documents.diagram.text_width import clean, wrapped
from ampwright.documents.diagram.tree import Twig
from ampwright.job.design_wiring import DesignChannel
from ampwright.parts.switchgear import OutputModule

__all__ = ["ranges_text", "strip_groups"]

Cell = tuple[str, float, float, float]
"""Channel, left, right, axis."""


def strip_groups(placer: Placer, twig: Twig, at_mm: float) -> Iterator[Group]:
    """Yield the strip of an output module whose label stands before it."""
    block, text_mm = twig.block, LINE_MM * len(twig.lines)
    if block is None:
        return
    begins = at_mm + text_mm + 1.0
    feed = (
        [line((twig.x_mm, placer.y(at_mm)), (twig.x_mm, placer.y(begins)), width_mm=line_mm(twig.joint))]
        if twig.joint is not None
        else []
    )
    cells = cells_of(twig.far)
    left = min((cell[1] for cell in cells), default=twig.x_mm - 4.0)
    right = max((cell[2] for cell in cells), default=twig.x_mm + 4.0)
    texts = column(twig.lines, twig.x_mm + AFTER_MM, placer.top(at_mm + 0.4, text_mm))
    yield Group(
        id=block.id,
        layer="part",
        label=f"{block.name}: {placer.writer.said(block)}",
        paths=(*feed, frame(placer, left, right + UNUSED_MM, begins)),
        texts=(*texts, *unused_texts(placer, twig, right, begins)),
    )
    for cell in cells:
        yield cell_group(placer, twig, cell, begins)


def cells_of(children: list[Twig]) -> list[Cell]:
    """Return one cell for each output in use, as wide as the columns of its circuits."""
    cells: dict[str, Cell] = {}
    for child in children:
        joint = child.joint
        name = "" if joint is None else (joint.start if child.is_forward else joint.end).terminal
        left, right = child.x_mm - child.left_mm, child.x_mm + child.right_mm
        before = cells.get(name)
        cells[name] = (
            (name, left, right, child.x_mm) if before is None else (name, before[1], right, before[3])
        )
    return list(cells.values())


def frame(placer: Placer, left_mm: float, right_mm: float, at_mm: float) -> Path:
    """Return the outline of a cell or a strip."""
    near, far = placer.y(at_mm), placer.y(at_mm + STRIP_MM)
    corners: tuple[Point, ...] = ((left_mm, near), (right_mm, near), (right_mm, far), (left_mm, far))
    return Path(points_mm=corners, is_closed=True, width_mm=0.35)


def cell_group(placer: Placer, twig: Twig, cell: Cell, at_mm: float) -> Group:
    """Return one output: number, contact with the triangle of a semiconductor, limit and legend."""
    name, left, right, x = cell
    channel = (
        next((each for each in twig.block.channels if str(each.number) == name), None) if twig.block else None
    )
    top = placer.top(at_mm, STRIP_MM)
    number = (Line(text=name, is_bold=True),)
    width = right - x - AFTER_MM - 0.4
    texts = (
        *column(number, left + 0.8, top + 0.3),
        *column(_legend(placer, channel, width), x + AFTER_MM, top + 0.3),
    )
    points = [(0.0, 0.0), (0.0, 2.4)], [(-1.9, 2.9), (0.0, 6.4), (0.0, STRIP_MM)]
    contact = tuple(line(*((x + dx, top + dy) for dx, dy in each), width_mm=0.25) for each in points)
    triangle = Path(
        points_mm=((x - 3.6, top + 5.2), (x - 3.6, top + 7.2), (x - 2.0, top + 6.2)),
        is_closed=True,
        width_mm=0.25,
    )
    across = line((x - 2.0, top + 5.2), (x - 2.0, top + 7.2), width_mm=0.25)
    edge = line((right, placer.y(at_mm)), (right, placer.y(at_mm + STRIP_MM)), width_mm=0.2)
    owner = twig.block.name if twig.block else ""
    said = placer.writer.words(
        "output {number} of {module}: {legend}",
        number=name,
        module=owner,
        legend=channel.name if channel else "",
    )
    return Group(
        id=f"channel-{owner}.{name}",
        layer="channel",
        label=said,
        paths=(*contact, triangle, across, edge),
        texts=texts,
    )


def _legend(placer: Placer, channel: DesignChannel | None, width_mm: float) -> tuple[Line, ...]:
    if channel is None:
        return (Line(text=placer.writer.words("no legend")),)
    said = wrapped(clean(channel.name), width_mm, SMALL_MM, most=2)
    return (*(Line(text=text) for text in said), Line(text=placer.writer.amperes(channel.limit_a)))


def unused_texts(placer: Placer, twig: Twig, right_mm: float, at_mm: float) -> tuple[Text, ...]:
    """Return the list of outputs without a circuit."""
    block = twig.block
    if block is None or block.part is None or not isinstance(block.part.part, OutputModule):
        return ()
    every = {n for group in block.part.part.outputs for n in range(group.first, group.last + 1)}
    used = {int(cell[0]) for cell in cells_of(twig.far) if cell[0].isdigit()}
    free = ranges_text(sorted(every - used))
    text = (
        placer.writer.words("not used: {outputs}", outputs=free) if free else placer.writer.words("all used")
    )
    lines = (Line(text=each) for each in wrapped(text, UNUSED_MM - 1.6, SMALL_MM, most=3))
    return column(lines, right_mm + 0.8, placer.top(at_mm, STRIP_MM) + 0.2)


def ranges_text(numbers: list[int]) -> str:
    """Return numbers with those that follow one another drawn together.

    Examples
    --------
    >>> ranges_text([1, 2, 3, 4, 11, 12, 14])
    '1–4, 11, 12, 14'
    """
    groups: list[list[int]] = []
    for number in numbers:
        if groups and number == groups[-1][-1] + 1:
            groups[-1].append(number)
        else:
            groups.append([number])
    texts = [f"{g[0]}–{g[-1]}" if len(g) > 2 else ", ".join(map(str, g)) for g in groups]
    return ", ".join(texts)
