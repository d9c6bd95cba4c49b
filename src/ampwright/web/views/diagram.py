"""The single-line diagram of a job: circuits are chosen on it and their checks, fields and chart shown beside it."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_GET

from ampwright.web.answers import live_of
from ampwright.web.diagram_page import chosen_thing, diagram_sheets
from ampwright.web.models import JobEntry
from ampwright.web.photos import photos_of
from ampwright.web.store import last_revision
from ampwright.web.views.job import job_words

__all__ = ["diagram_page"]


@require_GET
def diagram_page(request: HttpRequest, job_id: int) -> HttpResponse:
    """Show the diagram; a script asks for what was chosen, or for a newer drawing, alone."""
    entry = get_object_or_404(JobEntry, pk=job_id)
    revision = last_revision(entry)
    live, name = live_of(revision), request.GET.get("circuit", "")
    words = {
        **job_words(entry, revision, tab="diagram"),
        "live": live,
        "wanted": name,
        "photos": photos_of(job_id, name) if name else (),
        "chosen": chosen_thing(live.assessment, name) if live.assessment is not None and name else None,
    }
    target = request.htmx.target  # type: ignore[attr-defined]
    if target != "chosen":
        words["sheets"] = diagram_sheets(live, name)
    template = {"chosen": "web/_chosen.html", "diagram": "web/_diagram.html"}.get(target, "web/diagram.html")
    response = render(request, template, words)
    response.headers["X-Version"] = live.version
    return response
