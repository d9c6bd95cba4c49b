"""The offers as a sheet: the first one is the bill's; of the others goods and work are figures, the rest formulas."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.documents.bill.model import sum_names
from ampwright.documents.bill.records import Offer
from ampwright.documents.book.records import Cell, Formula, Table
from ampwright.documents.book.workbook import head_rows
from ampwright.documents.pack.records import Material
from ampwright.documents.sheet.sheet import Sheet
from ampwright.job.quote import Quote
from ampwright.records import record

__all__ = ["BillPlaces", "offer_table"]

COLUMNS = "BCD"


@record
class BillPlaces:
    """Where the bill's sheet holds what the offers are reckoned with."""

    name: str
    """Name of the sheet."""
    goods_row: int
    """Row of its first sum; the other five follow."""
    margin_cell: str
    """Cell of the margin."""
    tax_cell: str
    """Cell of the tax."""

    def sum_cell(self, number: int) -> str:
        """Return one of its six sums as other sheets name it."""
        return f"'{self.name}'!$H${self.goods_row + number}"


def offer_table(material: Material, offers: tuple[Offer, ...], sheet: Sheet, *, places: BillPlaces) -> Table:
    """Return the sheet."""
    top = head_rows(sheet)
    return Table(
        name=material.words("Offers"),
        widths=(30, *([36] * len(offers))),
        rows=(*top, *_rows(material, offers, places, len(top) + 2)),
    )


def _rows(
    material: Material, offers: tuple[Offer, ...], places: BillPlaces, goods_row: int
) -> Iterator[tuple[Cell, ...]]:
    words, quote = material.words, material.design.job.quote or Quote()
    yield tuple(Cell(value=text, look="head") for text in ("", *(offer.title for offer in offers)))
    columns = [
        _bill_formulas(places) if number == 0 else _formulas(COLUMNS[number], goods_row, offer, places)
        for number, offer in enumerate(offers)
    ]
    for name, *cells in zip(sum_names(quote, words), *columns, strict=True):
        values = (words("not said") if value is None else value for value in cells)
        yield (Cell(value=name), *(Cell(value=value, look="money") for value in values))
    for name, texts in (
        (words("use"), [offer.use for offer in offers]),
        (words("wiring and protection"), [offer.wiring for offer in offers]),
        (words("runs of weather and doubt held"), [offer.held for offer in offers]),
        (words("then passes"), [offer.cures for offer in offers]),
        (words("caution"), [offer.caution for offer in offers]),
    ):
        yield tuple(Cell(value=text) for text in (name, *texts))


Value = float | Formula | None


def _bill_formulas(places: BillPlaces) -> list[Value]:
    return [Formula(text=f"={places.sum_cell(number)}") for number in range(6)]


def _formulas(column: str, row: int, offer: Offer, places: BillPlaces) -> list[Value]:
    """Return the cells of a changed offer: two figures and what follows from them."""
    margin, tax = (f"'{places.name}'!{cell}" for cell in (places.margin_cell, places.tax_cell))
    goods, added, work, net, taxed = (f"{column}{row + number}" for number in range(5))
    return [
        float(offer.sums.goods),
        Formula(text=f"=IF(ISNUMBER({margin}),ROUND({goods}*{margin},2),{places.sum_cell(1)})"),
        None if offer.sums.work is None else float(offer.sums.work),
        Formula(text=f"={goods}+N({added})+N({work})"),
        Formula(text=f"=IF(ISNUMBER({tax}),ROUND({net}*{tax},2),{places.sum_cell(4)})"),
        Formula(text=f"=IF(ISNUMBER({taxed}),{net}+{taxed},{places.sum_cell(5)})"),
    ]
