"""What a quote is reckoned with: currency, rates, hours, prices. What is not said stays unknown in it, never nought."""

from __future__ import annotations

import re
from typing import Annotated

from annotated_types import MaxLen

from ampwright.job.complaints import Complaints, meant
from ampwright.parts.catalogue import Catalogue
from ampwright.records import Count, Fraction, NonNegative, Positive, record

__all__ = ["Quote", "QuotePrice", "check_quote"]


@record
class QuotePrice:
    """Price, lead time and alternate of one part."""

    part: str
    """Catalogue id, or the id of the power module."""
    price_money: Positive | None = None
    """Price of one without tax, of a metre for cable; absent = as in the part's data."""
    lead_days: Count | None = None
    """Days until it can be had; absent = not said."""
    alternate: str = ""
    """What may take its place, after a new check; empty = not said."""


@record
class Quote:
    """Rates, hours and prices of the quote."""

    currency: str = "EUR"
    """Currency (ISO 4217, three letters)."""
    rate_money_per_eur: Positive | None = None
    """What one euro of the parts' prices costs in that currency; needed where it is not EUR."""
    hour_money: Positive | None = None
    """Price of an hour of work without tax; absent = not said."""
    fixed_hours: NonNegative | None = None
    """Hours of every job: plan, test, hand-over; absent = own choice, 6."""
    module_hours: NonNegative | None = None
    """Hours for a power module; absent = own choice, 3."""
    part_hours: NonNegative | None = None
    """Hours for each part placed; absent = own choice, 0.5."""
    panel_hours: NonNegative | None = None
    """Hours for each solar panel, instead; absent = own choice, 1.5."""
    thick_run_hours: NonNegative | None = None
    """Hours for each run from 16 mm² on; absent = own choice, 1."""
    thin_run_hours: NonNegative | None = None
    """Hours for each thinner run; absent = own choice, 0.75."""
    fitting_money: Positive | None = None
    """Price of one lug, ferrule, receptacle, joint or contact with its sleeve; absent = not said."""
    margin_frac: NonNegative | None = None
    """Added to the prices of goods; absent = not said."""
    tax_frac: Fraction | None = None
    """Tax on the whole; absent = not said."""
    tax_name: str = ""
    """What the tax is called, e.g. "VAT"; empty = "tax"."""
    valid_days: Count | None = None
    """Days the quote holds from the date of the revision; absent = not said."""
    price: Annotated[tuple[QuotePrice, ...], MaxLen(500)] = ()
    """Prices, lead times and alternates of single parts."""


def check_quote(quote: Quote | None, catalogue: Catalogue, module: str, complaints: Complaints) -> None:
    """Complain of what is wrong with a quote as written."""
    if quote is None:
        return
    if not re.fullmatch(r"[A-Z]{3}", quote.currency):
        complaints.add(
            ("quote", "currency"), f"'{quote.currency}' is no currency; use three capital letters, e.g. EUR"
        )
    elif quote.currency != "EUR" and quote.rate_money_per_eur is None:
        complaints.add(
            ("quote", "rate_money_per_eur"),
            f"prices of parts are in EUR; say what one euro costs in {quote.currency}",
        )
    seen: set[str] = set()
    known = {*catalogue.parts, *([module] if module else [])}
    for index, each in enumerate(quote.price):
        if each.part not in known:
            complaints.add(
                ("quote", "price", index, "part"), f"no part '{each.part}'; {meant(each.part, known)}"
            )
        elif each.part in seen:
            complaints.add(("quote", "price", index, "part"), f"'{each.part}' has a price twice")
        seen.add(each.part)
