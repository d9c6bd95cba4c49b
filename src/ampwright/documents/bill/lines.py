"""Design -> lines of the bill: module, parts, devices, cable by the metre, fittings, work; and what others supply."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from decimal import Decimal

from ampwright.documents.bill.hours import OWN, hour_counts
from ampwright.documents.bill.records import Bill, BillLine, OtherLine, Sort, Sums, cents
from ampwright.documents.cabling.fittings import colour_text, fitting_counts
from ampwright.documents.cabling.pieces import pieces, supplier
from ampwright.documents.cabling.wording import OWNERS, cable_size_text
from ampwright.documents.quantity_text import UNIT_SPACE
from ampwright.documents.schedule.cutting import cut_pieces, grouped, sum_m
from ampwright.documents.words.words import Words, noted
from ampwright.job.design import Design, DesignPart
from ampwright.job.quote import Quote, QuotePrice
from ampwright.parts.cable import Cable
from ampwright.parts.hardware import BusBar
from ampwright.parts.kinds import Part
from ampwright.records import record

__all__ = ["bill_of", "has_negative_bar", "sums_of"]

KINDS = {"fitting": noted("lugs, ferrules and joints"), "work": noted("work")}
SHOWN = 6
"""Most places named in a line; more are counted."""


def bill_of(design: Design, words: Words) -> Bill:
    """Return the bill of a design."""
    quote = design.job.quote or Quote()
    lines = tuple(_goods(design, quote, words)) + tuple(_work(design, quote, words))
    return Bill(
        lines=lines,
        others=tuple(_others(design, words)),
        sums=sums_of(lines, quote),
        without=tuple(dict.fromkeys(_without(design, lines, words))),
    )


def _without(design: Design, lines: tuple[BillLine, ...], words: Words) -> Iterator[str]:
    """Yield what the sums do not hold."""
    for line in lines:
        if line.each is None:
            yield words(KINDS[line.sort]) if line.sort in KINDS else line.name
    unknown = [piece.id for piece in cut_pieces(pieces(design)) if piece.cut_m is None]
    if unknown:
        yield words("cable to be measured ({names})", names=", ".join(unknown))


def sums_of(lines: tuple[BillLine, ...], quote: Quote) -> Sums:
    """Return the sums: each line to the cent, then margin and tax to the cent."""
    goods = _sum(line for line in lines if line.sort != "work")
    margin = None if quote.margin_frac is None else cents(goods * Decimal(repr(quote.margin_frac)))
    work = None if quote.hour_money is None else _sum(line for line in lines if line.sort == "work")
    net = goods + (margin or Decimal(0)) + (work or Decimal(0))
    tax = None if quote.tax_frac is None else cents(net * Decimal(repr(quote.tax_frac)))
    return Sums(
        goods=goods, margin=margin, work=work, net=net, tax=tax, gross=None if tax is None else net + tax
    )


def _sum(lines: Iterator[BillLine]) -> Decimal:
    return sum((line.total or Decimal(0) for line in lines), Decimal("0.00"))


@record
class _Goods:
    """A line before lead time and alternate are looked up."""

    sort: Sort
    """What it is of."""
    id: str
    """Catalogue id; empty = none."""
    name: str
    """What it is."""
    places: tuple[str, ...]
    """Where it is used, one entry for each piece."""
    quantity: Decimal
    """How many."""
    unit: str
    """Of what."""
    each: Decimal | None
    """Price of one; None = not known."""


def _goods(design: Design, quote: Quote, words: Words) -> Iterator[BillLine]:
    prices = {price.part: price for price in quote.price}
    found = (
        *_module(design, prices, words),
        *_pieces_of(design, quote, prices, words),
        *_cables(design, quote, prices, words),
        *_fittings(design, quote, words),
    )
    for goods in found:
        yield _line(goods, prices.get(goods.id), words)


def _module(design: Design, prices: dict[str, QuotePrice], words: Words) -> Iterator[_Goods]:
    use, definition = design.job.module, design.module
    if use is not None and definition is not None:
        own = prices.get(use.id)
        yield _Goods(
            sort="module",
            id=use.id,
            name=words("{name}, revision {revision}", name=definition.name, revision=definition.revision),
            places=(words("serial {serial}", serial=use.serial),) if use.serial else (),
            quantity=Decimal(1),
            unit=words("pcs"),
            each=None if own is None or own.price_money is None else _money(own.price_money),
        )


def _pieces_of(design: Design, quote: Quote, prices: dict[str, QuotePrice], words: Words) -> Iterator[_Goods]:
    kinds: tuple[tuple[Sort, dict[str, tuple[Part, list[str]]]], ...] = (
        ("part", _parts(design)),
        ("device", _devices(design)),
    )
    for sort, found in kinds:
        for part_id, (part, places) in found.items():
            yield _Goods(
                sort=sort,
                id=part_id,
                name=part.name,
                places=tuple(places),
                quantity=Decimal(len(places)),
                unit=words("pcs"),
                each=_each(part, quote, prices.get(part_id)),
            )


def _cables(design: Design, quote: Quote, prices: dict[str, QuotePrice], words: Words) -> Iterator[_Goods]:
    units = design.job.job.units
    for (cable_id, colour), group in grouped(cut_pieces(pieces(design))).items():
        cable = group[0].cable
        size, tint = cable_size_text(cable, words, units=units), colour_text(colour, words)
        name = f"{cable.name}, {size}, {tint}"
        if any(piece.cut_m is None for piece in group):
            name = words("{name}; more is to be measured", name=name)
        yield _Goods(
            sort="cable",
            id=cable_id,
            name=name,
            places=tuple(dict.fromkeys(piece.run or piece.id for piece in group)),
            quantity=Decimal(repr(sum_m(group))),
            unit=words("m"),
            each=_each(cable, quote, prices.get(cable_id)),
        )


def _fittings(design: Design, quote: Quote, words: Words) -> Iterator[_Goods]:
    price = None if quote.fitting_money is None else _money(quote.fitting_money)
    for text, count in fitting_counts(cut_pieces(pieces(design)), words, units=design.job.job.units):
        yield _Goods(
            sort="fitting",
            id="",
            name=text,
            places=(),
            quantity=Decimal(count),
            unit=words("pcs"),
            each=price,
        )


def _line(goods: _Goods, own: QuotePrice | None, words: Words) -> BillLine:
    counts = Counter(goods.places)
    named = [name if count == 1 else f"{count} × {name}" for name, count in counts.items()]
    shown = ", ".join(named[:SHOWN])
    more = words("{shown} and {count} more", shown=shown, count=len(named) - SHOWN)
    return BillLine(
        sort=goods.sort,
        id=goods.id,
        name=goods.name,
        where=shown if len(named) <= SHOWN else more,
        quantity=goods.quantity,
        unit=goods.unit,
        each=goods.each,
        lead="" if own is None or own.lead_days is None else words("{count} days", count=own.lead_days),
        alternate="" if own is None else own.alternate,
    )


def _each(part: Part, quote: Quote, own: QuotePrice | None) -> Decimal | None:
    """Return the price of one, or of a metre, in the quote's currency; None where nobody says it."""
    if own is not None and own.price_money is not None:
        return _money(own.price_money)
    price_eur = part.price_eur_per_m if isinstance(part, Cable) else part.price_eur
    rate = Decimal(repr(quote.rate_money_per_eur or 1.0))
    return cents(Decimal(repr(price_eur)) * rate) if price_eur > 0.0 else None


def _money(said: float) -> Decimal:
    return cents(Decimal(repr(said)))


def _parts(design: Design) -> dict[str, tuple[Part, list[str]]]:
    """Return parts the workshop supplies, with the id of each one placed; refrigerators are the job's own."""
    found: dict[str, tuple[Part, list[str]]] = {}
    for placed in design.parts:
        if not placed.is_inside_module and placed.owner == "workshop":
            count = placed.case_count + has_negative_bar(design, placed)
            found.setdefault(placed.part.id, (placed.part, []))[1].extend([placed.id] * count)
    for load in design.loads:
        if load.fridge is not None:
            found.setdefault(load.fridge.id, (load.fridge, []))[1].extend([load.id] * load.count)
    return found


def has_negative_bar(design: Design, placed: DesignPart) -> bool:
    """Tell whether a bus bar wants a second one: a cable brings a negative to it (docs/choices.md#negative-bar)."""
    node = design.node_of(placed.id)
    return isinstance(placed.part, BusBar) and any(
        node in {run.start, run.end} and run.back_cable is not None for run in design.runs
    )


def _devices(design: Design) -> dict[str, tuple[Part, list[str]]]:
    """Return fuses, breakers, isolators and plugs of the runs the workshop supplies, and of strings."""
    found: dict[str, tuple[Part, list[str]]] = {}
    for run in design.runs:
        if not run.is_inside_module and supplier(design, run) == "workshop":
            for device in run.devices:
                found.setdefault(device.part.id, (device.part, []))[1].append(device.id)
            for plug in run.plugs:
                found.setdefault(plug.id, (plug, []))[1].append(run.id)
    for placed in design.parts:
        device_part = placed.string_device
        if device_part is not None and not placed.is_inside_module:
            found.setdefault(device_part.id, (device_part, []))[1].extend([placed.id] * placed.strings)
    return found


def _work(design: Design, quote: Quote, words: Words) -> Iterator[BillLine]:
    price = None if quote.hour_money is None else _money(quote.hour_money)
    for what, hours, is_own in hour_counts(design, quote, words):
        goods = _Goods(
            sort="work",
            id="",
            name=what,
            places=(words(OWN),) if is_own else (),
            quantity=hours,
            unit=words("h"),
            each=price,
        )
        yield _line(goods, None, words)


def _others(design: Design, words: Words) -> Iterator[OtherLine]:
    for owner in ("customer", "vehicle", "electrician"):
        for placed in design.parts:
            if placed.owner == owner and not placed.is_inside_module:
                count = f"{placed.case_count} × " if placed.case_count > 1 else ""
                yield OtherLine(owner=words(OWNERS[owner]), what=f"{count}{placed.part.name} ({placed.id})")
        for run in design.runs:
            if not run.is_inside_module and supplier(design, run) == owner:
                devices = "".join(f", {device.id}{UNIT_SPACE}{device.part.name}" for device in run.devices)
                what = words("cable of run {run}", run=run.id) + devices
                yield OtherLine(owner=words(OWNERS[owner]), what=what)
