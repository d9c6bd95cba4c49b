"""What may not be on a drawing, by geometry alone: texts over texts, lines through texts, symbols over symbols, lines that cross."""

from itertools import pairwise

from ampwright.documents.diagram.text_width import text_width_mm

SLACK_MM = 0.05
SYMBOLS = {"part", "load", "device", "bond", "reference"}
LINES = {"run", "mains", "bond"}


def text_box(text):
    width = text_width_mm(text.text, text.size_mm, is_bold=text.is_bold)
    left = text.x_mm - {"start": 0.0, "middle": width / 2, "end": width}[text.anchor]
    return (left, text.y_mm - 0.72 * text.size_mm, left + width, text.y_mm + 0.2 * text.size_mm)


def overlap(one, other):
    wide = min(one[2], other[2]) - max(one[0], other[0])
    high = min(one[3], other[3]) - max(one[1], other[1])
    return wide > SLACK_MM and high > SLACK_MM


def segments(path):
    points = list(path.points_mm) + ([path.points_mm[0]] if path.is_closed else [])
    return list(pairwise(points))


def cuts_box(segment, box):
    """True where a segment enters a box (Liang-Barsky)."""
    (x1, y1), (x2, y2) = segment
    left, top, right, bottom = box[0] + SLACK_MM, box[1] + SLACK_MM, box[2] - SLACK_MM, box[3] - SLACK_MM
    low, high = 0.0, 1.0
    for p, q in ((x1 - x2, x1 - left), (x2 - x1, right - x1), (y1 - y2, y1 - top), (y2 - y1, bottom - y1)):
        if p == 0.0:
            if q < 0.0:
                return False
        elif p < 0.0:
            low = max(low, q / p)
        else:
            high = min(high, q / p)
    return low < high


def texts_over_texts(sheet):
    texts = [(text_box(text), text.text) for group in sheet.groups for text in group.texts]
    return [(a, b) for i, (one, a) in enumerate(texts) for other, b in texts[i + 1 :] if overlap(one, other)]


def lines_through_texts(sheet):
    texts = [(text_box(text), text.text) for group in sheet.groups for text in group.texts]
    found = []
    for group in sheet.groups:
        for path in group.paths:
            for segment in segments(path):
                found += [(group.id, name) for box, name in texts if cuts_box(segment, box)]
    return found


def shape_box(group):
    points = [point for path in group.paths for point in path.points_mm]
    points += [(c.x_mm + s * c.radius_mm, c.y_mm + s * c.radius_mm) for c in group.circles for s in (-1, 1)]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return (min(xs), min(ys), max(xs), max(ys))


def symbols_over_symbols(sheet):
    boxes = [
        (shape_box(group), group.id)
        for group in sheet.groups
        if group.layer in SYMBOLS and group.paths and not group.id.startswith("line-")
    ]
    return [(a, b) for i, (one, a) in enumerate(boxes) for other, b in boxes[i + 1 :] if overlap(one, other)]


def crossings(sheet):
    """Pairs of lines that cross inside both of them; lines that end on one another join there."""
    lines = [
        (segment, group.id)
        for group in sheet.groups
        if group.layer in LINES
        for path in group.paths
        for segment in segments(path)
    ]
    across = [(s, name) for s, name in lines if abs(s[0][1] - s[1][1]) < 1e-6]
    down = [(s, name) for s, name in lines if abs(s[0][0] - s[1][0]) < 1e-6]
    found = []
    for (a, b), one in across:
        for (c, d), other in down:
            x, y = c[0], a[1]
            is_inside = min(a[0], b[0]) + SLACK_MM < x < max(a[0], b[0]) - SLACK_MM
            if is_inside and min(c[1], d[1]) + SLACK_MM < y < max(c[1], d[1]) - SLACK_MM:
                found.append((one, other))
    return found


def outside(sheet):
    """Texts and lines that leave the drawing."""
    width, height = sheet.size.width_mm, sheet.size.height_mm
    boxes = [(text_box(text), text.text) for group in sheet.groups for text in group.texts]
    boxes += [(shape_box(group), group.id) for group in sheet.groups if group.paths]
    return [name for box, name in boxes if box[0] < 0 or box[1] < 0 or box[2] > width or box[3] > height]


def faults(sheet):
    checks = (texts_over_texts, lines_through_texts, symbols_over_symbols, crossings, outside)
    return [
        (check.__name__, *map(str, found if isinstance(found, tuple) else (found,)))
        for check in checks
        for found in check(sheet)
    ]
