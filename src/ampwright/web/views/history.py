"""Revisions of a job: undo, redo, what changed between two, going back to one."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterator

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.translation import gettext
from django.views.decorators.http import require_GET, require_POST

from ampwright.web.guards import account_of, changing
from ampwright.web.models import JobEntry, Revision
from ampwright.web.store import Change, last_revision, redo_target, restore, undo_target
from ampwright.web.views.job import job_words

__all__ = ["difference", "history", "redo", "restore_revision", "undo"]


@changing
@require_POST
def undo(request: HttpRequest, job_id: int) -> HttpResponse:
    """Undo the last change."""
    return _gone(request, job_id, "undo", undo_target)


@changing
@require_POST
def redo(request: HttpRequest, job_id: int) -> HttpResponse:
    """Do again what was undone last."""
    return _gone(request, job_id, "redo", redo_target)


def _gone(
    request: HttpRequest, job_id: int, kind: str, target: Callable[[Revision], int | None]
) -> HttpResponse:
    entry = get_object_or_404(JobEntry, pk=job_id)
    number = target(last_revision(entry))
    if number is not None:
        said = {
            "undo": gettext("undone: as revision {number}"),
            "redo": gettext("done again: as revision {number}"),
        }
        what = said[kind].format(number=number)
        change = Change(who=account_of(request).name, what=what, kind=kind, stands_at=number)
        restore(job_id, number, change)
    back = request.POST.get("next", "")
    is_own = url_has_allowed_host_and_scheme(back, allowed_hosts={request.get_host()})
    return redirect(back) if is_own else redirect("answer", job_id)


@require_GET
def history(request: HttpRequest, job_id: int) -> HttpResponse:
    """List the revisions, the last one first."""
    entry = get_object_or_404(JobEntry, pk=job_id)
    revisions = Revision.objects.filter(job=entry).defer("text").order_by("-number")
    words = {**job_words(entry, last_revision(entry), tab="history"), "revisions": revisions[:500]}
    return render(request, "web/history.html", words)


@require_GET
def difference(request: HttpRequest, job_id: int, number: int) -> HttpResponse:
    """Show what changed from another revision (the one before) to this one."""
    entry = get_object_or_404(JobEntry, pk=job_id)
    new = get_object_or_404(Revision, job=entry, number=number)
    asked = request.GET.get("from", "")
    old_number = int(asked) if asked.isascii() and asked.isdigit() and len(asked) < 9 else number - 1
    old = Revision.objects.filter(job=entry, number=old_number).first()
    lines = list(_lines(old.text if old else "", new.text))
    words = {
        **job_words(entry, last_revision(entry), tab="history"),
        "new": new,
        "old": old,
        "lines": lines,
        "numbers": range(1, entry.number + 1),
    }
    return render(request, "web/difference.html", words)


def _lines(old: str, new: str) -> Iterator[tuple[str, str]]:
    """Yield each line of a comparison with its kind: added, removed, place or same."""
    kinds = {"+": "added", "-": "removed", "@": "place"}
    for line in list(difflib.unified_diff(old.splitlines(), new.splitlines(), lineterm="", n=2))[2:]:
        yield kinds.get(line[:1], "same"), line


@changing
@require_POST
def restore_revision(request: HttpRequest, job_id: int, number: int) -> HttpResponse:
    """Go back to a revision: its text becomes a new one."""
    get_object_or_404(Revision, job_id=job_id, number=number)
    why = request.POST.get("why", "").strip()
    restore(
        job_id,
        number,
        Change(
            who=account_of(request).name,
            what=gettext("back to revision {number}").format(number=number),
            why=why,
            kind="restore",
        ),
    )
    return redirect("history", job_id)
