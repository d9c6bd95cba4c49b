"""Two answers -> what differs between them. A pure function: nothing is reckoned anew, nothing is read."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ampwright.assessment.result import Assessment
from ampwright.documents.bill.lines import bill_of
from ampwright.documents.bill.records import Bill
from ampwright.documents.comparison.findings import finding_changes
from ampwright.documents.comparison.records import Comparison, Figure, LedgerChange, Side, SideSaid, Stage
from ampwright.documents.energy_view import LEAST_WH, ledger_groups
from ampwright.documents.words.words import english
from ampwright.job.differences import job_differences

__all__ = ["comparison_of"]

MONEY = "bill without tax"
Figures = dict[str, tuple[float | None, str]]


def comparison_of(before: Side, after: Side) -> Comparison:
    """Return what differs between two answers.

    Where one of the two has only a quick answer, both are compared as quick ones: the full one's range and runs would
    look like a change otherwise.
    """
    stage: Stage = "full" if before.answer is not None and after.answer is not None else "quick"
    bills = (bill_of(before.assessment.design, english()), bill_of(after.assessment.design, english()))
    return Comparison(
        stage=stage,
        before=_said(before, stage, bills[0]),
        after=_said(after, stage, bills[1]),
        inputs=job_differences(before.job, after.job),
        figures=tuple(_figures(before, after, stage, bills)),
        findings=finding_changes(_found(before, stage).findings, _found(after, stage).findings),
        ledger=tuple(_ledger(before, after)),
    )


def _found(side: Side, stage: Stage) -> Assessment:
    if stage == "full" and side.answer is not None:
        return side.answer.assessment
    return side.assessment


def _said(side: Side, stage: Stage, bill: Bill) -> SideSaid:
    answer = side.answer if stage == "full" else None
    found, quote = _found(side, stage), side.job.quote
    return SideSaid(
        title=side.title,
        stage=stage,
        use_verdict=found.use_verdict if answer is None else answer.use_verdict,
        wiring_verdict=found.wiring_verdict if answer is None else answer.wiring_verdict,
        use_sentence="" if answer is None else answer.use_sentence,
        wiring_sentence="" if answer is None else answer.wiring_sentence,
        run_out=found.run_out.message,
        currency="EUR" if quote is None else quote.currency,
        without_price=bill.without,
        without_mass=found.mass.without_mass,
    )


def _figures(before: Side, after: Side, stage: Stage, bills: tuple[Bill, Bill]) -> Iterator[Figure]:
    old, new = _figures_of(before, stage, bills[0]), _figures_of(after, stage, bills[1])
    if old[MONEY][1] != new[MONEY][1]:  # two currencies are two lines: nobody subtracts them
        old, new = _with_currency(old), _with_currency(new)
    for name in dict.fromkeys((*old, *new)):
        unit = (new.get(name) or old[name])[1]
        yield Figure(
            name=name,
            unit=unit,
            before=_finite(old.get(name, (None, ""))[0]),
            after=_finite(new.get(name, (None, ""))[0]),
        )


def _with_currency(figures: Figures) -> Figures:
    return {f"{MONEY}, {figure[1]}" if name == MONEY else name: figure for name, figure in figures.items()}


def _figures_of(side: Side, stage: Stage, bill: Bill) -> Figures:
    """Return the figures of one side by name, each with its unit; a unit "%" stands for a fraction."""
    found, quote = _found(side, stage), side.job.quote
    currency = "EUR" if quote is None else quote.currency
    figures: Figures = {
        "margin of what runs out first": (found.run_out.margin_frac, "%"),
        "lowest state of charge": (float(found.energy.soc_frac.min()), "%"),
        "wanted by loads and not given": (float(found.energy.unserved_wh.sum()), "Wh"),
        "rules of the use checked": (float(found.use_rules.checked_count), ""),
        "rules of the wiring checked": (float(found.wiring_rules.checked_count), ""),
        "mass added": (found.mass.added_kg, "kg"),
        MONEY: (float(bill.sums.net), currency),
    }
    answer = side.answer if stage == "full" else None
    if answer is not None and answer.chance is not None:
        chance = answer.chance
        figures["runs of weather and doubt held"] = (chance.held_count / max(chance.run_count, 1), "%")
    if answer is not None and answer.outlook is not None:
        figures["from full to the first essential load off, nothing charging"] = (
            answer.outlook.autonomy_h,
            "h",
        )
    return figures


def _finite(value: float | None) -> float | None:
    return value if value is not None and math.isfinite(value) else None


def _ledger(before: Side, after: Side) -> Iterator[LedgerChange]:
    old, new = dict(ledger_groups(before.assessment)), dict(ledger_groups(after.assessment))
    for group, entries in new.items():
        was, now = _summed(old[group]), _summed(entries)
        for name in dict.fromkeys((*now, *was)):
            before_wh, after_wh = was.get(name), now.get(name)
            if max(before_wh or 0.0, after_wh or 0.0) >= LEAST_WH:
                yield LedgerChange(group=group, name=name, before_wh=before_wh, after_wh=after_wh)


def _summed(entries: list[tuple[str, float]]) -> dict[str, float]:
    """Return the entries by name; those of one name together."""
    found: dict[str, float] = {}
    for name, energy_wh in entries:
        found[name] = found.get(name, 0.0) + energy_wh
    return found
