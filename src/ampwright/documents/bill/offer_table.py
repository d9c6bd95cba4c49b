"""The offers as a sheet of formulas: the first one is the bill's, the others add what their own sheet says they differ by."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.documents.bill.difference_table import Difference, LineKey, difference_table
from ampwright.documents.bill.model import sum_names
from ampwright.documents.bill.records import Offer
from ampwright.documents.book.records import Cell, Formula, Table
from ampwright.documents.book.workbook import head_rows
from ampwright.documents.pack.records import Material
from ampwright.documents.sheet.sheet import Sheet
from ampwright.job.quote import Quote
from ampwright.records import record

__all__ = ["BillPlaces", "offer_tables"]

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
    price_cells: dict[LineKey, str]
    """Cell of the price of each line, and of an hour, as other sheets name them."""

    def sum_cell(self, number: int) -> str:
        """Return one of its six sums as other sheets name it."""
        return f"'{self.name}'!$H${self.goods_row + number}"


def offer_tables(
    material: Material, offers: tuple[Offer, ...], sheet: Sheet, *, places: BillPlaces
) -> tuple[Table, ...]:
    """Return the sheet of all offers, and one of each offer with a change."""
    top = head_rows(sheet)
    differences = tuple(
        difference_table(material, offer, number=number, sheet=sheet, price_cells=places.price_cells)
        for number, offer in enumerate(offers, start=1)
        if number > 1
    )
    offered = Table(
        name=material.words("Offers"),
        widths=(30, *([36] * len(offers))),
        rows=(*top, *_rows(material, offers, places, (len(top) + 2, differences))),
    )
    return (offered, *(each.table for each in differences))


def _rows(
    material: Material,
    offers: tuple[Offer, ...],
    places: BillPlaces,
    below: tuple[int, tuple[Difference, ...]],
) -> Iterator[tuple[Cell, ...]]:
    goods_row, differences = below
    words, quote = material.words, material.design.job.quote or Quote()
    yield tuple(Cell(value=text, look="head") for text in ("", *(offer.title for offer in offers)))
    columns = [
        _bill_formulas(places),
        *(
            _formulas(COLUMNS[number], goods_row, each, places)
            for number, each in enumerate(differences, start=1)
        ),
    ]
    for name, *cells in zip(sum_names(quote, words), *columns, strict=True):
        yield (Cell(value=name), *(Cell(value=value, look="money") for value in cells))
    for name, texts in (
        (words("use"), [offer.use for offer in offers]),
        (words("wiring and protection"), [offer.wiring for offer in offers]),
        (words("runs of weather and doubt held"), [offer.held for offer in offers]),
        (words("then passes"), [offer.cures for offer in offers]),
        (words("caution"), [offer.caution for offer in offers]),
    ):
        yield tuple(Cell(value=text) for text in (name, *texts))


def _bill_formulas(places: BillPlaces) -> list[Formula]:
    return [Formula(text=f"={places.sum_cell(number)}") for number in range(6)]


def _formulas(column: str, row: int, difference: Difference, places: BillPlaces) -> list[Formula]:
    """Return the cells of a changed offer: the bill's sums with what it differs by, and what follows from them."""
    margin, tax = (f"'{places.name}'!{cell}" for cell in (places.margin_cell, places.tax_cell))
    goods, added, work, net, taxed = (f"{column}{row + number}" for number in range(5))
    return [
        Formula(text=f"={places.sum_cell(0)}+{difference.goods_cell}"),
        Formula(text=f"=IF(ISNUMBER({margin}),ROUND({goods}*{margin},2),{places.sum_cell(1)})"),
        Formula(
            text=f"=IF(ISNUMBER({places.sum_cell(2)}),{places.sum_cell(2)}+{difference.work_cell},{places.sum_cell(2)})"
        ),
        Formula(text=f"={goods}+N({added})+N({work})"),
        Formula(text=f"=IF(ISNUMBER({tax}),ROUND({net}*{tax},2),{places.sum_cell(4)})"),
        Formula(text=f"=IF(ISNUMBER({taxed}),{net}+{taxed},{places.sum_cell(5)})"),
    ]
