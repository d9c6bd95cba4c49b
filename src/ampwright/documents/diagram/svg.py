"""A sheet of the diagram -> SVG text, one user unit a millimetre: every circuit, part and load a group with a stable id.

A web page can give the groups behaviour; nothing here moves. Patterns and line widths carry the meaning, colour only helps.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from html import escape

from ampwright.documents.diagram.records import Circle, DrawnSheet, Group, Path, Text, Tone
from ampwright.documents.svg_parts import BLACK, INK, RUST
from ampwright.records import record

__all__ = ["FAMILY", "Linked", "sheet_svg", "stable_id"]

FAMILY = "Noto Sans, Noto Sans Math, Noto Sans Hebrew, Noto Sans Arabic"
TONES: dict[Tone, str] = {"black": BLACK, "ink": INK, "rust": RUST}
DASHES = {"": "", "dashed": ' stroke-dasharray="1.4 0.8"', "chain": ' stroke-dasharray="3.2 0.8 0.5 0.8"'}
REACH_MM = 0.8
"""How far around its lines a group takes a click."""


@record
class Linked:
    """How a sheet stands in a page of the web, among others like it."""

    name: str
    """Begins every id of the sheet."""
    links: Mapping[str, str]
    """Address for each group that can be chosen, by its name."""
    chosen: frozenset[str] = frozenset()
    """Names of the groups that are chosen."""
    silent: frozenset[str] = frozenset()
    """Names of groups that are reached by pointer only, since another group leads to the same place."""


def sheet_svg(sheet: DrawnSheet, linked: Linked | None = None) -> str:
    """Return a sheet as an SVG document, or as a part of a page with links to what can be chosen."""
    size = sheet.size
    name = linked.name if linked is not None else "diagram"
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{size.width_mm:.2f}mm" height="{size.height_mm:.2f}mm" '
        f'viewBox="0 0 {size.width_mm:.2f} {size.height_mm:.2f}" role="graphics-document document" '
        f'aria-labelledby="{name}-title {name}-description" font-family="{escape(FAMILY)}" fill="none" '
        f'stroke-linejoin="round">'
    )
    about = (
        f'<title id="{name}-title">{escape(sheet.title)}</title>',
        f'<desc id="{name}-description">{escape(sheet.description)}</desc>',
    )
    seen: dict[str, int] = {}
    groups = (_group(group, seen, linked) for group in sheet.groups)
    return "\n".join([head, *about, *groups, "</svg>"]) + "\n"


def stable_id(name: str) -> str:
    """Return a name as an id of XML: letters that may not stand in one become an underscore.

    Examples
    --------
    >>> stable_id("run-W 12")
    'run-W_12'
    """
    return re.sub(r"[^\w.-]", "_", name)


def _group(group: Group, seen: dict[str, int], linked: Linked | None) -> str:
    name = stable_id(group.id)
    seen[name] = seen.get(name, 0) + 1
    unique = name if seen[name] == 1 else f"{name}-{seen[name]}"
    inside = (
        _reach(group) if group.label else "",
        *(_path(path) for path in group.paths),
        *(_circle(circle) for circle in group.circles),
        *(_text(text) for text in group.texts),
    )
    if linked is not None:
        return _linked_group(group, f"{linked.name}-{unique}", linked, "".join(inside))
    said = f' role="img" aria-label="{escape(group.label)}" tabindex="0"' if group.label else ""
    return f'<g id="{escape(unique)}" class="{group.layer}"{said}>{"".join(inside)}</g>'


def _linked_group(group: Group, unique: str, linked: Linked, inside: str) -> str:
    """Return a group of a page: a link where it can be chosen, else a picture that takes no place among the links."""
    begin = f'id="{escape(unique)}" class="{group.layer}" aria-label="{escape(group.label)}"'
    address = linked.links.get(group.id)
    if not group.label:
        return f'<g id="{escape(unique)}" class="{group.layer}">{inside}</g>'
    if address is None:
        return f'<g {begin} role="img">{inside}</g>'
    current = ' aria-current="true"' if group.id in linked.chosen else ""
    silent = ' tabindex="-1"' if group.id in linked.silent else ""
    return f'<a {begin} href="{escape(address)}"{current}{silent}>{inside}</a>'


def _reach(group: Group) -> str:
    """Return an unseen box for each line, so that a thin line can be hit."""
    boxes = []
    for path in group.paths:
        xs, ys = [x for x, _ in path.points_mm], [y for _, y in path.points_mm]
        left, top = min(xs) - REACH_MM, min(ys) - REACH_MM
        width, height = max(xs) - left + REACH_MM, max(ys) - top + REACH_MM
        boxes.append(f"M{left:.2f} {top:.2f}h{width:.2f}v{height:.2f}h{-width:.2f}z")
    return f'<path class="reach" d="{"".join(boxes)}" pointer-events="all"/>' if boxes else ""


def _path(path: Path) -> str:
    points = " ".join(f"{x:.3f},{y:.3f}" for x, y in path.points_mm)
    name = "polygon" if path.is_closed else "polyline"
    fill = f' fill="{BLACK}"' if path.is_filled else ""
    return f'<{name} points="{points}" stroke="{BLACK}" stroke-width="{path.width_mm:g}"{DASHES[path.dash]}{fill}/>'


def _circle(circle: Circle) -> str:
    fill = f' fill="{BLACK}"' if circle.is_filled else ""
    return (
        f'<circle cx="{circle.x_mm:.3f}" cy="{circle.y_mm:.3f}" r="{circle.radius_mm:.3f}" stroke="{BLACK}" '
        f'stroke-width="{circle.width_mm:g}"{fill}/>'
    )


def _text(text: Text) -> str:
    weight = ' font-weight="bold"' if text.is_bold else ""
    return (
        f'<text x="{text.x_mm:.3f}" y="{text.y_mm:.3f}" font-size="{text.size_mm:.3f}" text-anchor="{text.anchor}" '
        f'fill="{TONES[text.tone]}"{weight}>{escape(text.text)}</text>'
    )
