"""Two revisions, of one job or of two, become one comparison: of full answers where both are there, else of quick ones."""

from __future__ import annotations

from dataclasses import replace

from django.utils.translation import gettext_noop

from ampwright.documents.comparison.compare import comparison_of
from ampwright.documents.comparison.figures import figure_text
from ampwright.documents.comparison.records import Comparison, Side
from ampwright.documents.quantity_text import energy_text
from ampwright.errors import Problem
from ampwright.records import record
from ampwright.sizing.result import Answer
from ampwright.web.answers import Live, live_of, task_of
from ampwright.web.app import the_desk
from ampwright.web.models import Revision
from ampwright.web.reading import check_shape
from ampwright.web.signs import VerdictSign, finding_sign, live_signs, quick_signs

__all__ = ["Compared", "SideShown", "assessed_signs", "compared", "shown_findings", "shown_rows"]

NAMES = (
    gettext_noop("margin of what runs out first"), gettext_noop("lowest state of charge"),
    gettext_noop("wanted by loads and not given"), gettext_noop("rules of the use checked"),
    gettext_noop("rules of the wiring checked"), gettext_noop("mass added"), gettext_noop("bill without tax"),
    gettext_noop("runs of weather and doubt held"),
    gettext_noop("from full to the first essential load off, nothing charging"),
    gettext_noop("In"), gettext_noop("Out"), gettext_noop("Lost"), gettext_noop("Not part of these books"),
    gettext_noop("out of the battery's store"), gettext_noop("into the battery's store"),
    gettext_noop("given back to the vehicle"), gettext_noop("own consumption of parts"), gettext_noop("cell heaters"),
    gettext_noop("inverters"), gettext_noop("converters"), gettext_noop("cables"), gettext_noop("battery resistance"),
    gettext_noop("charging efficiency"), gettext_noop("self-discharge"),
    gettext_noop("lost in chargers before their outputs"), gettext_noop("loads straight from mains"),
    gettext_noop("new"), gettext_noop("gone"), gettext_noop("heavier"), gettext_noop("lighter"), gettext_noop("moved"),
    gettext_noop("pass"), gettext_noop("advice"), gettext_noop("not checked"), gettext_noop("condition"), gettext_noop("fail"),
)  # fmt: skip
"""What a comparison calls its lines; the template translates them where it shows them."""
QUICK_SIGN = "advice"
"""A pass at the likely values is not shown as good before the full answer is there."""


@record
class SideShown:
    """One side as the page shows it."""

    title: str
    """Title of the job."""
    job_id: int
    """Which job."""
    number: int
    """Which revision."""
    last_number: int
    """The last revision there is."""
    signs: tuple[VerdictSign, ...]
    """Both verdicts; none where it cannot be reckoned."""
    run_out: str
    """What runs out first."""
    problems: tuple[Problem, ...]
    """Why it cannot be reckoned."""
    failed: str
    """Why there is no full answer; empty = it is there or it comes."""


@record
class Compared:
    """What the page knows at this moment."""

    sides: tuple[SideShown, SideShown]
    """Both sides."""
    comparison: Comparison | None
    """What differs; None where one side cannot be reckoned."""

    @property
    def is_waiting(self) -> bool:
        """Say whether a full comparison still comes."""
        found = self.comparison
        return found is not None and found.stage == "quick" and not any(side.failed for side in self.sides)


def compared(before: Revision, after: Revision) -> Compared:
    """Return what is known of two revisions; the full answers are asked for where they are missing."""
    lives = [_live(each) for each in (before, after)]
    if any(live.answer is None for live in lives):
        lives = [_as_quick(*pair) for pair in zip((before, after), lives, strict=True)]
    shown = tuple(_shown(*pair) for pair in zip((before, after), lives, strict=True))
    sides = [_side(*pair) for pair in zip((before, after), lives, strict=True)]
    if sides[0] is None or sides[1] is None:
        return Compared(sides=(shown[0], shown[1]), comparison=None)
    return Compared(sides=(shown[0], shown[1]), comparison=comparison_of(sides[0], sides[1]))


def _live(revision: Revision) -> Live:
    return live_of(revision, is_aside=_is_aside(revision))


def _is_aside(revision: Revision) -> bool:
    return revision.number != revision.job.number


def _as_quick(revision: Revision, live: Live) -> Live:
    """Return what was known before the full answer; a full side beside a quick one would mix two stages."""
    if live.answer is None:
        return live
    quick = the_desk().quick(task_of(revision, is_aside=_is_aside(revision)))
    return replace(live, stage="quick", answer=None, assessment=quick.assessment)


def _shown(revision: Revision, live: Live) -> SideShown:
    entry = revision.job
    return SideShown(
        title=entry.title,
        job_id=entry.pk,
        number=revision.number,
        last_number=entry.number,
        signs=live_signs(live),
        run_out=live.assessment.run_out.message if live.assessment is not None else "",
        problems=live.problems,
        failed=live.failed,
    )


def _side(revision: Revision, live: Live) -> Side | None:
    if live.assessment is None:
        return None
    job = check_shape(revision.text, job_id=revision.job_id).job
    answer: Answer | None = live.answer
    title = f"{revision.job.title}, revision {revision.number}"
    return Side(title=title, job=job, assessment=live.assessment, answer=answer)


def assessed_signs(found: Comparison) -> list[tuple[VerdictSign, VerdictSign]]:
    """Return each verdict of a quick comparison, before and after."""
    sides = [quick_signs(side.use_verdict, side.wiring_verdict) for side in (found.before, found.after)]
    return list(zip(*sides, strict=True))


def shown_rows(found: Comparison) -> dict[str, list[tuple[str, str, str, str]]]:
    """Return figures and energy books as rows of group, name, before, after: only what differs, and sums of money."""
    figures = [
        ("", each.name, figure_text(each, "before"), figure_text(each, "after")) for each in found.figures
    ]
    ledger = [
        (each.group, each.name, _energy(each.before_wh), _energy(each.after_wh)) for each in found.ledger
    ]
    return {"figures": figures, "ledger": ledger}


def _energy(energy_wh: float | None) -> str:
    return "-" if energy_wh is None else energy_text(energy_wh)


def shown_findings(found: Comparison) -> dict[str, list[dict[str, object]]]:
    """Return the findings that matter, and those of passes alone, each with its shape and what moved."""
    rows: dict[str, list[dict[str, object]]] = {"heavy": [], "light": []}
    is_quick = found.stage == "quick"
    for each in found.findings:
        weight = each.now or each.was
        sign = finding_sign(weight) if weight is not None else ""
        moved = ""
        if each.before is not None and each.after is not None and each.before != each.after:
            moved = f"{each.before:.4g} → {each.after:.4g} {each.unit}".rstrip()
        row = {"change": each, "sign": QUICK_SIGN if is_quick and sign == "good" else sign, "moved": moved}
        rows["heavy" if each.matters else "light"].append(row)
    return rows
