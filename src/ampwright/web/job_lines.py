"""The list of jobs: which are asked for, in which order, and what is known of each."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping

from django.db.models import Case, Count, F, IntegerField, Q, QuerySet, Value, When
from django.utils.translation import gettext_noop

from ampwright import __version__
from ampwright.records import record
from ampwright.web.app import the_stock
from ampwright.web.models import JobEntry, Result, State
from ampwright.web.reading import today
from ampwright.web.signs import VerdictSign, kept_signs

__all__ = ["VERDICTS", "Asked", "JobLine", "asked_for", "lines_of", "state_counts"]

VERDICTS = (
    "do not energise", "not fully checked", "no fault found", "does not suit", "suits with conditions", "suits",
    gettext_noop("not reckoned"),
)  # fmt: skip
"""What a list may be narrowed to: one of both verdicts, or none known."""
ORDERS = {
    "changed": ("-changed_at", "-pk"),
    "title": ("title", "pk"),
    "customer": ("customer", "title", "pk"),
    "state": ("state_order", "-changed_at", "-pk"),
}


@record
class Asked:
    """Which jobs a list shows."""

    word: str
    """Words that all stand in title, code, customer or vehicle."""
    state: str
    """How far they have come; empty = any."""
    verdict: str
    """One of `VERDICTS`; empty = any."""
    order: str
    """One of the orders."""
    is_archived: bool
    """True for those in the archive."""

    @property
    def is_narrowed(self) -> bool:
        """Say whether there may be more."""
        return bool(self.word or self.state or self.verdict or self.is_archived)


@record
class JobLine:
    """One job of a list."""

    job: JobEntry
    """The job."""
    signs: tuple[VerdictSign, ...]
    """Both verdicts of its last revision; none where they are not known."""
    on: dt.date | None
    """Day of which they are, where it is not today: overrides may have ended since."""


def asked_for(query: Mapping[str, str]) -> Asked:
    """Return which jobs are asked for; what makes no sense is left out."""
    state, verdict, order = (query.get(name, "") for name in ("state", "verdict", "order"))
    return Asked(
        word=query.get("word", "").strip()[:200],
        state=state if state in State.values else "",
        verdict=verdict if verdict in VERDICTS else "",
        order=order if order in ORDERS else "changed",
        is_archived=query.get("archived") == "yes",
    )


def _entries(asked: Asked) -> QuerySet[JobEntry]:
    entries = JobEntry.objects.filter(is_archived=asked.is_archived)
    for each in asked.word.split():
        entries = entries.filter(
            Q(title__icontains=each)
            | Q(code__icontains=each)
            | Q(customer__icontains=each)
            | Q(vehicle__icontains=each)
        )
    return entries


def state_counts(asked: Asked) -> list[tuple[str, int]]:
    """Return each state with the number of jobs that fit the words."""
    counts = dict(_entries(asked).order_by().values_list("state").annotate(count=Count("pk")))
    return [(state, counts.get(state, 0)) for state in State.values]


def lines_of(asked: Asked) -> list[JobLine]:
    """Return the jobs that are asked for, in order, each with what is known of its last revision."""
    entries = _entries(asked)
    if asked.state:
        entries = entries.filter(state=asked.state)
    places = [When(state=state, then=Value(place)) for place, state in enumerate(State.values)]
    entries = entries.annotate(state_order=Case(*places, default=Value(99), output_field=IntegerField()))
    known = _known(entries)
    lines = []
    for entry in entries.order_by(*ORDERS[asked.order]):
        use, wiring, on = known.get(entry.pk, ("", "", None))
        if asked.verdict in ("", use, wiring) or (asked.verdict == "not reckoned" and not use):
            signs = kept_signs(use, wiring) if use else ()
            lines.append(JobLine(job=entry, signs=signs, on=on))
    return lines


def _known(entries: QuerySet[JobEntry]) -> dict[int, tuple[str, str, dt.date | None]]:
    """Return the newest verdicts of each job's last revision, made by this version with what the workshop keeps now."""
    results = Result.objects.filter(
        revision__job__in=entries,
        revision__number=F("revision__job__number"),
        program_version=__version__,
        workshop=the_stock().stamp,
    ).order_by("on")
    now = today()
    rows = results.values_list("revision__job", "use_verdict", "wiring_verdict", "on")
    return {job: (use, wiring, None if on == now else on) for job, use, wiring, on in rows}
