import dataclasses
import io
from decimal import Decimal

import openpyxl
import pytest
from materials import EXAMPLES, material
from quotes import quoted, with_changes, with_design

from ampwright.documents.bill.document import bill
from ampwright.documents.bill.hours import hour_counts
from ampwright.documents.bill.lines import bill_of, sums_of
from ampwright.documents.bill.model import bill_page
from ampwright.documents.bill.offers import free_changes, offers
from ampwright.documents.bill.records import BillLine
from ampwright.documents.words.words import english
from ampwright.job.quote import Quote, QuotePrice
from ampwright.sizing.candidate import with_part

PLAIN = BillLine(
    sort="part",
    id="x",
    name="x",
    where="",
    quantity=Decimal(1),
    unit="pcs",
    each=Decimal("1.00"),
    lead="",
    alternate="",
)


def lines_of(found):
    return {line.id: line for line in bill_of(found.design, english()).lines if line.id}


def line(each, quantity="1", sort="part"):
    price = None if each is None else Decimal(each)
    return dataclasses.replace(PLAIN, each=price, quantity=Decimal(quantity), sort=sort)


def test_sums_by_hand():
    quote = Quote(hour_money=48.0, margin_frac=0.18, tax_frac=0.21)
    # 3 x 0.335 = 1.005, up to 1.01; 2.5 m x 5.30 = 13.25; goods 14.26; margin 2.5668 -> 2.57; work 1.5 x 48 = 72.00
    # net 88.83; tax 18.6543 -> 18.65; with tax 107.48
    sums = sums_of((line("0.335", "3"), line("5.30", "2.5"), line("48.00", "1.5", "work")), quote)
    assert [str(money) for money in (sums.goods, sums.margin, sums.work, sums.net, sums.tax, sums.gross)] == [
        "14.26", "2.57", "72.00", "88.83", "18.65", "107.48",
    ]  # fmt: skip


def test_what_is_not_said_is_not_nought():
    sums = sums_of((line("2.00"), line(None)), Quote())
    assert (sums.margin, sums.work, sums.tax, sums.gross) == (None, None, None, None)
    assert sums.net == Decimal("2.00")


def test_price_of_nought_is_not_known_and_named():
    found = material("vaccine-outreach")
    parts = tuple(
        dataclasses.replace(p, part=dataclasses.replace(p.part, price_eur=0.0)) if p.id == "bar" else p
        for p in found.design.parts
    )
    changed = with_design(found, dataclasses.replace(found.design, parts=parts))
    bill_found = bill_of(changed.design, english())
    name = next(p.part.name for p in parts if p.id == "bar")
    assert name in bill_found.without
    page = bill_page(changed, bill_found, tuple(offers(changed, bill_found)))
    assert any(note.startswith("The sums are without") and name in note for note in page.notes)
    rows = [row for _, group in page.groups for row in group if row[1] == name]
    assert [row[5] for row in rows] == ["price not known"]


def test_module_is_one_line_and_nothing_of_its_inside():
    found = quoted("night-survey-van", price=(QuotePrice(part="pm", price_money=3450.0, lead_days=21),))
    lines = lines_of(found)
    assert (lines["pm"].each, lines["pm"].lead) == (Decimal("3450.00"), "21 days")
    inside = {p.part.id for p in found.design.parts if p.is_inside_module}
    outside = {p.part.id for p in found.design.parts if not p.is_inside_module}
    assert not (inside - outside) & set(lines)
    assert bill_of(quoted("night-survey-van").design, english()).lines[0].each is None


def test_currency_turns_the_parts_prices():
    found = quoted("vaccine-outreach", currency="NZD", rate_money_per_eur=1.85)
    for part_id, entry in lines_of(found).items():
        part = found.catalogue.parts[part_id]
        price = part.price_eur_per_m if part.kind == "cable" else part.price_eur
        assert entry.each == (Decimal(repr(price)) * Decimal("1.85")).quantize(
            Decimal("0.01"), "ROUND_HALF_UP"
        )


def test_what_others_supply_has_no_price():
    found = material("vaccine-outreach")
    parts = tuple(
        dataclasses.replace(p, owner="customer") if p.id == "battery" else p for p in found.design.parts
    )
    changed = bill_of(dataclasses.replace(found.design, parts=parts), english())
    battery = next(p.part for p in parts if p.id == "battery")
    assert battery.id not in {each.id for each in changed.lines}
    assert next(other for other in changed.others if battery.name in other.what).owner == "the customer"


def test_hours_by_hand():
    design = material("bicycle-repair-truck").design
    found = list(hour_counts(design, Quote(part_hours=1.0), english()))
    # 8 parts that are no panel (the sockets are the electrician's), 1 panel, 3 runs from 16 mm² on, 8 thinner
    assert [(hours, own) for _, hours, own in found] == [
        (Decimal("6.0"), True),
        (Decimal("8.0"), False),
        (Decimal("1.5"), True),
        (Decimal("3.0"), True),
        (Decimal("6.00"), True),
    ]


def test_offer_with_a_change_holds_its_parts_and_hours():
    found = with_changes({})
    as_it_is, changed = offers(found, bill_of(found.design, english()))
    assert changed.sums.goods - as_it_is.sums.goods == Decimal("145.00")
    # one panel more: 1.5 h at 48
    assert changed.sums.work - as_it_is.sums.work == Decimal("72.00")
    assert (as_it_is.held, changed.held, changed.cures) == ("41 of 50", "48 of 50", "reserve kept")


def test_a_change_inside_the_module_is_not_sold_at_the_price_of_the_module_as_it_is():
    plain = material("night-survey-van").design
    larger = with_part(plain.job, plain.parts[plain.battery], "lfp-120-heated")
    found = with_changes({"job": larger}, {})
    as_it_is, inside, panel = offers(found, bill_of(found.design, english()))
    assert inside.sums.goods == as_it_is.sums.goods
    assert "what the change inside it costs is not in these sums" in inside.caution
    assert panel.caution == ""


def test_at_most_three_offers_and_habits_are_none():
    found = with_changes(
        {"cost_eur": 0.0, "description": "Park in the sun", "caution": "It gets hot."}, {}, {}, {}
    )
    made = list(offers(found, bill_of(found.design, english())))
    assert [offer.title for offer in made] == ["As it is", "Add one panel", "Add one panel"]
    assert [change.description for change in free_changes(found)] == ["Park in the sun"]
    page = bill_page(found, bill_of(found.design, english()), tuple(made))
    assert page.free == ("Without parts: Park in the sun. It gets hot.",)


def test_text_that_looks_like_a_formula_stays_text():
    price = QuotePrice(part="panel-175", alternate='=HYPERLINK("x")')
    made = {file.name: file.content for file in bill(quoted("night-survey-van", price=(price,)))}
    sheet = openpyxl.load_workbook(io.BytesIO(made["bill.xlsx"])).worksheets[0]
    cells = [cell for row in sheet.iter_rows() for cell in row if cell.value == '=HYPERLINK("x")']
    assert [cell.data_type for cell in cells] == ["s"]


@pytest.mark.parametrize("name", EXAMPLES)
def test_validity_follows_the_date_of_the_revision(name):
    found = material(name)
    page = bill_page(found, bill_of(found.design, english()), ())
    assert any(note.startswith("Holds until 20") for note in page.notes)
    plain = quoted(name)
    page = bill_page(plain, bill_of(plain.design, english()), ())
    assert any("no offer that binds" in note for note in page.notes)


def test_bus_bar_is_counted_for_the_negatives_too():
    found = material("bicycle-repair-truck")
    bar = next(p.part.id for p in found.design.parts if p.id == "bar")
    assert lines_of(found)[bar].quantity == 2
    runs = tuple(dataclasses.replace(run, back_cable=None) for run in found.design.runs)
    through_metal = bill_of(dataclasses.replace(found.design, runs=runs), english())
    assert {line.id: line.quantity for line in through_metal.lines}[bar] == 1
