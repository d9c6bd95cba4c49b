"""Chart geometry -> SVG text: stable ids, a title and a description for those who cannot see it.

Patterns and letters carry the meaning, colour only helps; everything reads in black and white.
"""

from __future__ import annotations

from html import escape

from ampwright.documents.chart_records import Band, BandKind, Chart, Label, Line, LineKind, Mark

__all__ = ["INK", "RUST", "chart_svg"]

INK = "#14505c"
RUST = "#a23b14"
BLACK = "#1a1a1a"

BAR_EDGE = f'stroke="{BLACK}" stroke-width="0.12"'
BAND_LOOK: dict[BandKind, str] = {
    "night": 'fill="#ececec"',
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
    size = f'width="{chart.width_mm:.2f}mm" height="{chart.height_mm:.2f}mm"'
    box = f'viewBox="0 0 {chart.width_mm:.2f} {chart.height_mm:.2f}"'
    inside = [
        f'<title id="chart-title">{escape(chart.title)}</title>',
        f'<desc id="chart-description">{escape(chart.description)}</desc>',
        f"<defs>{PATTERNS}</defs>",
        *(_band(band) for band in chart.bands),
        *(_line(line) for line in chart.lines),
        *(_mark(mark) for mark in chart.marks),
        *(_label(label) for label in chart.labels),
    ]
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} {box} role="img" '
        f'aria-labelledby="chart-title chart-description" font-family="{escape(family)}">'
    )
    return "\n".join([head, *inside, "</svg>"]) + "\n"


def _band(band: Band) -> str:
    return (
        f'<rect id="{escape(band.id)}" x="{band.x_mm:.3f}" y="{band.y_mm:.3f}" width="{band.width_mm:.3f}" '
        f'height="{band.height_mm:.3f}" {BAND_LOOK[band.kind]}/>'
    )


def _line(line: Line) -> str:
    points = " ".join(f"{x_mm:.3f},{y_mm:.3f}" for x_mm, y_mm in line.points_mm)
    return f'<polyline id="{escape(line.id)}" points="{points}" fill="none" {LINE_LOOK[line.kind]}/>'


def _mark(mark: Mark) -> str:
    x, y = mark.x_mm, mark.y_mm
    corners = f"{x:.3f},{y:.3f} {x - 0.9:.3f},{y - 1.7:.3f} {x + 0.9:.3f},{y - 1.7:.3f}"
    return f'<polygon id="{escape(mark.id)}" points="{corners}" fill="{RUST}" stroke="#ffffff" stroke-width="0.2"/>'


def _label(label: Label) -> str:
    weight = ' font-weight="bold"' if label.is_bold else ""
    return (
        f'<text id="{escape(label.id)}" x="{label.x_mm:.3f}" y="{label.y_mm:.3f}" font-size="{label.size_mm:.2f}" '
        f'text-anchor="{label.anchor}" fill="{BLACK}"{weight}>{escape(label.text)}</text>'
    )
