"""A comparison as text of 80 columns, and as JSON."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Iterator

from ampwright.documents.comparison.figures import figure_text
from ampwright.documents.comparison.plain import plain_comparison
from ampwright.documents.comparison.records import Comparison, Figure, FindingChange, LedgerChange, SideSaid
from ampwright.documents.quantity_text import energy_text
from ampwright.job.differences import Difference

__all__ = ["comparison_json", "comparison_text"]

COLUMNS = 80
NO_CERTIFICATE = (
    "This is no certificate. The local code and licensed practice decide; mains voltage belongs to a licensed "
    "electrician."
)
QUICK = "Quick answers: all rules at the likely values; the range of what is unknown and the runs are not in them."


def comparison_json(found: Comparison) -> str:
    """Return a comparison as JSON text."""
    return json.dumps(plain_comparison(found), indent=2, ensure_ascii=False, allow_nan=False)


def comparison_text(found: Comparison, *, every: bool = False) -> str:
    """Return a comparison: both sides, what differs in what they say, what that changes."""
    lines = [
        *_wrapped(f"A  {found.before.title}", hang=3),
        *_wrapped(f"B  {found.after.title}", hang=3),
        "",
        *([*_wrapped(QUICK), ""] if found.stage == "quick" else []),
        *_verdicts(found),
        *_inputs(found.inputs),
        *_figures(found.figures, every=every),
        *_findings(found.findings, every=every),
        *_ledger(found.ledger, every=every),
        *_gaps(found),
        *_wrapped(NO_CERTIFICATE),
    ]
    return "\n".join(line.rstrip() for line in lines)


def _wrapped(text: str, *, indent: int = 0, hang: int = 0) -> list[str]:
    return textwrap.wrap(
        text,
        COLUMNS,
        initial_indent=" " * indent,
        subsequent_indent=" " * (indent + hang),
        break_on_hyphens=False,
    )


def _verdicts(found: Comparison) -> Iterator[str]:
    before, after = found.before, found.after
    pairs = (
        ("FIT FOR THE USE", before.use_verdict, after.use_verdict),
        ("WIRING AND PROTECTION", before.wiring_verdict, after.wiring_verdict),
    )
    for heading, old, new in pairs:
        said = f"{new.upper()} (both)" if old == new else f"A {old.upper()}, B {new.upper()}"
        yield f"{heading:<23}{said}"
    yield ""
    yield from _sentences(before, after)
    yield "First to run out"
    for name, side in (("A", before), ("B", after)):
        yield from _wrapped(f"{name}  {side.run_out}", indent=2, hang=3)
    yield ""


def _sentences(before: SideSaid, after: SideSaid) -> Iterator[str]:
    for title, old, new in (
        ("Use", before.use_sentence, after.use_sentence),
        ("Wiring", before.wiring_sentence, after.wiring_sentence),
    ):
        if old or new:
            yield title
            for name, said in (("A", old), ("B", new)) if old != new else (("both", new),):
                yield from _wrapped(f"{name}  {said}", indent=2, hang=3)
            yield ""


def _inputs(inputs: tuple[Difference, ...]) -> Iterator[str]:
    yield f"What the jobs do not say alike: {len(inputs) or 'nothing'}"
    for each in inputs:
        place = f"{each.where}: {each.label}" if each.label else each.where
        if each.kind == "changed":
            yield from _wrapped(f"{place}: {each.before} -> {each.after}", indent=2, hang=4)
        else:
            said = each.after if each.kind == "added" else each.before
            word = "in B only" if each.kind == "added" else "in A only"
            yield from _wrapped(f"{place}: {word} ({said})", indent=2, hang=4)
    yield ""


def _figures(figures: tuple[Figure, ...], *, every: bool) -> Iterator[str]:
    shown = [each for each in figures if every or figure_text(each, "before") != figure_text(each, "after")]
    if not shown:
        return
    yield f"{'Figures':48}{'A':>15}{'B':>15}"
    for each in shown:
        first, *rest = textwrap.wrap(each.name, 44)
        yield f"  {first:46}{figure_text(each, 'before'):>15}{figure_text(each, 'after'):>15}"
        yield from (f"    {line}" for line in rest)
    yield ""


def _findings(findings: tuple[FindingChange, ...], *, every: bool) -> Iterator[str]:
    shown = [each for each in findings if every or each.matters]
    hidden = len(findings) - len(shown)
    also = f"; {hidden} of passes alone (--all)" if hidden else ""
    yield f"Findings not alike: {len(shown) or 'none'}{also}"
    for each in shown:
        was, now = (word or "-" for word in (each.was, each.now))
        weight = f"{now}" if each.kind in ("moved", "new") else f"{was} -> {now}"
        yield from _wrapped(f"{each.kind.upper()}: {weight}: {each.rule} of {each.subject}", indent=2, hang=4)
        moved = _moved(each)
        caution = f" CAUTION: {each.caution}" if each.caution else ""
        yield from _wrapped(f"{moved}{each.message} {each.way_out}{caution}".strip(), indent=6)
    yield ""


def _moved(change: FindingChange) -> str:
    if change.before is None or change.after is None or change.before == change.after:
        return ""
    return f"{change.before:.4g} -> {change.after:.4g} {change.unit}".rstrip() + ". "


def _ledger(ledger: tuple[LedgerChange, ...], *, every: bool) -> Iterator[str]:
    shown = [each for each in ledger if every or _energy(each.before_wh) != _energy(each.after_wh)]
    if not shown:
        return
    yield f"{'Energy a day, Wh':48}{'A':>15}{'B':>15}"
    for group in dict.fromkeys(each.group for each in shown):
        yield f"  {group}"
        for each in shown:
            if each.group == group:
                yield f"    {each.name[:43]:44}{_energy(each.before_wh):>15}{_energy(each.after_wh):>15}"
    yield ""


def _energy(energy_wh: float | None) -> str:
    return "-" if energy_wh is None else energy_text(energy_wh)


def _gaps(found: Comparison) -> Iterator[str]:
    for name, side in (("A", found.before), ("B", found.after)):
        if side.without_price:
            yield from _wrapped(f"The bill of {name} is without: {', '.join(side.without_price)}.", hang=2)
        if side.without_mass:
            yield from _wrapped(f"The mass of {name} is without: {', '.join(side.without_mass)}.", hang=2)
    if any(side.without_price or side.without_mass for side in (found.before, found.after)):
        yield ""
