"""The diagram -> DXF (release 2010) in millimetres: a layer for each kind of thing, text as text, sheets beside one another.

A symbol is a block that is inserted wherever it stands, so that the drawing program can count and replace it.
"""

from __future__ import annotations

import hashlib
from typing import TYPE_CHECKING, get_args

from ampwright.documents.diagram.pen import CAPITAL_FRAC
from ampwright.documents.diagram.records import Drawing, Group, Layer, Path, Point, Text
from ampwright.documents.dxf_file import dxf_bytes, new_dxf

if TYPE_CHECKING:
    from ezdxf.document import Drawing as DxfDrawing
    from ezdxf.layouts.blocklayout import BlockLayout
    from ezdxf.layouts.layout import Modelspace

__all__ = ["drawing_dxf"]

GAP_MM = 20.0
"""Between two sheets."""
LINE_POINTS = 2
TEXT_LAYER = "TEXT"
WHITE = 7
"""Colour number that a drawing program shows black on white paper."""
SYMBOL_LAYERS = {"device", "part", "load"}
"""Layers whose groups are symbols: each shape becomes one block, inserted wherever it stands."""
STYLE, BOLD_STYLE = "PLAIN", "BOLD"
LINETYPES = {"": "Continuous", "dashed": "AMP_DASHED", "chain": "AMP_CHAIN"}
WEIGHTS_MM = (0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0)
"""Line widths of ISO 128."""


def drawing_dxf(drawing: Drawing) -> bytes:
    """Return all sheets as one DXF file; the same drawing gives the same bytes."""
    document = new_dxf(dict.fromkeys((*(layer.upper() for layer in get_args(Layer)), TEXT_LAYER), WHITE))
    _prepare(document)
    left = 0.0
    for sheet in drawing.sheets:
        for group in sheet.groups:
            _draw(document, group, left, sheet.size.height_mm)
        left += sheet.size.width_mm + GAP_MM
    highest = max((sheet.size.height_mm for sheet in drawing.sheets), default=0.0)
    document.header["$EXTMIN"] = (0.0, 0.0, 0.0)
    document.header["$EXTMAX"] = (left - GAP_MM, highest, 0.0)
    return dxf_bytes(document)


def _prepare(document: DxfDrawing) -> None:
    document.linetypes.add(LINETYPES["dashed"], pattern=[2.2, 1.4, -0.8], description="_ _ _ _")
    document.linetypes.add(LINETYPES["chain"], pattern=[5.3, 3.2, -0.8, 0.5, -0.8], description="__ . __ .")
    document.styles.add(STYLE, font="NotoSans-Regular.ttf")
    document.styles.add(BOLD_STYLE, font="NotoSans-Bold.ttf")


def _draw(document: DxfDrawing, group: Group, left_mm: float, height_mm: float) -> None:
    """Draw a group: its shapes as an insert of a block where they are a symbol, its texts one by one."""
    space, layer = document.modelspace(), group.layer.upper()
    origin = (left_mm, height_mm)
    if group.layer in SYMBOL_LAYERS and (group.paths or group.circles):
        x, y = group.paths[0].points_mm[0] if group.paths else (group.circles[0].x_mm, group.circles[0].y_mm)
        name = _block(document, group, (-x, y))
        space.add_blockref(name, (left_mm + x, height_mm - y), dxfattribs={"layer": layer})
    else:
        _shapes(space, group, layer, origin)
    for text in group.texts:
        _draw_text(space, text, left_mm, height_mm)


def _block(document: DxfDrawing, group: Group, origin_mm: Point) -> str:
    """Return the name of the block that has the shapes of a group, made where there is none yet."""
    dx, dy = origin_mm
    shapes = [
        (
            path.is_closed,
            path.is_filled,
            path.dash,
            tuple((round(x + dx, 3), round(dy - y, 3)) for x, y in path.points_mm),
        )
        for path in group.paths
    ]
    rounds = [(round(c.x_mm + dx, 3), round(dy - c.y_mm, 3), c.radius_mm, c.is_filled) for c in group.circles]
    mark = hashlib.sha256(repr((shapes, rounds)).encode()).hexdigest()[:12].upper()
    name = f"{group.layer.upper()}-{mark}"
    if name not in document.blocks:
        _shapes(document.blocks.new(name), group, "0", origin_mm)
    return name


def _shapes(space: BlockLayout | Modelspace, group: Group, layer: str, origin_mm: Point) -> None:
    for path in group.paths:
        _draw_path(space, path, layer, origin_mm)
    for circle in group.circles:
        centre = (origin_mm[0] + circle.x_mm, origin_mm[1] - circle.y_mm)
        space.add_circle(centre, circle.radius_mm, dxfattribs={"layer": layer, "lineweight": 25})
        if circle.is_filled:
            hatch = space.add_hatch(dxfattribs={"layer": layer})
            hatch.paths.add_edge_path().add_arc(centre, circle.radius_mm, 0, 360)


def _draw_path(space: BlockLayout | Modelspace, path: Path, layer: str, origin_mm: Point) -> None:
    points = [(round(origin_mm[0] + x, 4), round(origin_mm[1] - y, 4)) for x, y in path.points_mm]
    weight = round(100 * min(WEIGHTS_MM, key=lambda each: abs(each - path.width_mm)))
    look = {"layer": layer, "linetype": LINETYPES[path.dash], "lineweight": weight}
    if len(points) > LINE_POINTS:
        space.add_lwpolyline(points, close=path.is_closed, dxfattribs=look)
    else:
        space.add_line(points[0], points[-1], dxfattribs=look)
    if path.is_filled:
        hatch = space.add_hatch(dxfattribs={"layer": layer})
        hatch.paths.add_polyline_path(points, is_closed=True)


def _draw_text(space: Modelspace, text: Text, left_mm: float, height_mm: float) -> None:
    from ezdxf.enums import TextEntityAlignment  # noqa: PLC0415 - heavy, and only this needs it

    alignment = {
        "start": TextEntityAlignment.LEFT,
        "middle": TextEntityAlignment.CENTER,
        "end": TextEntityAlignment.RIGHT,
    }[text.anchor]
    look = {"layer": TEXT_LAYER, "style": BOLD_STYLE if text.is_bold else STYLE}
    entity = space.add_text(_plain(text.text), height=CAPITAL_FRAC * text.size_mm, dxfattribs=look)
    entity.set_placement((left_mm + text.x_mm, height_mm - text.y_mm), align=alignment)


def _plain(text: str) -> str:
    """Return a text without what DXF reads as a control code, its fixed spaces as plain ones."""
    return text.replace("%%", "% %").replace("^", "ˆ").replace("\u00a0", " ").replace("\u202f", " ")
