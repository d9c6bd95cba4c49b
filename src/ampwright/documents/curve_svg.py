"""Geometry of a time-current chart -> SVG text; patterns and letters carry the meaning, colour only helps."""

from __future__ import annotations

from ampwright.documents.curve_records import CurveBoxKind, CurveChart, CurveLineKind
from ampwright.documents.svg_parts import BLACK, INK, RUST, label_text, polyline, rectangle, svg_document

__all__ = ["curve_svg"]

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
    grid = [line for line in chart.lines if line.kind in {"grid", "fine-grid"}]
    drawn = [line for line in chart.lines if line.kind not in {"grid", "fine-grid"}]
    inside = (
        *(polyline(line, LINE_LOOK[line.kind]) for line in grid),
        *(rectangle(box, BOX_LOOK[box.kind]) for box in chart.boxes),
        *(polyline(line, LINE_LOOK[line.kind]) for line in drawn),
        *(rectangle(box, BOX_LOOK[box.kind]) for box in chart.tags),
        *(label_text(label) for label in chart.labels),
    )
    return svg_document(chart, inside, name="curve", patterns=PATTERNS, family=family)
