"""The verdicts of the last revision, as far as they are known at this moment."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_GET

from ampwright.toml_positions import toml_tables
from ampwright.web.answers import Live, live_of
from ampwright.web.edit import JOB
from ampwright.web.field_notes import field_notes
from ampwright.web.models import JobEntry
from ampwright.web.signs import live_signs
from ampwright.web.store import last_revision

__all__ = ["live"]


@require_GET
def live(request: HttpRequest, job_id: int) -> HttpResponse:
    """Show both verdicts; the header says which revision and stage they belong to."""
    entry = get_object_or_404(JobEntry, pk=job_id)
    revision = last_revision(entry)
    found = live_of(revision)
    words = {
        "job": entry,
        "live": found,
        "signs": live_signs(found),
        "share": _share(found),
        "notes": field_notes(found, toml_tables(revision.text, JOB) if found.assessment is None else {}),
        "run_count": found.assessment.design.job.doubt.runs if found.assessment is not None else 0,
    }
    response = render(request, "web/_live.html", words)
    response.headers["X-Version"] = found.version
    return response


def _share(live: Live) -> int:
    """Return how much of the full answer is done, in hundredths."""
    return round(100 * live.done_count / live.step_count) if live.step_count else 0
