"""The pages of a job that are typed into: its parts as tables and sheets, one row, the whole text."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_GET

from ampwright.errors import JobError, Problem
from ampwright.toml_positions import toml_tables
from ampwright.web.answers import task_of
from ampwright.web.app import the_desk
from ampwright.web.guards import account_of
from ampwright.web.models import JobEntry, Revision
from ampwright.web.pages import PAGES, offered_names, page_named
from ampwright.web.photos import SUBJECTS, photos_of
from ampwright.web.roles import may_change
from ampwright.web.sheet import block_at, path_of, row_name
from ampwright.web.store import Change, change_job, last_revision, redo_target, undo_target

__all__ = ["job_words", "page", "row_page", "text_page"]

JOB = Path("job.toml")


def job_words(entry: JobEntry, revision: Revision, *, tab: str) -> dict[str, Any]:
    """Return what every page of a job prints."""
    return {
        "job": entry,
        "revision": revision,
        "pages": PAGES,
        "tab": tab,
        "can_undo": undo_target(revision) is not None,
        "can_redo": redo_target(revision) is not None,
    }


@require_GET
def page(request: HttpRequest, job_id: int, name: str) -> HttpResponse:
    """Show one page of a job's parts."""
    found = page_named(name)
    if found is None:
        raise Http404
    entry = get_object_or_404(JobEntry, pk=job_id)
    words = _typed_words(request, entry, tab=name, paths=found.paths)
    return render(request, "web/page.html", {**words, "page": found})


@require_GET
def row_page(request: HttpRequest, job_id: int, place: str) -> HttpResponse:
    """Show one row of a table with all its fields."""
    path = path_of(place)
    entry = get_object_or_404(JobEntry, pk=job_id)
    tab = next((each.name for each in PAGES if path and path[0] in each.paths), "")
    if not tab:
        raise Http404
    words = _typed_words(request, entry, tab=tab, paths=(place,))
    if not words["blocks"] or not getattr(words["blocks"][0], "is_there", True):
        raise Http404
    subject = row_name(toml_tables(words["revision"].text, JOB), path)
    words |= {"subject": subject, "photos": photos_of(job_id, subject) if subject else ()}
    words["can_be_photographed"] = bool(subject) and path[0] in SUBJECTS
    return render(request, "web/row.html", {**words, "page": page_named(tab), "place": place})


def _typed_words(
    request: HttpRequest, entry: JobEntry, *, tab: str, paths: tuple[str, ...]
) -> dict[str, Any]:
    revision = last_revision(entry)
    raw = toml_tables(revision.text, JOB)
    quick = the_desk().known(task_of(revision))
    nodes = quick.assessment.design.nodes if quick is not None and quick.assessment is not None else ()
    account = account_of(request)
    blocks = [block for path in paths if (block := block_at(raw, path_of(path))) is not None]
    return {
        **job_words(entry, revision, tab=tab),
        "blocks": blocks,
        "names": offered_names(raw, tuple(nodes)),
        "may_type": all(may_change(account, path.partition(".")[0]) for path in paths),
    }


def text_page(request: HttpRequest, job_id: int) -> HttpResponse:
    """Show the whole text of a job, and take a new one."""
    entry = get_object_or_404(JobEntry, pk=job_id)
    revision = last_revision(entry)
    words: dict[str, Any] = {**job_words(entry, revision, tab="text"), "text": revision.text, "problems": ()}
    if request.method != "POST":
        return render(request, "web/text.html", words)
    if not may_change(account_of(request)):
        raise PermissionDenied
    text, problems = _taken(request, job_id, revision.number)
    if not problems:
        return redirect("text", job_id)
    return render(request, "web/text.html", {**words, "text": text, "problems": problems}, status=422)


def _taken(request: HttpRequest, job_id: int, number: int) -> tuple[str, tuple[Problem, ...]]:
    """Take a typed text; return it with its problems."""
    text = request.POST.get("text", "").replace("\r\n", "\n")
    if request.POST.get("number") != str(number):
        message = gettext(
            "not saved: the job was changed meanwhile; copy your text, load the page anew, and look at History"
        )
        return text, (Problem(path="", message=message),)
    why = request.POST.get("why", "").strip()
    try:
        what = gettext("text changed")
        change_job(job_id, lambda _: text, Change(who=account_of(request).name, what=what, why=why))
    except JobError as error:
        return text, error.problems
    return text, ()
