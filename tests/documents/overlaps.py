"""Where letters of a PDF page lie over one another, or leave the sheet: told by an independent reader."""

from collections import defaultdict

LEAST_OVERLAP_FRAC = 0.4
"""Part of the smaller letter that lies under the other; kerned neighbours share far less."""
LIGATURE_COUNT = 2
"""Letters of one ligature (ffi) share a box; neighbours in a word are never judged."""
CELL_PT = 12.0


def letters(page):
    """Return (left, bottom, right, top, place, words near it) of every visible letter."""
    text = page.get_textpage()
    whole = text.get_text_range()
    found = []
    for index in range(text.count_chars()):
        left, bottom, right, top = text.get_charbox(index)
        if right - left > 0.05 and top - bottom > 0.05:
            found.append((left, bottom, right, top, index))
    return [(*box, whole[max(0, box[4] - 12) : box[4] + 12]) for box in found]


def faults(page):
    """Return a sentence for each letter that is clipped by the sheet or lies over another."""
    width, height = page.get_size()
    found = []
    cells = defaultdict(list)
    for box in letters(page):
        left, bottom, right, top, _, near = box
        if left < 0 or bottom < 0 or right > width or top > height:
            found.append(f"{near!r} leaves the sheet")
        for across in range(int(left // CELL_PT), int(right // CELL_PT) + 1):
            for up in range(int(bottom // CELL_PT), int(top // CELL_PT) + 1):
                cells[across, up].append(box)
    for inside in cells.values():
        for i, one in enumerate(inside):
            for other in inside[i + 1 :]:
                wide = min(one[2], other[2]) - max(one[0], other[0])
                high = min(one[3], other[3]) - max(one[1], other[1])
                smaller = min((each[2] - each[0]) * (each[3] - each[1]) for each in (one, other))
                if abs(one[4] - other[4]) <= LIGATURE_COUNT:
                    continue
                if wide > 0 and high > 0 and wide * high > LEAST_OVERLAP_FRAC * smaller:
                    found.append(f"{one[5]!r} over {other[5]!r}")
    return found
