"""The answer to a job: verdicts, what runs out first, changes, questions, findings, chart and ledger."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_GET

from ampwright.web.answer_page import answer_words
from ampwright.web.answers import live_of
from ampwright.web.models import JobEntry, State
from ampwright.web.signs import live_signs
from ampwright.web.store import last_revision
from ampwright.web.views.job import job_words

__all__ = ["answer_page"]


@require_GET
def answer_page(request: HttpRequest, job_id: int) -> HttpResponse:
    """Show the answer as far as it is known; the page asks again until it is whole."""
    entry = get_object_or_404(JobEntry, pk=job_id)
    revision = last_revision(entry)
    is_part = request.htmx and not request.htmx.boosted  # type: ignore[attr-defined]
    words: dict[str, Any] = {**job_words(entry, revision, tab="answer"), "states": State.values}
    if is_part:
        live = live_of(revision)
        words |= {"live": live, "signs": live_signs(live), **answer_words(live)}
        response = render(request, "web/_answer.html", words)
        response.headers["X-Version"] = live.version
        return response
    return render(request, "web/answer.html", words)
