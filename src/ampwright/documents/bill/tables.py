"""The bill as a workbook: lines, sums, margin and tax are formulas, so that a price typed later counts at once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ampwright.documents.bill.difference_table import HOUR, LineKey, key_of
from ampwright.documents.bill.model import SORTS, figure_rows, line_heads, mass_rows, sum_names
from ampwright.documents.bill.offer_table import BillPlaces, offer_tables
from ampwright.documents.bill.records import Bill, BillLine, Offer
from ampwright.documents.book.records import Cell, Formula, Look, Table
from ampwright.documents.book.workbook import head_rows, quoted_text, sheet_name
from ampwright.documents.pack.records import Material
from ampwright.documents.sheet.sheet import Sheet
from ampwright.documents.words.words import Words
from ampwright.job.quote import Quote

__all__ = ["bill_tables"]

Row = tuple[Cell, ...]
LABEL_COLUMN, SUM_COLUMN = 4, 8
"""Column H holds the sums, column D what they are called."""


def bill_tables(
    material: Material, bill: Bill, offers: tuple[Offer, ...], *, notes: Sequence[str], sheet: Sheet
) -> tuple[Table, ...]:
    """Return the sheets: bill, offers, supplied by others with the mass."""
    words, quote = material.words, material.design.job.quote or Quote()
    top = (*head_rows(sheet), *((Cell(value=note, look="note"),) for note in notes), ())
    figures = tuple(_figures(quote, words))
    first = len(top) + len(figures) + 3
    rows = (
        *top,
        *figures,
        (),
        _heads((words("sort"), *line_heads(words))),
        *_lines(bill, words, len(top), first),
    )
    name = sheet_name(words("Bill"))
    return (
        Table(
            name=name,
            widths=(27, 20, 48, 30, 9, 7, 18, 13, 12, 24),
            rows=(*rows, (), *_sums(bill, quote, words, len(top), first)),
            head_row=first - 1,
        ),
        *offer_tables(
            material,
            offers,
            sheet,
            places=BillPlaces(
                name=name,
                goods_row=first + len(bill.lines) + 1,
                margin_cell=_figure_cell(len(top), 1),
                tax_cell=_figure_cell(len(top), 2),
                price_cells=_price_cells(bill, name, len(top), first),
            ),
        ),
        Table(
            name=words("Others and mass"), widths=(40, 70), rows=(*head_rows(sheet), *_rest(material, bill))
        ),
    )


def _price_cells(bill: Bill, name: str, top_count: int, first: int) -> dict[LineKey, str]:
    """Return where each line's price stands, and that of an hour."""
    cells = {key_of(line): f"'{name}'!$G${row}" for row, line in enumerate(bill.lines, start=first)}
    return {**cells, HOUR: f"'{name}'!{_figure_cell(top_count, 0)}"}


def _heads(texts: Sequence[str]) -> Row:
    return tuple(Cell(value=text, look="head") for text in texts)


def _figures(quote: Quote, words: Words) -> Iterator[Row]:
    """Yield the figures everything is reckoned with; their cells are B1, B2, B3 below the head."""
    looks: tuple[Look, ...] = ("money", "rate", "rate")
    for (name, value), look in zip(figure_rows(quote, words), looks, strict=True):
        yield Cell(value=name), Cell(value=words("not said") if value is None else value, look=look)


def _figure_cell(top_count: int, number: int) -> str:
    return f"$B${top_count + 1 + number}"


def _lines(bill: Bill, words: Words, top_count: int, first: int) -> Iterator[Row]:
    for number, line in enumerate(bill.lines, start=first):
        yield (
            Cell(value=words(SORTS[line.sort])),
            Cell(value=line.id),
            Cell(value=line.name),
            Cell(value=line.where),
            Cell(value=float(line.quantity)),
            Cell(value=line.unit),
            Cell(value=_price(line, words, top_count), look="money"),
            Cell(
                value=Formula(text=f'=IF(ISNUMBER(G{number}),ROUND(E{number}*G{number},2),"")'), look="money"
            ),
            Cell(value=line.lead),
            Cell(value=line.alternate),
        )


def _price(line: BillLine, words: Words, top_count: int) -> float | str | Formula:
    if line.sort == "work":
        return Formula(text=f"={_figure_cell(top_count, 0)}")
    return words("price not known") if line.each is None else float(line.each)


def _sums(bill: Bill, quote: Quote, words: Words, top_count: int, first: int) -> Iterator[Row]:
    """Yield the six sums; their cells are the six first of column H below the lines and an empty row."""
    goods = sum(line.sort != "work" for line in bill.lines)
    last, row = first + len(bill.lines) - 1, first + len(bill.lines) + 1
    hour, margin, tax = (_figure_cell(top_count, number) for number in range(3))
    work = f"SUM(H{first + goods}:H{last})" if last >= first + goods else "0"
    unsaid = quoted_text(words("not said"))
    texts = (
        f"=SUM(H{first}:H{first + goods - 1})" if goods else "=0",
        f"=IF(ISNUMBER({margin}),ROUND(H{row}*{margin},2),{unsaid})",
        f"=IF(ISNUMBER({hour}),{work},{unsaid})",
        f"=H{row}+N(H{row + 1})+N(H{row + 2})",
        f"=IF(ISNUMBER({tax}),ROUND(H{row + 3}*{tax},2),{unsaid})",
        f"=IF(ISNUMBER(H{row + 4}),H{row + 3}+H{row + 4},{unsaid})",
    )
    for name, text in zip(sum_names(quote, words), texts, strict=True):
        blank = [Cell(value=None)] * (LABEL_COLUMN - 1)
        yield (
            *blank,
            Cell(value=name, look="total"),
            *([Cell(value=None, look="total")] * (SUM_COLUMN - LABEL_COLUMN - 1)),
            Cell(value=Formula(text=text), look="money-total"),
        )
    if bill.without:
        yield (
            Cell(
                value=words(
                    "The sums are without {names}: price or length not known.", names=", ".join(bill.without)
                ),
                look="note",
            ),
        )


def _rest(material: Material, bill: Bill) -> Iterator[Row]:
    """Yield what others supply, and the mass."""
    words = material.words
    yield _heads((words("who"), words("what")))
    if not bill.others:
        yield (Cell(value=words("nobody else supplies anything")),)
    for other in bill.others:
        yield Cell(value=other.owner), Cell(value=other.what)
    yield ()
    yield _heads((words("Mass"), words("figure")))
    for name, text in mass_rows(material):
        yield Cell(value=name), Cell(value=text)
