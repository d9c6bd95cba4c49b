"""Twigs in their columns and rows -> groups of shapes."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator

from ampwright.documents.diagram.graph import Block, Joint
from ampwright.documents.diagram.labels import LINE_MM, Item, Writer
from ampwright.documents.diagram.layout import (
    AFTER_MM,
    BAR_MM,
    BEND_MM,
    JUNCTION_MM,
    LEAD_MM,
    block_height_mm,
    turns,
)
from ampwright.documents.diagram.pen import Stamp, column, line, line_mm, stamp
from ampwright.documents.diagram.placer import Placer
from ampwright.documents.diagram.records import Circle, Group, Path, Point
from ampwright.documents.diagram.strip import strip_groups
from ampwright.documents.diagram.symbols import SYMBOLS
from ampwright.documents.diagram.tree import Twig, all_twigs

__all__ = ["branch_groups"]

DOT_MM = 0.65


def branch_groups(placer: Placer, branch: Twig) -> Iterator[Group]:
    """Yield everything of a branch."""
    for twig in all_twigs(branch):
        if twig.joint is not None:
            yield from _joint_groups(placer, twig)
        yield from _block_groups(placer, twig)


def _joint_groups(placer: Placer, twig: Twig) -> Iterator[Group]:
    joint = twig.joint
    if joint is None:
        return
    places = _items_placed(placer, twig)
    stamps = [(item, at, _item_stamp(placer, item, twig.x_mm, at)) for item, at in places]
    paths = _pieces(placer, twig, [(item, at) for item, at, _ in stamps])
    texts = tuple(text for item, _, each in stamps if not item.id for text in each.texts)
    yield Group(
        id=_name(joint),
        layer={"run": "run", "mains": "mains", "plugged": "run", "bond": "bond"}[joint.kind],  # type: ignore[arg-type]
        label=joint_label(joint, placer.writer),
        paths=tuple(paths),
        circles=tuple(_dots(placer, twig)),
        texts=texts,
    )
    for item, _, each in stamps:
        if item.id:
            yield Group(
                id=item.id,
                layer="device",
                label=item.label,
                paths=each.paths,
                circles=each.circles,
                texts=each.texts,
            )


def _name(joint: Joint) -> str:
    return f"run-{joint.run.id}" if joint.run is not None else f"line-{joint.start.block}-{joint.end.block}"


def joint_label(joint: Joint, writer: Writer) -> str:
    """Return a circuit in words; empty for a line that is none."""
    run = joint.run
    if run is None:
        return ""
    nodes = writer.design.nodes
    devices = [f"{device.id} {writer.amperes(device.part.rating_a)}" for device in run.devices]
    text = writer.words(
        "Circuit {run} from {start} to {end}, {area}", run=run.id, start=nodes[run.start], end=nodes[run.end],
        area=" ".join(writer.area(run.cable.area_mm2)),
    )  # fmt: skip
    return f"{text}, {', '.join(devices)}" if devices else text


def _items_placed(placer: Placer, twig: Twig) -> list[tuple[Item, float]]:
    """Return what stands along a line with its distance from the bar: label and what is before it near the parent, the rest far."""
    rows = placer.rows
    label = next((n for n, item in enumerate(twig.items) if not item.id), 0)
    at = rows.segment_mm[twig.level] + LEAD_MM + (BEND_MM if turns(twig) else 0.0)
    at = max(at, placer.starts_mm(twig) + LEAD_MM)
    places = []
    for item in twig.items[: label + 1]:
        places.append((item, at))
        at += item.height_mm
    end = rows.junction_mm[twig.level] - JUNCTION_MM / 2.0 - LEAD_MM
    for item in reversed(twig.items[label + 1 :]):
        end -= item.height_mm
        places.append((item, end))
    return places


def _item_stamp(placer: Placer, item: Item, x_mm: float, at_mm: float) -> Stamp:
    top = placer.top(at_mm, item.height_mm)
    text_top = top + (item.height_mm - LINE_MM * len(item.lines)) / 2.0
    if item.symbol is None:
        return Stamp(texts=column(item.lines, x_mm + AFTER_MM, text_top))
    symbol = SYMBOLS[item.symbol]
    drawn = stamp(symbol, x_mm, top + (item.height_mm - symbol.height_mm) / 2.0)
    texts = column(item.lines, x_mm + symbol.right_mm + AFTER_MM, text_top)
    return Stamp(paths=drawn.paths, circles=drawn.circles, texts=(*drawn.texts, *texts))


def _pieces(placer: Placer, twig: Twig, items: list[tuple[Item, float]]) -> Iterator[Path]:
    """Yield the line of a joint, left out where a symbol stands in it."""
    joint, rows = twig.joint, placer.rows
    if joint is None:
        return
    look = {"width_mm": line_mm(joint), "is_dashed": joint.kind in {"mains", "bond"}}
    start, x = placer.starts_mm(twig), twig.x_mm
    end = rows.block_mm[twig.level] if twig.hub is None else rows.junction_mm[twig.hub.level]
    first: list[Point] = [(x, placer.y(start))]
    corner = _corner_mm(placer, twig)
    if twig.parent is not None and corner is not None:
        bend = placer.y(corner)
        first = [(twig.parent.x_mm, placer.y(start)), (twig.parent.x_mm, bend), (x, bend)]
    for near, away in sorted(_gap(placer, item, at) for item, at in items if item.symbol is not None):
        yield line(*first, (x, placer.y(near)), **look)  # type: ignore[arg-type]
        first = [(x, placer.y(away))]
    last = [(twig.hub.x_mm, placer.y(end))] if twig.hub is not None else []
    yield line(*first, (x, placer.y(end)), *last, **look)  # type: ignore[arg-type]


def _gap(placer: Placer, item: Item, at_mm: float) -> tuple[float, float]:
    """Return where a circuit's line stops and goes on at a device, from the bar; devices always stand upright."""
    symbol = SYMBOLS[item.symbol] if item.symbol is not None else SYMBOLS["box"]
    spare = (item.height_mm - symbol.height_mm) / 2.0
    top, bottom = symbol.body_mm
    if placer.is_up:
        return at_mm + spare + symbol.height_mm - bottom, at_mm + spare + symbol.height_mm - top
    return at_mm + spare + top, at_mm + spare + bottom


def _corner_mm(placer: Placer, twig: Twig) -> float | None:
    """Return where a line leaves its parent sideways; None where it goes straight on."""
    parent = twig.parent
    if parent is None or parent is placer.page.section.root:
        return None
    if twig in parent.near:
        return placer.rows.junction_mm[parent.level]
    return (
        placer.rows.block_mm[parent.level] + block_height_mm(parent) + BEND_MM / 2.0 if turns(twig) else None
    )


def _dots(placer: Placer, twig: Twig) -> Iterator[Circle]:
    """Yield the dots where this line joins others: at its parent's axis, and where a line goes on beyond it."""
    parent, hub = twig.parent, twig.hub
    if hub is not None:
        yield _dot(hub.x_mm, placer.y(placer.rows.junction_mm[hub.level]))
        others = (link for link in placer.page.links if link.hub is hub and link is not twig)
        if any((link.x_mm - twig.x_mm) * (twig.x_mm - hub.x_mm) > 0 for link in others):
            yield _dot(twig.x_mm, placer.y(placer.rows.junction_mm[hub.level]))
    corner = _corner_mm(placer, twig)
    if parent is None or corner is None:
        return
    yield _dot(parent.x_mm, placer.y(corner))
    if twig is not (parent.near if twig in parent.near else parent.far)[-1]:
        yield _dot(twig.x_mm, placer.y(corner))


def _dot(x_mm: float, y_mm: float) -> Circle:
    return Circle(x_mm=x_mm, y_mm=y_mm, radius_mm=DOT_MM, is_filled=True)


def _block_groups(placer: Placer, twig: Twig) -> Iterator[Group]:
    at = placer.rows.block_mm[twig.level]
    if twig.partner is not None:
        yield _reference_group(placer, twig, at)
        return
    block = twig.block
    if block is None:
        return
    if twig.joint is None and twig.near:
        junction = placer.y(placer.rows.junction_mm[twig.level])
        yield Group(
            id=f"stub-{block.index}",
            layer="run",
            label="",
            paths=(line((twig.x_mm, junction), (twig.x_mm, placer.y(at))),),
        )
    if block.shape == "bar":
        yield _bar_group(placer, twig, block, at)
    elif block.shape == "strip":
        yield from strip_groups(placer, twig, at)
    else:
        yield _symbol_group(placer, twig, block, at)


def _symbol_group(placer: Placer, twig: Twig, block: Block, at_mm: float) -> Group:
    symbol = SYMBOLS[block.symbol]
    drawn = stamp(symbol, twig.x_mm, placer.y(at_mm), is_up=placer.is_up)
    text_mm = LINE_MM * len(twig.lines)
    if block.shape == "pass":
        height = max(symbol.height_mm, text_mm)
        middle = placer.y(at_mm + symbol.height_mm / 2.0)
        top = max(middle - text_mm / 2.0, placer.top(at_mm, height)) if text_mm <= height else middle
        top = placer.top(at_mm, height) if text_mm > symbol.height_mm else top
        texts = column(twig.lines, twig.x_mm + symbol.right_mm + AFTER_MM, top)
    else:
        top = placer.top(at_mm + symbol.height_mm + 1.0, text_mm)
        texts = column(twig.lines, twig.x_mm, top, anchor="middle")
    return Group(
        id=block.id,
        layer="bond" if block.bond is not None else "load" if block.load is not None else "part",
        label=block_label(block, placer.writer),
        paths=drawn.paths,
        circles=drawn.circles,
        texts=(*drawn.texts, *texts),
    )


def block_label(block: Block, writer: Writer) -> str:
    """Return a block in words."""
    return (
        f"{block.name}: {writer.said(block)}"
        if block.bond is None
        else writer.words("tie of the negative to metal")
    )


def _bar_group(placer: Placer, twig: Twig, block: Block, at_mm: float) -> Group:
    text_mm = LINE_MM * len(twig.lines)
    y = placer.y(at_mm + text_mm + 1.0 + BAR_MM / 2.0)
    ends = [
        twig.x_mm - 4.0,
        twig.x_mm + 4.0,
        *(child.x_mm - 3.0 for child in twig.far),
        *(child.x_mm + 3.0 for child in twig.far),
    ]
    width = line_mm(twig.joint) if twig.joint is not None else 0.3
    feed = (
        [line((twig.x_mm, placer.y(at_mm)), (twig.x_mm, y), width_mm=width)] if twig.joint is not None else []
    )
    bar = line((min(ends), y), (max(ends), y), width_mm=BAR_MM)
    texts = column(twig.lines, twig.x_mm + AFTER_MM, placer.top(at_mm + 0.4, text_mm))
    return Group(
        id=block.id, layer="bar", label=block_label(block, placer.writer), paths=(*feed, bar), texts=texts
    )


def _reference_group(placer: Placer, twig: Twig, at_mm: float) -> Group:
    symbol = SYMBOLS["reference"]
    arrow = symbol if twig.shows in {"all", "from"} else SYMBOLS["reference-in"]
    drawn = stamp(arrow, twig.x_mm, placer.y(at_mm), is_up=placer.is_up)
    top = placer.top(at_mm + symbol.height_mm + 1.0, LINE_MM * len(twig.lines))
    texts = column(twig.lines, twig.x_mm, top, anchor="middle")
    name = "" if twig.joint is None else _name(twig.joint)
    return Group(
        id=f"reference-{name}-{twig.shows}", layer="reference", label=" ".join(each.text for each in twig.lines),
        paths=drawn.paths, texts=tuple(dataclasses.replace(text, tone="ink") for text in texts),
    )  # fmt: skip
