"""Title block and notes at the foot of every sheet (fields after ISO 7200; that document was not read, common practice)."""

from __future__ import annotations

from ampwright.documents.diagram.pen import line
from ampwright.documents.diagram.records import Group, Path, Size, Text
from ampwright.documents.diagram.text_width import clean, text_width_mm, wrapped
from ampwright.documents.report_model import DRAFT
from ampwright.documents.words.words import Words, noted
from ampwright.job.records import About
from ampwright.records import record

__all__ = ["BLOCK_MM", "TitleBlock", "frame_group"]

BLOCK_MM = 19.0
"""Height of the title block."""
WIDTH_MM = 132.0
"""Width of the title block; the notes stand to its left."""
NAME_MM = 1.9
"""Type size of field names."""
TEXT_MM = 2.6
"""Type size of their contents."""
NOTES = (
    noted("One line is one circuit: the outgoing conductor and its return. It is read together with the cable schedule, which has "
          "lengths, routes and ends; nobody wires from this drawing alone."),
    noted("Symbols drawn after IEC 60617; thicker line: 10 mm² and more, thickest: 35 mm² and more. Dashed: mains side or tie to "
          "metal; the mains side is shown as far as the job tells it and belongs to a licensed electrician."),
    noted("Chain line: border of the power module. A dot joins lines; lines without a dot do not touch."),
)  # fmt: skip


@record
class TitleBlock:
    """What a title block says."""

    about: About
    """Title block of the job."""
    title: str
    """What the drawing is."""
    is_draft: bool
    """True while it must not be energised by."""
    words: Words
    """Words."""


def frame_group(block: TitleBlock, size: Size, *, number: int, count: int) -> Group:
    """Return frame, notes and title block of a sheet."""
    top, left = size.height_mm - BLOCK_MM, size.width_mm - WIDTH_MM
    texts = [*_notes(block, left - 3.0, top), *_fields(block, left, top, number=number, count=count)]
    if block.is_draft:
        texts.append(
            Text(
                x_mm=left + 3.0,
                y_mm=top + 17.4,
                text=block.words(DRAFT),
                size_mm=4.0,
                is_bold=True,
                tone="rust",
            )
        )
    right, bottom, middle = size.width_mm - 0.2, size.height_mm - 0.2, left + 74.0
    border = ((0.2, 0.2), (right, 0.2), (right, bottom), (0.2, bottom))
    lines = (
        Path(points_mm=border, is_closed=True, width_mm=0.35),
        line((0.2, top), (right, top), width_mm=0.35),
        line((left, top), (left, bottom), width_mm=0.35),
        line((middle, top), (middle, top + 12.6)),
        line((left, top + 6.3), (right, top + 6.3)),
        line((left, top + 12.6), (right, top + 12.6)),
        line((middle + 32.0, top), (middle + 32.0, top + 12.6)),
    )
    return Group(id="title-block", layer="frame", label="", paths=lines, texts=tuple(texts))


def _notes(block: TitleBlock, width_mm: float, top_mm: float) -> tuple[Text, ...]:
    size = 2.0
    lines = [each for note in NOTES for each in wrapped(block.words(note), width_mm - 2.0, size, most=6)]
    step = min(2.7, (BLOCK_MM - 1.6) / max(len(lines), 1))
    return tuple(
        Text(x_mm=1.6, y_mm=top_mm + 2.8 + step * i, text=text, size_mm=min(size, step * 0.8))
        for i, text in enumerate(lines)
    )


def _fields(block: TitleBlock, left: float, top: float, *, number: int, count: int) -> list[Text]:
    about, words = block.about, block.words
    middle, last = left + 74.0, left + 106.0
    sheet = words("sheet {number} of {count}", number=number, count=count)
    fields = (
        (left, top, 74.0, words("title"), about.title),
        (left, top + 6.3, 74.0, words("drawing"), f"{block.title}: {about.id}"),
        (middle, top, 32.0, words("revision"), str(about.revision)),
        (last, top, 26.0, words("date"), about.date.isoformat()),
        (middle, top + 6.3, 32.0, words("author"), about.author or "–"),
        (last, top + 6.3, 26.0, words("sheet"), sheet),
    )
    return [text for x, y, width, name, said in fields for text in _field(x, y, width, name, clean(said))]


def _field(x_mm: float, y_mm: float, width_mm: float, name: str, said: str) -> tuple[Text, Text]:
    room = width_mm - 2.0
    size = min(TEXT_MM, TEXT_MM * room / max(text_width_mm(said, TEXT_MM, is_bold=True), 0.1))
    if size < 1.9:
        size, said = 1.9, wrapped(said, room * 0.93, 1.9, most=1)[0]
    return (
        Text(x_mm=x_mm + 1.0, y_mm=y_mm + 2.2, text=name, size_mm=NAME_MM),
        Text(x_mm=x_mm + 1.0, y_mm=y_mm + 5.2, text=said, size_mm=size, is_bold=True),
    )
