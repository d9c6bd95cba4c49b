"""The list of jobs: search, new, copy, state, archive."""

from __future__ import annotations

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.translation import get_language, gettext
from django.views.decorators.http import require_GET, require_POST

from ampwright.documents.words.words import LANGUAGES
from ampwright.job.text_edit import with_value
from ampwright.web.answers import ask_full
from ampwright.web.customary import reader_units
from ampwright.web.guards import account_of, address_of, changing, moving
from ampwright.web.job_lines import VERDICTS, asked_for, lines_of, state_counts
from ampwright.web.models import JobEntry, State
from ampwright.web.store import Change, copy_job, last_revision, log, new_job, starting_texts

__all__ = ["archive", "copy", "job_list", "move", "new", "reckon"]

SHOWN = 30
"""Jobs on one page (our own choice): with styles and script it stays below 60 kB."""


@require_GET
def job_list(request: HttpRequest) -> HttpResponse:
    """Show the jobs, the last changed first."""
    asked = asked_for(request.GET)
    lines = lines_of(asked)
    page = Paginator(lines, SHOWN).get_page(request.GET.get("page"))
    words = {
        "page": page,
        "lines": page.object_list,
        "asked": asked,
        "states": state_counts(asked),
        "verdicts": VERDICTS,
        "unknown_count": sum(not line.signs for line in page),
    }
    return render(request, "web/jobs.html", words)


@changing
@require_POST
def reckon(request: HttpRequest) -> HttpResponse:
    """Have the full answers made of the jobs on a page that have none; they come one after the other."""
    numbers = [text for text in request.POST.getlist("job")[:SHOWN] if text.isascii() and text.isdigit()]
    for entry in JobEntry.objects.filter(pk__in=[int(text) for text in numbers if len(text) < 10]):
        ask_full(last_revision(entry))
    back = request.POST.get("next", "")
    is_own = url_has_allowed_host_and_scheme(back, allowed_hosts={request.get_host()})
    return redirect(back if is_own else "jobs")


@changing
def new(request: HttpRequest) -> HttpResponse:
    """Offer the jobs one may begin with, and begin with one."""
    texts = starting_texts()
    name = request.POST.get("from", "")
    if request.method == "POST" and name in texts:
        title, text = texts[name]
        entry = new_job(
            _for_reader(text),
            Change(who=account_of(request).name, what=gettext("begun from: {title}").format(title=title)),
        )
        return redirect("page", entry.pk, "vehicle")
    return render(request, "web/new.html", {"texts": [(key, title) for key, (title, _) in texts.items()]})


def _for_reader(text: str) -> str:
    """Return the text of a new job with language and units of whoever begins it."""
    spoken = get_language()
    if spoken != "en" and spoken in LANGUAGES:
        text = with_value(text, ("job", "language"), spoken)
    return with_value(text, ("job", "units"), "us") if reader_units.get() == "us" else text


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
