import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampwright.errors import JobError
from ampwright.job.complaints import Complaints
from ampwright.job.quote import Quote, QuotePrice, check_quote
from ampwright.parts.catalogue import shipped_catalogue


def problems(quote, module=""):
    complaints = Complaints()
    check_quote(quote, shipped_catalogue(), module, complaints)
    try:
        complaints.raise_if_any("job", None, None)
    except JobError as error:
        return "; ".join(problem.message for problem in error.problems)
    return ""


def test_no_quote_is_no_problem():
    assert problems(None) == ""
    assert problems(Quote()) == ""


@pytest.mark.parametrize("currency", ["eur", "EURO", "", "€", "E1R"])
def test_currency_has_three_letters(currency):
    assert "three capital letters" in problems(Quote(currency=currency))


def test_another_currency_wants_its_rate():
    assert "what one euro costs in NZD" in problems(Quote(currency="NZD"))
    assert problems(Quote(currency="NZD", rate_money_per_eur=1.85)) == ""


def test_all_unknown_and_doubled_parts_are_told_at_once():
    prices = (QuotePrice(part="lfp-10"), QuotePrice(part="lfp-100"), QuotePrice(part="lfp-100"))
    text = problems(Quote(price=prices))
    assert "no part 'lfp-10'" in text
    assert "'lfp-100' has a price twice" in text


def test_module_may_have_a_price():
    quote = Quote(price=(QuotePrice(part="pm", price_money=3000.0),))
    assert problems(quote, module="pm") == ""
    assert "no part 'pm'" in problems(quote)


@given(st.sampled_from(sorted(shipped_catalogue().parts)))
def test_every_part_may_have_a_price(part_id):
    assert problems(Quote(price=(QuotePrice(part=part_id, price_money=1.0),))) == ""
