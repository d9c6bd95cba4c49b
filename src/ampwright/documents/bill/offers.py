"""Up to three offers: the job as it is, and with each of the two first changes that cost something."""

from __future__ import annotations

from collections.abc import Iterator

from ampwright.assessment.charging import IDLING
from ampwright.documents.bill.lines import bill_of
from ampwright.documents.bill.records import Bill, Offer
from ampwright.documents.pack.records import Material
from ampwright.documents.words.words import Words
from ampwright.job.design import Design
from ampwright.job.resolve import resolve
from ampwright.sizing.result import Change

__all__ = ["caution_of", "free_changes", "offers"]

MOST_CHANGES = 2


def offers(material: Material, bill: Bill) -> Iterator[Offer]:
    """Yield the offers; a change is reckoned with everything it brings, cable and hours included."""
    answer, words, design = material.answer, material.words, material.design
    chance = answer.chance
    yield Offer(
        title=words("As it is"),
        sums=bill.sums,
        bill_lines=bill.lines,
        lines=bill.lines,
        use=words(answer.use_verdict),
        wiring=words(answer.wiring_verdict),
        held=words("not tried") if chance is None else _held(material, chance.held_count),
        cures="",
        caution="",
    )
    bought = [change for change in answer.changes if change.cost_eur > 0.0]
    for change in bought[:MOST_CHANGES]:
        other = resolve(change.job, material.catalogue, definition=design.module)
        changed = bill_of(other, words)
        yield Offer(
            title=words.said(change.description),
            sums=changed.sums,
            bill_lines=bill.lines,
            lines=changed.lines,
            use=words(change.use_verdict),
            wiring=words(change.wiring_verdict),
            held=words("not tried") if change.held_count is None else _held(material, change.held_count),
            cures=", ".join(words.rule(rule) for rule in change.cures),
            caution=" ".join(filter(None, (caution_of(change, words), _unpriced(design, other, words)))),
        )


def _unpriced(before: Design, after: Design, words: Words) -> str:
    """Return that the sums of a change inside the power module leave its price out; the module has one price as a whole."""
    inside = [
        sorted((p.id, p.part.id, p.case_count) for p in each.parts if p.is_inside_module)
        for each in (before, after)
    ]
    if inside[0] == inside[1]:
        return ""
    return words(
        "The power module is priced as it is without this change; what the change inside it costs is not in these sums."
    )


def caution_of(change: Change, words: Words) -> str:
    """Return the hazard that comes with a change; empty = none."""
    return words(IDLING) if change.caution == IDLING else words.said(change.caution)


def free_changes(material: Material) -> tuple[Change, ...]:
    """Return the changes that need no parts: habits, driving, idling and settings; fuel is not counted."""
    return tuple(change for change in material.answer.changes if change.cost_eur == 0.0)


def _held(material: Material, count: int) -> str:
    chance = material.answer.chance
    if chance is None:
        return str(count)
    return material.words("{count} of {all}", count=count, all=chance.run_count)
