"""What an offer with a change buys beside the bill, line by line: prices are those of the bill's cells where it has them."""

from __future__ import annotations

from ampwright.documents.bill.model import SORTS
from ampwright.documents.bill.records import BillLine, Offer
from ampwright.documents.book.records import Cell, Formula, Table
from ampwright.documents.book.workbook import head_rows
from ampwright.documents.pack.records import Material
from ampwright.documents.sheet.sheet import Sheet
from ampwright.documents.words.words import Words
from ampwright.records import record

__all__ = ["HOUR", "Difference", "LineKey", "difference_table", "key_of"]

LineKey = tuple[str, str, str]
"""What tells the lines of two bills apart: sort, id and name."""
HOUR: LineKey = ("work", "", "")
"""Key of the price of an hour."""


@record
class Difference:
    """The sheet of one offer, and where its two sums stand."""

    table: Table
    """The sheet."""
    goods_cell: str
    """Cell of what the goods cost more, as other sheets name it."""
    work_cell: str
    """Cell of what the work costs more."""


def key_of(line: BillLine) -> LineKey:
    """Return what tells a line from others."""
    return line.sort, line.id, line.name


def difference_table(
    material: Material, offer: Offer, *, number: int, sheet: Sheet, price_cells: dict[LineKey, str]
) -> Difference:
    """Return the sheet of an offer.

    Parameters
    ----------
    number : of the offer, from 1
    price_cells : cell of the price of each line of the bill, as other sheets name it
    """
    words = material.words
    name = words("Offer {number}", number=number)
    top = (*head_rows(sheet), (Cell(value=offer.title, look="note"),), ())
    texts = (
        words("sort"),
        words("id"),
        words("what"),
        words("unit"),
        words("as it is"),
        words("with it"),
        words("each"),
        words("difference"),
    )
    changed = _changed(offer)
    first = len(top) + 2
    rows = tuple(_row(pair, first + index, words, price_cells) for index, pair in enumerate(changed))
    goods = sum(_either(pair).sort != "work" for pair in changed)
    last = first + len(changed)
    sums = (
        _sum_row(words("goods"), first, first + goods - 1, len(texts)),
        _sum_row(words("work"), first + goods, last - 1, len(texts)),
    )
    return Difference(
        table=Table(
            name=name,
            widths=(20, 20, 48, 9, 11, 11, 14, 14),
            rows=(*top, tuple(Cell(value=text, look="head") for text in texts), *rows, *sums),
            head_row=first - 1,
        ),
        goods_cell=f"'{name}'!$H${last}",
        work_cell=f"'{name}'!$H${last + 1}",
    )


Pair = tuple[BillLine | None, BillLine | None]
"""A line as it is and with the change; None = there is none."""


def _changed(offer: Offer) -> tuple[Pair, ...]:
    """Return the lines whose quantity or price differs, goods before work."""
    before = {key_of(line): line for line in offer.bill_lines}
    after = {key_of(line): line for line in offer.lines}
    pairs = [(before.get(key), after.get(key)) for key in {**before, **after}]
    different = [pair for pair in pairs if pair[0] != pair[1]]
    return tuple(sorted(different, key=lambda pair: _either(pair).sort == "work"))


def _either(pair: Pair) -> BillLine:
    line = pair[0] or pair[1]
    assert line is not None  # noqa: S101 - a pair holds at least one
    return line


def _row(pair: Pair, number: int, words: Words, price_cells: dict[LineKey, str]) -> tuple[Cell, ...]:
    line = _either(pair)
    was, becomes = (0.0 if each is None else float(each.quantity) for each in pair)
    difference = f'=IF(ISNUMBER(G{number}),ROUND(F{number}*G{number},2)-ROUND(E{number}*G{number},2),"")'
    return (
        Cell(value=words(SORTS[line.sort])),
        Cell(value=line.id),
        Cell(value=line.name),
        Cell(value=line.unit),
        Cell(value=was),
        Cell(value=becomes),
        Cell(value=_price(line, words, price_cells), look="money"),
        Cell(value=Formula(text=difference), look="money"),
    )


def _price(line: BillLine, words: Words, price_cells: dict[LineKey, str]) -> float | str | Formula:
    """Return the bill's own cell, the price of an hour, or the figure of a thing only the change brings."""
    cell = price_cells.get(key_of(line)) or (price_cells.get(HOUR) if line.sort == "work" else None)
    if cell is not None:
        return Formula(text=f"={cell}")
    return words("price not known") if line.each is None else float(line.each)


def _sum_row(name: str, first: int, last: int, count: int) -> tuple[Cell, ...]:
    text = f"=SUM(H{first}:H{last})" if last >= first else "=0"
    return (
        Cell(value=name, look="total"),
        *([Cell(value=None, look="total")] * (count - 2)),
        Cell(value=Formula(text=text), look="money-total"),
    )
