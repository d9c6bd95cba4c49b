"""Lines of a bill, its sums, and the offers: money in exact decimal figures."""

from __future__ import annotations

from decimal import Decimal
from typing import Literal

from ampwright.records import record

__all__ = ["Bill", "BillLine", "Offer", "OtherLine", "Sums"]

Sort = Literal["module", "part", "device", "cable", "fitting", "work"]
"""What a line is of."""


@record
class BillLine:
    """One line: so many of a thing at a price."""

    sort: Sort
    """What it is of."""
    id: str
    """Catalogue id; empty for work and fittings."""
    name: str
    """What it is."""
    where: str
    """Where it is used."""
    quantity: Decimal
    """How many pieces, metres or hours."""
    unit: str
    """"pcs", "m" or "h", in words."""
    each: Decimal | None
    """Price of one; None = not known."""
    lead: str
    """Lead time; empty = not said."""
    alternate: str
    """What may take its place; empty = not said."""

    @property
    def total(self) -> Decimal | None:
        """Return the price of the line to the cent; None = not known."""
        return None if self.each is None else cents(self.quantity * self.each)


def cents(money: Decimal) -> Decimal:
    """Return an amount rounded to the cent, halves away from nought as spreadsheets do.

    Examples
    --------
    >>> cents(Decimal("1.005")), cents(Decimal("-1.005"))
    (Decimal('1.01'), Decimal('-1.01'))
    """
    return money.quantize(Decimal("0.01"), rounding="ROUND_HALF_UP")


@record
class OtherLine:
    """A thing somebody else supplies."""

    owner: str
    """Who."""
    what: str
    """What, with its count."""


@record
class Sums:
    """Sums of a bill; those that hang on something not said are None."""

    goods: Decimal
    """Lines of goods whose price is known."""
    margin: Decimal | None
    """Added to them; None = not said."""
    work: Decimal | None
    """Hours at their price; None = not said."""
    net: Decimal
    """What is known, without tax."""
    tax: Decimal | None
    """Tax; None = not said."""
    gross: Decimal | None
    """With tax; None = tax not said."""


@record
class Bill:
    """The bill of one design."""

    lines: tuple[BillLine, ...]
    """Goods, then work."""
    others: tuple[OtherLine, ...]
    """What others supply."""
    sums: Sums
    """Its sums."""
    without: tuple[str, ...]
    """What the sums do not hold because its price is not known."""


@record
class Offer:
    """One step: what it costs and what it buys."""

    title: str
    """As it is, or what is changed."""
    sums: Sums
    """Its sums."""
    bill_lines: tuple[BillLine, ...]
    """Lines of the bill as it is."""
    lines: tuple[BillLine, ...]
    """Lines with the change."""
    use: str
    """First verdict."""
    wiring: str
    """Second verdict."""
    held: str
    """Runs of weather and doubt held; words where none were made."""
    cures: str
    """Rules that pass with it."""
    caution: str
    """A hazard that comes with it."""
