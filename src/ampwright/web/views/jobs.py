"""The list of jobs: search, new, copy, state, archive."""

from __future__ import annotations

from typing import Any

from django.db.models import Q, QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_GET, require_POST

from ampwright import __version__
from ampwright.web.app import the_stock
from ampwright.web.guards import account_of, address_of, changing, moving
from ampwright.web.models import JobEntry, Result, State
from ampwright.web.reading import today
from ampwright.web.signs import kept_signs
from ampwright.web.store import Change, copy_job, log, new_job, starting_texts

__all__ = ["archive", "copy", "job_list", "move", "new"]

SHOWN = 200
"""Jobs on one page; search finds the others (our own choice)."""


@require_GET
def job_list(request: HttpRequest) -> HttpResponse:
    """Show the jobs, the last changed first."""
    word, state = request.GET.get("word", "").strip(), request.GET.get("state", "")
    is_archived = request.GET.get("archived") == "yes"
    entries = _found(JobEntry.objects.filter(is_archived=is_archived), word, state)
    words = {
        "lines": _lines(list(entries[:SHOWN])),
        "count": entries.count(),
        "shown_count": SHOWN,
        "word": word,
        "state": state,
        "states": State.values,
        "is_archived": is_archived,
    }
    return render(request, "web/jobs.html", words)


def _found(entries: QuerySet[JobEntry], word: str, state: str) -> QuerySet[JobEntry]:
    for each in word.split():
        entries = entries.filter(
            Q(title__icontains=each)
            | Q(code__icontains=each)
            | Q(customer__icontains=each)
            | Q(vehicle__icontains=each)
        )
    return entries.filter(state=state) if state in State.values else entries


def _lines(entries: list[JobEntry]) -> list[dict[str, Any]]:
    """Return each job with the verdicts of its last revision, where they are known as of today."""
    results = Result.objects.filter(
        revision__job__in=entries, program_version=__version__, on=today(), workshop=the_stock().stamp
    ).values_list("revision__job", "revision__number", "use_verdict", "wiring_verdict")
    known = {(job_id, number): kept_signs(use, wiring) for job_id, number, use, wiring in results}
    return [{"job": entry, "signs": known.get((entry.pk, entry.number), ())} for entry in entries]


@changing
def new(request: HttpRequest) -> HttpResponse:
    """Offer the jobs one may begin with, and begin with one."""
    texts = starting_texts()
    name = request.POST.get("from", "")
    if request.method == "POST" and name in texts:
        title, text = texts[name]
        entry = new_job(
            text,
            Change(who=account_of(request).name, what=gettext("begun from: {title}").format(title=title)),
        )
        return redirect("page", entry.pk, "vehicle")
    return render(request, "web/new.html", {"texts": [(key, title) for key, (title, _) in texts.items()]})


@changing
@require_POST
def copy(request: HttpRequest, job_id: int) -> HttpResponse:
    """Copy a job."""
    made = copy_job(get_object_or_404(JobEntry, pk=job_id), account_of(request).name)
    return redirect("page", made.pk, "vehicle")


@moving
@require_POST
def move(request: HttpRequest, job_id: int) -> HttpResponse:
    """Say how far a job has come."""
    entry, state = get_object_or_404(JobEntry, pk=job_id), request.POST.get("state", "")
    if state in State.values and state != entry.state:
        JobEntry.objects.filter(pk=job_id).update(state=state)
        _logged(request, "state", f"{entry.title}: {entry.state} to {state}")
    return redirect("answer", job_id)


@changing
@require_POST
def archive(request: HttpRequest, job_id: int) -> HttpResponse:
    """Put a job into the archive, or fetch it back."""
    entry = get_object_or_404(JobEntry, pk=job_id)
    JobEntry.objects.filter(pk=job_id).update(is_archived=not entry.is_archived)
    _logged(request, "fetched from archive" if entry.is_archived else "archived", entry.title)
    return redirect("jobs")


def _logged(request: HttpRequest, what: str, detail: str) -> None:
    log(account_of(request).name, what, address=address_of(request), detail=detail)
