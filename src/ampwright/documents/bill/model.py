"""Bill and offers -> what the PDF prints: texts only."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from decimal import Decimal

from ampwright.documents.bill.lines import has_negative_bar
from ampwright.documents.bill.offers import caution_of, free_changes
from ampwright.documents.bill.records import Bill, BillLine, Offer, Sums
from ampwright.documents.pack.records import Material
from ampwright.documents.quantity_text import NARROW_SPACE, UNIT_SPACE
from ampwright.documents.sheet.sheet import LICENSED
from ampwright.documents.words.words import Words, noted
from ampwright.job.quote import Quote
from ampwright.records import record

__all__ = [
    "SORTS",
    "BillPage",
    "bill_page",
    "figure_rows",
    "line_heads",
    "mass_rows",
    "money_text",
    "six_sums",
    "sum_names",
]

SORTS = {
    "module": noted("Power module"),
    "part": noted("Parts"),
    "device": noted("Fuses, breakers, switches, plugs"),
    "cable": noted("Cable, cut lengths"),
    "fitting": noted("Lugs, ferrules, joints"),
    "work": noted("Work"),
}
NOT_KNOWN = noted("price not known")
NOT_SAID = noted("not said")


@record
class BillPage:
    """Everything the PDF prints."""

    notes: tuple[str, ...]
    """Currency, validity, what is not known."""
    titles: tuple[str, ...]
    """Headings: offers, lines, others, mass."""
    offer_heads: tuple[str, ...]
    """Names of the offers, after an empty cell."""
    offer_rows: tuple[tuple[str, ...], ...]
    """What each costs and buys."""
    free: tuple[str, ...]
    """Changes that need no parts, each with its caution."""
    line_heads: tuple[str, ...]
    """Heads of the lines."""
    groups: tuple[tuple[str, tuple[tuple[str, ...], ...]], ...]
    """Heading and rows of each sort."""
    other_heads: tuple[str, ...]
    """Heads of what others supply."""
    others: tuple[tuple[str, ...], ...]
    """What others supply."""
    mass: tuple[tuple[str, str], ...]
    """Mass and centre of gravity."""
    mass_heads: tuple[str, ...]
    """Heads of that table."""


def bill_page(material: Material, bill: Bill, offers: tuple[Offer, ...]) -> BillPage:
    """Return what the PDF prints."""
    words = material.words
    return BillPage(
        notes=(*_notes(material, bill), words(LICENSED)),
        titles=(
            words("Offers"),
            words("What is in it, as it is"),
            words("Supplied by others"),
            words("Mass"),
        ),
        offer_heads=("", *(offer.title for offer in offers)),
        offer_rows=tuple(offer_rows(material, bill, offers)),
        free=tuple(
            " ".join(
                (
                    words("Without parts: {change}.", change=words.said(change.description)),
                    caution_of(change, words),
                )
            ).strip()
            for change in free_changes(material)
        ),
        line_heads=line_heads(words),
        groups=tuple(_groups(bill, words)),
        other_heads=(words("who"), words("what")),
        others=tuple((other.owner, other.what) for other in bill.others),
        mass=tuple(mass_rows(material)),
        mass_heads=(words("what"), words("figure")),
    )


def money_text(money: Decimal | None, words: Words, *, unknown: str = NOT_SAID) -> str:
    """Return an amount with two decimals; words where it is not known."""
    if money is None:
        return words(unknown)
    return words.decimal(f"{money:,.2f}".replace(",", NARROW_SPACE))


def line_heads(words: Words) -> tuple[str, ...]:
    """Return the heads of the lines."""
    return (
        words("id"),
        words("what"),
        words("for"),
        words("count"),
        words("unit"),
        words("each"),
        words("sum"),
        words("lead time"),
        words("alternate"),
    )


def _groups(bill: Bill, words: Words) -> Iterator[tuple[str, tuple[tuple[str, ...], ...]]]:
    for sort, title in SORTS.items():
        rows = tuple(_row(line, words) for line in bill.lines if line.sort == sort)
        if rows:
            yield words(title), rows


def _row(line: BillLine, words: Words) -> tuple[str, ...]:
    return (
        line.id,
        line.name,
        line.where,
        words.decimal(f"{line.quantity.normalize():f}"),
        line.unit,
        money_text(line.each, words, unknown=NOT_KNOWN),
        "\u2013" if line.total is None else money_text(line.total, words),
        line.lead,
        line.alternate,
    )


def figure_rows(quote: Quote, words: Words) -> tuple[tuple[str, float | None], ...]:
    """Return the figures everything is reckoned with: price of an hour, margin, tax; None = not said."""
    tax = quote.tax_name or words("tax")
    return (
        (words("price of an hour"), quote.hour_money),
        (words("margin on goods"), quote.margin_frac),
        (tax, quote.tax_frac),
    )


def offer_rows(material: Material, bill: Bill, offers: tuple[Offer, ...]) -> Iterator[tuple[str, ...]]:
    """Yield what each offer costs, what the sums leave out, and what it buys."""
    words, quote = material.words, material.design.job.quote or Quote()
    for number, name in enumerate(sum_names(quote, words)):
        yield (name, *(money_text(six_sums(offer.sums)[number], words) for offer in offers))
    if bill.without:
        yield (words("without"), *(words("see the notes") for _ in offers))
    yield (words("use"), *(offer.use for offer in offers))
    yield (words("wiring and protection"), *(offer.wiring for offer in offers))
    yield (words("runs of weather and doubt held"), *(offer.held for offer in offers))
    if len(offers) > 1:
        yield (words("then passes"), *(offer.cures or "\u2013" for offer in offers))
    if any(offer.caution for offer in offers):
        yield (words("caution"), *(offer.caution or "\u2013" for offer in offers))


def sum_names(quote: Quote, words: Words) -> tuple[str, ...]:
    """Return what each of the six sums is called."""
    rate = f"{100.0 * (quote.tax_frac or 0.0):g}{UNIT_SPACE}%"
    tax = (
        f"{quote.tax_name or words('tax')} {words.decimal(rate)}"
        if quote.tax_frac is not None
        else words("tax")
    )
    return (
        words("goods"),
        words("margin"),
        words("work"),
        words("sum without tax"),
        tax,
        words("sum with tax"),
    )


def six_sums(sums: Sums) -> tuple[Decimal | None, ...]:
    """Return the sums in the order of their names."""
    return (sums.goods, sums.margin, sums.work, sums.net, sums.tax, sums.gross)


def _notes(material: Material, bill: Bill) -> Iterator[str]:
    words, quote, date = material.words, material.design.job.quote or Quote(), material.about.date
    yield words("Amounts in {currency}, without tax where nothing else is said.", currency=quote.currency)
    if quote.valid_days is None:
        yield words("How long it holds is not said: it is a calculation, no offer that binds.")
    else:
        until = (date + dt.timedelta(days=quote.valid_days)).isoformat()
        yield words("Holds until {date}.", date=until)
    if bill.without:
        yield words("The sums are without {names}: price or length not known.", names=", ".join(bill.without))
    said = [price.lead_days for price in quote.price if price.lead_days is not None]
    if said:
        yield words("Longest lead time said: {count} days.", count=max(said))
    else:
        yield words("Lead times are not said.")
    if any(has_negative_bar(material.design, placed) for placed in material.design.parts):
        yield words(
            "A bus bar of the job is counted twice, for positive and negative, where negatives come by cable."
        )
    if any(load.fridge is not None for load in material.design.loads):
        yield words("Refrigerators are counted with the parts: the job does not say who brings them.")
    if any(line.sort == "work" and line.where for line in bill.lines):
        yield words("Hours marked 'own choice' are this program's; [quote] in the job changes them.")


def mass_rows(material: Material) -> Iterator[tuple[str, str]]:
    """Yield what the system adds: mass, centre of gravity, and what was not weighed or placed."""
    words, units, mass = material.words, material.about.units, material.found.mass
    yield words("added mass"), words.quantity(mass.added_kg, "kg", units=units)
    for name, value_mm in (
        (words("centre of gravity behind the front axle"), mass.centre_from_front_axle_mm),
        (words("centre of gravity above the ground"), mass.centre_above_ground_mm),
    ):
        yield name, words("not known") if value_mm is None else words.quantity(value_mm, "mm", units=units)
    if mass.without_mass:
        yield words("not weighed"), ", ".join(mass.without_mass)
    if mass.without_place:
        yield words("without a distance"), ", ".join(mass.without_place)
