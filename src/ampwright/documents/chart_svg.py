"""Chart geometry -> SVG text: stable ids, a title and a description for those who cannot see it.

Patterns and letters carry the meaning, colour only helps; everything reads in black and white.
"""

from __future__ import annotations

from html import escape

from ampwright.documents.chart_records import BandKind, Chart, LineKind, Mark
from ampwright.documents.svg_parts import BLACK, INK, RUST, label_text, polyline, rectangle, svg_document

__all__ = ["chart_svg"]

BAR_EDGE = f'stroke="{BLACK}" stroke-width="0.12"'
BAND_LOOK: dict[BandKind, str] = {
    "night": 'fill="#ececec"',
    "runs": f'fill="{INK}" fill-opacity="0.16" stroke="{INK}" stroke-width="0.12"',
    "reserve": f'fill="{RUST}" fill-opacity="0.10"',
    "allowed": 'fill="url(#hatch-allowed)"',
    "frame": f'fill="none" stroke="{BLACK}" stroke-width="0.12"',
    "cut-off": f'fill="{RUST}"',
    "road": f'fill="url(#hatch-road)" {BAR_EDGE}',
    "idle": f'fill="url(#dots-idle)" {BAR_EDGE}',
    "hooked-up": f'fill="url(#bars-hooked-up)" {BAR_EDGE}',
    "stored": f'fill="#d0d0d0" {BAR_EDGE}',
}
LINE_LOOK: dict[LineKind, str] = {
    "grid": 'stroke="#b8b8b8" stroke-width="0.12"',
    "day": 'stroke="#8a8a8a" stroke-width="0.12"',
    "axis": f'stroke="{BLACK}" stroke-width="0.25"',
    "reserve": f'stroke="{RUST}" stroke-width="0.3" stroke-dasharray="1.6 0.8"',
    "limit": f'stroke="{RUST}" stroke-width="0.25" stroke-dasharray="1.6 0.8"',
    "course": f'stroke="{INK}" stroke-width="0.45" stroke-linejoin="round"',
    "temperature": f'stroke="{INK}" stroke-width="0.35" stroke-linejoin="round"',
}
PATTERNS = (
    '<pattern id="hatch-road" width="1.1" height="1.1" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
    '<rect width="1.1" height="1.1" fill="#ffffff"/>'
    f'<rect width="0.4" height="1.1" fill="{INK}" fill-opacity="0.55"/></pattern>'
    '<pattern id="dots-idle" width="1" height="1" patternUnits="userSpaceOnUse">'
    '<rect width="1" height="1" fill="#ffffff"/>'
    f'<circle cx="0.5" cy="0.5" r="0.2" fill="{BLACK}"/></pattern>'
    '<pattern id="bars-hooked-up" width="1" height="0.9" patternUnits="userSpaceOnUse">'
    '<rect width="1" height="0.9" fill="#ffffff"/>'
    '<rect width="1" height="0.3" fill="#8a8a8a"/></pattern>'
    '<pattern id="hatch-allowed" width="1.6" height="1.6" patternUnits="userSpaceOnUse" '
    'patternTransform="rotate(-45)"><rect width="0.25" height="1.6" fill="#9dbfc4"/></pattern>'
)


def chart_svg(chart: Chart, *, family: str = "Noto Sans") -> str:
    """Return the chart as an SVG document, one user unit a millimetre."""
    inside = (
        *(rectangle(band, BAND_LOOK[band.kind]) for band in chart.bands),
        *(polyline(line, LINE_LOOK[line.kind]) for line in chart.lines),
        *(_mark(mark) for mark in chart.marks),
        *(label_text(label) for label in chart.labels),
    )
    return svg_document(chart, inside, name="chart", patterns=PATTERNS, family=family)


def _mark(mark: Mark) -> str:
    x, y = mark.x_mm, mark.y_mm
    corners = f"{x:.3f},{y:.3f} {x - 0.9:.3f},{y - 1.7:.3f} {x + 0.9:.3f},{y - 1.7:.3f}"
    return f'<polygon id="{escape(mark.id)}" points="{corners}" fill="{RUST}" stroke="#ffffff" stroke-width="0.2"/>'
