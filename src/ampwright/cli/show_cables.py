"""A set of cables as text of 80 columns, and as JSON."""

from __future__ import annotations

import json
import math
import textwrap
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from ampwright.sizing.cable_records import CableAnswer, CableChoice, Proof

__all__ = ["cables_json", "cables_text"]

COLUMNS = 80
NAME_COLUMNS = 19
PROVED: dict[Proof, str] = {
    "least": "Proved the {least}: every {lesser} set of the same makes was tried.",
    "pairs": "No single run, and no pair of runs on a shared feed, can be {lesser}. A {lesser} set that changes three or "
    "more runs at once is not ruled out.",
    "runs": "No single run can be {lesser}. Pairs of runs were not all tried.",
    "stopped": "The search was stopped; single runs may still be {lesser}.",
}
CAUTION = (
    "A wrong cable can burn: have the choice looked at by whoever answers for the wiring, and hold to the local code. "
    "Cables only: devices, lugs and glands stay as they are in the job; order lugs for the new sizes."
)


def cables_json(answer: CableAnswer) -> str:
    """Return the set as JSON text."""
    return json.dumps(_plain(answer), indent=2, ensure_ascii=False, allow_nan=False)


def cables_text(answer: CableAnswer, *, written: Path | None) -> str:
    """Return the set as a table, with how far it is proved and what is left to do."""
    lines = [f"{'run':8} {'now':{NAME_COLUMNS}} {'chosen':{NAME_COLUMNS}} {'EUR':>15}  {'kg':>13}"]
    for choice in answer.choices:
        lines += _rows(choice, answer.by)
    lines += [_totals(answer), ""]
    for sentence in _sentences(answer):
        lines += textwrap.wrap(sentence, COLUMNS)
    if written is not None:
        lines += ["", f"Wrote {written}. Now run: ampwright check {written}"]
    return "\n".join(lines)


def _rows(choice: CableChoice, by: str) -> Iterator[str]:
    new = choice.new_cable.id if choice.is_changed else "="
    yield (
        f"{choice.run[:8]:8} {choice.old_cable.id[:NAME_COLUMNS]:{NAME_COLUMNS}} {new[:NAME_COLUMNS]:{NAME_COLUMNS}} "
        + _figures(choice.old_price_eur, choice.new_price_eur, choice.old_mass_kg, choice.new_mass_kg)
    )
    lesser = "cheaper" if by == "price" else "lighter"
    if choice.binds:
        text = f"not {choice.next_cable}: {', '.join(choice.binds)}"
    else:
        text = f"{choice.next_cable} was not tried" if choice.next_cable else f"none of its make is {lesser}"
    yield from textwrap.wrap(text, COLUMNS, initial_indent=" " * 9, subsequent_indent=" " * 11)


def _figures(old_eur: float, new_eur: float, old_kg: float, new_kg: float) -> str:
    return f"{old_eur:7.2f} {new_eur:7.2f}  {old_kg:6.2f} {new_kg:6.2f}"


def _totals(answer: CableAnswer) -> str:
    each = answer.choices
    return f"{'all':8} {'':{NAME_COLUMNS}} {'':{NAME_COLUMNS}} " + _figures(
        sum(one.old_price_eur for one in each),
        sum(one.new_price_eur for one in each),
        sum(one.old_mass_kg for one in each),
        sum(one.new_mass_kg for one in each),
    )


def _sentences(answer: CableAnswer) -> Iterator[str]:
    words = ("cheapest", "cheaper") if answer.by == "price" else ("lightest", "lighter")
    yield PROVED[answer.proof].format(least=words[0], lesser=words[1])
    ends = answer.case_count - 1
    yield (
        f"{answer.tries_count} sets were tried. This one was assessed as a whole and held against the present job, "
        f"at the likely values{f' and at {ends} ends of what is unknown' if ends else ''}"
        + (": nothing is worse." if not answer.new_findings else ".")
    )
    if answer.mended:
        yield f"Mended: {', '.join(answer.mended)}."
    for finding in answer.left:
        yield f"NOT MENDED by any cable tried: {finding.rule} of {finding.subject}: {finding.message}"
    for finding in answer.new_findings:
        yield f"WORSE than now: {finding.rule} of {finding.subject}: {finding.message}"
    if answer.without_figure:
        figure = "price" if answer.by == "price" else "mass"
        yield f"Left out, for they say no {figure}: {', '.join(answer.without_figure)}."
    yield f"Fit for the use: now {answer.use_before}; with these cables {answer.use_after}."
    yield f"Wiring and protection: now {answer.wiring_before}; with these cables {answer.wiring_after}."
    if math.isfinite(answer.margin_before_frac) and math.isfinite(answer.margin_after_frac):
        yield (
            f"Margin of what runs out first: now {100 * answer.margin_before_frac:.1f} %; with these cables "
            f"{100 * answer.margin_after_frac:.1f} %."
        )
    yield CAUTION


def _plain(answer: CableAnswer) -> dict[str, Any]:
    return {
        "by": answer.by,
        "proof": answer.proof,
        "tries_count": answer.tries_count,
        "case_count": answer.case_count,
        "runs": [
            {
                "run": one.run,
                "old_cable": one.old_cable.id,
                "new_cable": one.new_cable.id,
                "is_changed": one.is_changed,
                "old_price_eur": one.old_price_eur,
                "new_price_eur": one.new_price_eur,
                "old_mass_kg": one.old_mass_kg,
                "new_mass_kg": one.new_mass_kg,
                "next_cable": one.next_cable,
                "binds": list(one.binds),
            }
            for one in answer.choices
        ],
        "old_price_eur": sum(one.old_price_eur for one in answer.choices),
        "new_price_eur": sum(one.new_price_eur for one in answer.choices),
        "old_mass_kg": sum(one.old_mass_kg for one in answer.choices),
        "new_mass_kg": sum(one.new_mass_kg for one in answer.choices),
        "mended": list(answer.mended),
        "not_mended": [_said(each.rule, each.subject, each.message) for each in answer.left],
        "worse": [_said(each.rule, each.subject, each.message) for each in answer.new_findings],
        "without_figure": list(answer.without_figure),
        "use_before": answer.use_before,
        "use_after": answer.use_after,
        "wiring_before": answer.wiring_before,
        "wiring_after": answer.wiring_after,
        "margin_before_frac": _number(answer.margin_before_frac),
        "margin_after_frac": _number(answer.margin_after_frac),
    }


def _said(rule: str, subject: str, message: str) -> dict[str, str]:
    return {"rule": rule, "subject": subject, "message": message}


def _number(value: float) -> float | None:
    return value if math.isfinite(value) else None
