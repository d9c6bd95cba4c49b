"""One part for another, and a new revision of a module: tried on every job that has it, adopted by those chosen."""

from __future__ import annotations

from typing import Any

from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils.translation import gettext
from django.views.decorators.http import require_GET

from ampwright.errors import AmpwrightError
from ampwright.web.app import the_stock
from ampwright.web.comparing import assessed_signs, shown_findings, shown_rows
from ampwright.web.edit import refusal
from ampwright.web.guards import account_of
from ampwright.web.models import JobEntry
from ampwright.web.modules import known_revisions
from ampwright.web.proposals import Proposal, adopt, jobs_of, trial_of
from ampwright.web.roles import may_change
from ampwright.web.store import last_revision

__all__ = ["proposal_page", "substitution", "trial"]

MOST_REASON = 500


@require_GET
def substitution(request: HttpRequest) -> HttpResponse:
    """Ask which part shall take the place of which."""
    old, new = (request.GET.get(name, "").strip() for name in ("old", "new"))
    parts = the_stock().workshop.catalogue.parts
    complaint = ""
    if old and new:
        if old in parts and new in parts and old != new:
            return proposal_page(request, "part", old, new)
        complaint = gettext("choose two different parts of the catalogue")
    kind = parts[old].kind if old in parts else ""
    offered = sorted(name for name, part in parts.items() if kind in ("", part.kind))
    words = {"old": old, "new": new, "offered": offered, "complaint": complaint, "all_parts": sorted(parts)}
    return render(request, "web/substitute.html", words, status=422 if complaint else 200)


def proposal_page(request: HttpRequest, kind: str, old: str, new: str) -> HttpResponse:
    """Show what a change does to each job that has it; adopt it in those that are chosen."""
    proposal = _proposal(kind, old, new)
    done: list[tuple[str, str]] = []
    if request.method == "POST":
        if not may_change(account_of(request)):
            raise PermissionDenied
        done = _adopted(request, proposal)
    words: dict[str, Any] = {"proposal": proposal, "jobs": jobs_of(proposal), "done": done}
    return render(request, "web/proposal.html", words)


def _proposal(kind: str, old: str, new: str) -> Proposal:
    """Return a change whose names are known."""
    if kind == "part":
        parts = the_stock().workshop.catalogue.parts
        if old not in parts or new not in parts or old == new:
            raise Http404
        return Proposal(kind="part", old=old, new=new)
    if kind != "module" or new not in known_revisions().get(old, ()):
        raise Http404
    return Proposal(kind="module", old=old, new=new)


def _adopted(request: HttpRequest, proposal: Proposal) -> list[tuple[str, str]]:
    """Adopt a change in the jobs that were chosen; return each with what came of it."""
    why = request.POST.get("why", "").strip()[:MOST_REASON]
    chosen = [_chosen(text) for text in request.POST.getlist("job")]
    if not why:
        return [("", gettext("Not adopted: give a reason; it stands in the history of each job."))]
    done = []
    for job_id, number in chosen:
        entry = get_object_or_404(JobEntry, pk=job_id)
        try:
            made = adopt(proposal, job_id, number, who=account_of(request).name, why=why)
        except AmpwrightError as error:
            done.append((entry.title, refusal(error)))
        else:
            said = gettext("adopted, revision {number}").format(number=made.number)
            done.append((entry.title, said))
    return done


def _chosen(text: str) -> tuple[int, int]:
    """Return job and revision of a ticked box."""
    job_id, _, number = text.partition(".")
    if not all(each.isascii() and each.isdigit() and len(each) < 10 for each in (job_id, number)):
        raise Http404
    return int(job_id), int(number)


@require_GET
def trial(request: HttpRequest, kind: str, old: str, new: str, job_id: int) -> HttpResponse:
    """Show what a change does to one job."""
    entry = get_object_or_404(JobEntry, pk=job_id)
    found = trial_of(_proposal(kind, old, new), last_revision(entry))
    words: dict[str, Any] = {"job": entry, "trial": found}
    if found.comparison is not None:
        words |= {
            "comparison": found.comparison,
            "pairs": assessed_signs(found.comparison),
            "figures": [row for row in shown_rows(found.comparison)["figures"] if row[2] != row[3]],
            **shown_findings(found.comparison),
        }
    return render(request, "web/_trial.html", words)
