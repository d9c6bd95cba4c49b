"""Geometry of a time-current chart -> SVG text; patterns and letters carry the meaning, colour only helps."""

from __future__ import annotations

from html import escape

from ampwright.documents.chart_records import Label
from ampwright.documents.chart_svg import INK, RUST
from ampwright.documents.curve_records import CurveBox, CurveBoxKind, CurveChart, CurveLine, CurveLineKind

__all__ = ["curve_svg"]

BLACK = "#1a1a1a"
BOX_LOOK: dict[CurveBoxKind, str] = {
    "own": 'fill="url(#hatch-own)"',
    "upstream": 'fill="url(#dots-upstream)"',
    "frame": f'fill="none" stroke="{BLACK}" stroke-width="0.25"',
    "letter": f'fill="#ffffff" stroke="{BLACK}" stroke-width="0.2"',
}
LINE_LOOK: dict[CurveLineKind, str] = {
    "own": f'stroke="{INK}" stroke-width="0.4" stroke-linejoin="round"',
    "upstream": f'stroke="{BLACK}" stroke-width="0.25" stroke-linejoin="round"',
    "cable": f'stroke="{RUST}" stroke-width="0.5" stroke-dasharray="2.2 0.8" stroke-linejoin="round"',
    "load": f'stroke="{BLACK}" stroke-width="0.25" stroke-dasharray="0.4 0.6"',
    "fault": f'stroke="{BLACK}" stroke-width="0.3"',
    "grid": 'stroke="#b8b8b8" stroke-width="0.12"',
    "fine-grid": 'stroke="#dcdcdc" stroke-width="0.1"',
}
PATTERNS = (
    '<pattern id="hatch-own" width="1.3" height="1.3" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
    f'<rect width="0.3" height="1.3" fill="{INK}" fill-opacity="0.55"/></pattern>'
    '<pattern id="dots-upstream" width="1.2" height="1.2" patternUnits="userSpaceOnUse">'
    '<circle cx="0.6" cy="0.6" r="0.16" fill="#6a6a6a"/></pattern>'
)


def curve_svg(chart: CurveChart, *, family: str = "Noto Sans") -> str:
    """Return the chart as an SVG document, one user unit a millimetre."""
    size = f'width="{chart.width_mm:.2f}mm" height="{chart.height_mm:.2f}mm"'
    view = f'viewBox="0 0 {chart.width_mm:.2f} {chart.height_mm:.2f}"'
    inside = [
        f'<title id="curve-title">{escape(chart.title)}</title>',
        f'<desc id="curve-description">{escape(chart.description)}</desc>',
        f"<defs>{PATTERNS}</defs>",
        *(_line(line) for line in chart.lines if line.kind in {"grid", "fine-grid"}),
        *(_box(box) for box in chart.boxes),
        *(_line(line) for line in chart.lines if line.kind not in {"grid", "fine-grid"}),
        *(_box(box) for box in chart.tags),
        *(_label(label) for label in chart.labels),
    ]
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} {view} role="img" '
        f'aria-labelledby="curve-title curve-description" font-family="{escape(family)}">'
    )
    return "\n".join([head, *inside, "</svg>"]) + "\n"


def _box(box: CurveBox) -> str:
    return (
        f'<rect id="{escape(box.id)}" x="{box.x_mm:.3f}" y="{box.y_mm:.3f}" width="{box.width_mm:.3f}" '
        f'height="{box.height_mm:.3f}" {BOX_LOOK[box.kind]}/>'
    )


def _line(line: CurveLine) -> str:
    points = " ".join(f"{x_mm:.3f},{y_mm:.3f}" for x_mm, y_mm in line.points_mm)
    return f'<polyline id="{escape(line.id)}" points="{points}" fill="none" {LINE_LOOK[line.kind]}/>'


def _label(label: Label) -> str:
    weight = ' font-weight="bold"' if label.is_bold else ""
    return (
        f'<text id="{escape(label.id)}" x="{label.x_mm:.3f}" y="{label.y_mm:.3f}" font-size="{label.size_mm:.2f}" '
        f'text-anchor="{label.anchor}" fill="{BLACK}"{weight}>{escape(label.text)}</text>'
    )
