"""Tree -> columns and rows: how wide each twig is, where its axis is, and how far each row is from the bus bar.

Every twig has a column of its own width, and nothing but its own line passes through it: that is why lines of a tree never
cross. A row has the height of its tallest entry, so that like things stand side by side.
"""

from __future__ import annotations

from collections.abc import Iterable

from ampwright.documents.diagram.labels import LINE_MM, MARGIN_MM, SMALL_MM, Writer, line_width_mm
from ampwright.documents.diagram.symbols import SYMBOLS
from ampwright.documents.diagram.text_width import clean, text_width_mm
from ampwright.documents.diagram.tree import Twig, all_twigs
from ampwright.records import record

__all__ = [
    "AFTER_MM",
    "BAR_MM",
    "JUNCTION_MM",
    "LEAD_MM",
    "PAD_MM",
    "STRIP_MM",
    "UNUSED_MM",
    "Rows",
    "block_height_mm",
    "measure",
    "place",
    "rows_of",
    "turns",
    "write",
    "wrong_links",
]

PAD_MM = 1.0
"""Free strip at either side of a column."""
AFTER_MM = 1.3
"""From a symbol to the text beside it."""
BAR_MM = 1.0
"""Thickness of a bus bar."""
STRIP_MM = 9.0
"""Height of a strip of outputs."""
UNUSED_MM = 17.0
"""Width of the cell that lists the outputs not in use."""
LEAD_MM = 1.2
"""Bare line at either end of a segment."""
JUNCTION_MM = 2.6
"""Height of the zone before a block in which lines meet."""
BEND_MM = 1.2
"""Height in which a line leaves a block sideways."""
WIDE_FACTOR = 1.7


@record
class Rows:
    """Distances from the bus bar, by row; row 0 is the bar."""

    segment_mm: tuple[float, ...]
    """Where the lines towards a row begin to carry things."""
    junction_mm: tuple[float, ...]
    """Where lines meet before a block."""
    block_mm: tuple[float, ...]
    """Where its blocks begin."""
    end_mm: tuple[float, ...]
    """Where its blocks end."""

    @property
    def depth_mm(self) -> float:
        """From the bar to the end of the last row."""
        return self.end_mm[-1]


def write(twig: Twig, writer: Writer) -> None:
    """Give a twig its texts."""
    if twig.joint is not None and not twig.items:
        twig.items = writer.items(twig.joint, shows=twig.shows, is_forward=twig.is_forward)
    if twig.partner is not None:
        is_here = twig.sheet == twig.partner.sheet > 0
        is_from = twig.shows in {"to", "none"}
        name = _goes_to(twig, writer)
        twig.lines = writer.reference(twig.partner.sheet or 99, name, is_from=is_from, is_here=is_here)
        if twig.partner.sheet == 0:  # where it goes is not known yet: keep room for the longer text
            here = writer.reference(99, name, is_from=is_from, is_here=True)
            twig.lines = max(twig.lines, here, key=line_width_mm)
    elif twig.block is not None and not twig.lines:
        is_wide = twig.block.shape in {"bar", "strip"}
        twig.lines = (
            writer.block(twig.block, MARGIN_MM * WIDE_FACTOR) if is_wide else writer.block(twig.block)
        )


def _goes_to(twig: Twig, writer: Writer) -> str:
    """Return the name of the block at the other end of a line that is interrupted."""
    joint = twig.joint
    if joint is None:
        return ""
    return writer.block_names[joint.end.block if twig.is_forward else joint.start.block]


def measure(twig: Twig, writer: Writer) -> None:
    """Set the reach of a twig and the places of its children against its own axis."""
    write(twig, writer)
    for child in twig.children:
        measure(child, writer)
    left, right = _own_reach(twig)
    if twig.far:
        _widen_for_legends(twig, writer)
        is_wide = twig.block is not None and twig.block.shape in {"bar", "strip"}
        edge = _pack(twig.far, 0.0)
        shift = -(twig.far[0].x_mm + twig.far[-1].x_mm) / 2.0 if is_wide else -twig.far[0].x_mm
        for child in twig.far:
            child.x_mm += shift
        spare = UNUSED_MM if is_wide and twig.block is not None and twig.block.shape == "strip" else 0.0
        left, right = max(left, -shift), max(right, edge + shift + spare)
    twig.core_mm = (left, right)
    if twig.near:
        right = _pack(twig.near, right)
    twig.left_mm, twig.right_mm = left, right


def _pack(twigs: list[Twig], start_mm: float) -> float:
    """Put twigs side by side from a place on; return where they end."""
    edge = start_mm
    for twig in twigs:
        twig.x_mm = edge + twig.left_mm
        edge = twig.x_mm + twig.right_mm
    return edge


def _widen_for_legends(twig: Twig, writer: Writer) -> None:
    """Make the column of an output as wide as the longest word of its legend."""
    if twig.block is None or twig.block.shape != "strip":
        return
    # the number stands left of the contact, the legend right of it
    legends = {str(each.number): each for each in twig.block.channels}
    for child in twig.far:
        name = (
            ""
            if child.joint is None
            else (child.joint.start if child.is_forward else child.joint.end).terminal
        )
        child.left_mm = max(child.left_mm, 3.2 + text_width_mm(name, SMALL_MM * 1.2, is_bold=True))
        if name.isdigit():
            known = legends.get(name)
            words = [writer.words("no legend")]
            if known is not None:
                words = [*clean(known.name).split(" "), writer.amperes(known.limit_a)]
            need = min(max(text_width_mm(word, SMALL_MM) for word in words), MARGIN_MM)
            child.right_mm = max(child.right_mm, AFTER_MM + need + PAD_MM)
            child.core_mm = (
                child.core_mm[0],
                max(child.core_mm[1], child.right_mm if not child.near else 0.0),
            )


def _own_reach(twig: Twig) -> tuple[float, float]:
    left, right = 1.0, 1.0
    for item in twig.items:
        symbol = SYMBOLS[item.symbol] if item.symbol is not None else None
        beside = symbol.right_mm if symbol is not None else 0.0
        left = max(left, 0.0 if symbol is None else symbol.left_mm)
        right = max(right, beside + AFTER_MM + line_width_mm(item.lines))
    block = twig.block
    if block is not None and block.shape in {"bar", "strip"}:
        return left + PAD_MM, max(right, AFTER_MM + line_width_mm(twig.lines)) + PAD_MM
    name = "reference" if twig.partner is not None else block.symbol if block is not None else None
    if name is None:
        return left + PAD_MM, right + PAD_MM
    symbol, text_mm = SYMBOLS[name], line_width_mm(twig.lines)
    if block is not None and block.shape == "pass":
        return max(left, symbol.left_mm) + PAD_MM, max(right, symbol.right_mm + AFTER_MM + text_mm) + PAD_MM
    return max(left, symbol.left_mm, text_mm / 2) + PAD_MM, max(right, symbol.right_mm, text_mm / 2) + PAD_MM


def block_height_mm(twig: Twig) -> float:
    """Return the height of what stands at the end of a twig."""
    text_mm = len(twig.lines) * LINE_MM
    block = twig.block
    if twig.partner is not None:
        return SYMBOLS["reference"].height_mm + 1.0 + text_mm
    if block is None:
        return 0.0
    if block.shape in {"bar", "strip"}:
        return text_mm + 1.0 + (BAR_MM if block.shape == "bar" else STRIP_MM)
    height_mm = SYMBOLS[block.symbol].height_mm
    return max(height_mm, text_mm) if block.shape == "pass" else height_mm + 1.0 + text_mm


def place(twig: Twig, x_mm: float) -> None:
    """Turn places against the parent's axis into places on the sheet."""
    twig.x_mm = x_mm
    for child in twig.children:
        place(child, x_mm + child.x_mm)


def rows_of(branches: Iterable[Twig]) -> Rows:
    """Return the rows of one side of a sheet."""
    twigs = [twig for branch in branches for twig in all_twigs(branch)]
    segment, junction, block, end = [0.0], [0.0], [0.0], [0.0]
    for level in range(1, 1 + max((twig.level for twig in twigs), default=0)):
        here = [twig for twig in twigs if twig.level == level]
        line_mm = max((_segment_mm(twig) for twig in here), default=0.0)
        meets = {id(twig.hub) for twig in twigs if twig.hub is not None}
        has_junction = any(twig.near or id(twig) in meets for twig in here)
        segment.append(end[-1])
        junction.append(end[-1] + line_mm + JUNCTION_MM / 2.0)
        block.append(end[-1] + line_mm + (JUNCTION_MM if has_junction else 0.0))
        end.append(block[-1] + max((block_height_mm(twig) for twig in here), default=0.0))
    return Rows(
        segment_mm=tuple(segment), junction_mm=tuple(junction), block_mm=tuple(block), end_mm=tuple(end)
    )


def _segment_mm(twig: Twig) -> float:
    bend_mm = BEND_MM if turns(twig) else 0.0
    return (
        sum(item.height_mm for item in twig.items) + 2.0 * LEAD_MM + bend_mm
        if twig.joint is not None
        else 1.0
    )


def turns(twig: Twig) -> bool:
    """Tell whether a line leaves the far side of its parent sideways: all but the first, and none at a bar or a strip."""
    parent = twig.parent
    if parent is None or parent.block is None or parent.block.shape in {"bar", "strip"}:
        return False
    return twig in parent.far[1:]


def wrong_links(links: Iterable[Twig], side: Iterable[Twig], rows: Rows) -> set[int]:
    """Return the joints, by id(), whose line to the side of a block would cross or touch another line of its side."""
    twigs = [twig for branch in side for twig in all_twigs(branch)]
    here = {id(twig) for twig in twigs}
    return {
        id(link.joint)
        for link in links
        if id(link) in here
        and link.hub is not None
        and (id(link.hub) not in here or any(_is_in_way(link, link.hub, other, rows) for other in twigs))
    }


def _is_in_way(link: Twig, hub: Twig, other: Twig, rows: Rows) -> bool:
    """Tell whether another twig's line lies across or along the line from a link to its hub."""
    low, high = sorted((link.x_mm, hub.x_mm))
    at_mm = rows.junction_mm[hub.level]
    if other is not link and other is not hub and low < other.x_mm < high and other.hub is not hub:
        start = rows.block_mm[other.parent.level] if other.parent is not None else 0.0
        end = rows.junction_mm[other.level] if other.hub is not None else rows.end_mm[other.level]
        if start < at_mm <= end:
            return True
    if other is hub or other.level != hub.level:
        return False
    reaches = [child.x_mm for child in other.near]
    reaches += [] if other.hub is None or other.hub is hub else [other.hub.x_mm]
    return any(max(low, min(other.x_mm, x)) < min(high, max(other.x_mm, x)) for x in reaches)
