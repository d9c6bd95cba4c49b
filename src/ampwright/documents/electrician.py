"""What a licensed electrician has to know and decide, gathered from an answer: short, for screen and JSON.

It repeats what the rules of the mains side found, with the facts they were found on; it judges nothing.
"""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.assessment.mains_side import has_mains, mains_chargers
from ampwright.assessment.result import Assessment
from ampwright.assessment.rules import MAINS_RULES
from ampwright.documents.words.words import Words, english, noted
from ampwright.findings import Finding, Severity
from ampwright.job.design import Design
from ampwright.job.mains import Mains
from ampwright.job.quantity import likely_value
from ampwright.parts.hardware import Inlet, Outlet
from ampwright.parts.inverter import Inverter
from ampwright.records import record

__all__ = ["ElectricianList", "electrician_list"]

GATHERED = frozenset(rule.name for rule in MAINS_RULES) | {
    "inlet-rating",
    "inverter-overload",
    "outlet-rating",
}
"""Rules whose findings concern the mains side."""
ALWAYS = noted(
    "Test before use, by the local code: earth continuity, polarity, insulation, loop impedance, residual-current device, "
    "and neutral-earth link on every source."
)


SUPPLY_KINDS = {"site": noted("site"), "generator": noted("generator")}
COVERED = {"inlet": noted("inlet"), "inverter": noted("inverter"), "both": noted("inlet and inverter")}


@record
class ElectricianList:
    """Facts and points of one job."""

    facts: tuple[str, ...]
    """What is fitted and said."""
    points: tuple[str, ...]
    """What to decide, mend or measure, heaviest first."""


def electrician_list(assessment: Assessment, words: Words | None = None) -> ElectricianList | None:
    """Return what is for a licensed electrician, in English where no words are given; None where nothing touches mains voltage."""
    words = words or english()
    design = assessment.design
    if not has_mains(design):
        return None
    ids = {placed.id for placed in design.parts if isinstance(placed.part, Inlet | Inverter | Outlet)}
    points = [
        _point(finding, words)
        for finding in assessment.findings
        if finding.rule in GATHERED
        and finding.severity != Severity.PASS
        and (finding.rule != "outlet-rating" or finding.subject in ids)
    ]
    return ElectricianList(facts=tuple(_facts(design, words)), points=(*points, words(ALWAYS)))


def _point(finding: Finding, words: Words) -> str:
    """Return a finding; where its sentence is in another language than the sheet, its rule and figures before it."""
    text = f"{words.said(finding.message)} {words.said(finding.way_out)}".strip()
    if words.language == "en":
        return text
    figures = [f"{words.rule(finding.rule)}, {finding.subject}"]
    if finding.value is not None:
        figures.append(words("found {value}", value=words.quantity(finding.value, finding.unit)))
    if finding.limit is not None:
        limit = words.quantity(finding.limit, finding.unit)
        figures.append(
            words("at most {limit}", limit=limit)
            if finding.at_most
            else words("at least {limit}", limit=limit)
        )
    return f"{'; '.join(figures)}. {text}"


def _facts(design: Design, words: Words) -> Iterator[str]:
    for placed, inlet in design.placed(Inlet):
        yield words(
            "{id}: inlet {voltage} V, {current} A",
            id=placed.id,
            voltage=_plain(inlet.rated_v, words),
            current=_plain(inlet.rating_a, words),
        )
    for placed, inverter in design.placed(Inverter):
        text = words(
            "{id}: inverter {power} VA, {voltage} V",
            id=placed.id,
            power=_plain(inverter.continuous_va, words),
            voltage=_plain(inverter.output_ac_v, words),
        )
        if inverter.transfer_s:
            text += words(", transfer in {time:.0f} ms", time=1000 * inverter.transfer_s)
        yield text
    for charger in mains_chargers(design):
        yield words(
            "{id}: charger, up to {power:.0f} W from {voltage} V",
            id=charger.placed.id,
            power=charger.input_w,
            voltage=_plain(charger.mains_v, words),
        )
    outlets = [
        f"{placed.id} {_plain(part.rating_a, words)} A"
        for placed, part in design.placed(Outlet)
        if part.supply == "ac"
    ]
    if outlets:
        yield words("mains outlets: {outlets}", outlets=", ".join(outlets))
    if design.job.mains is not None:
        yield from _said(design.job.mains, words)


def _plain(value: float, words: Words) -> str:
    return words.decimal(f"{value:g}")


def _said(mains: Mains, words: Words) -> Iterator[str]:
    for supply in mains.supply:
        kind = words(SUPPLY_KINDS[supply.kind])
        rating = [f"{_plain(likely_value(supply.rating_a), words)} A"] if supply.rating_a is not None else []
        rating += (
            [f"{_plain(likely_value(supply.rating_va), words)} VA"] if supply.rating_va is not None else []
        )
        yield f"{supply.name or kind}: {', '.join([kind, *rating])}"
    for device in mains.residual_current:
        yield words(
            "residual-current device, {covers}: {rating}, type {sort}",
            covers=words(COVERED[device.covers]),
            rating=f"{1000 * device.residual_a:.0f} mA"
            if device.residual_a is not None
            else words("rating not said"),
            sort=device.type or words("not said"),
        )
    if mains.certificate is not None and mains.certificate.date:
        yield words(
            "certificate {serial} of {date}",
            serial=mains.certificate.serial,
            date=mains.certificate.date.isoformat(),
        )
    elif mains.certificate is not None:
        yield words("certificate {serial}", serial=mains.certificate.serial)
