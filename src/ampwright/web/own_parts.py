"""The workshop's own parts change here, for pages and programs alike: with the history of each job that builds them in."""

from __future__ import annotations

from ampwright.web.keeping import Arrival, keep
from ampwright.web.store import Change, change_job, log
from ampwright.web.usage import jobs_naming

__all__ = ["keep_part", "note_change"]


def keep_part(arrival: Arrival, *, who: str, why: str, address: str) -> None:
    """Keep a part, say so in each job that builds it in, and in the log."""
    keep((arrival,))
    note_change(arrival, who, why)
    detail = f"{arrival.part.id}: {'; '.join(arrival.changes)}"
    log(who, f"part {arrival.state}", address=address, detail=detail)


def note_change(arrival: Arrival, who: str, why: str) -> None:
    """Add to the history of each job that builds a part in that its figures changed."""
    if arrival.state != "changed":
        return
    what = f"part {arrival.part.id} of the workshop changed: {'; '.join(arrival.changes)}"
    for use in jobs_naming(arrival.part.id):
        change = Change(who=who, what=what[:300], why=why)
        change_job(use.job_id, lambda last: last.text, change, is_file=True)
