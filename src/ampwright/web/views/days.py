"""The day plans of a job on a timeline, with the same stretches in figures."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_GET

from ampwright.climate.series import SunSeries
from ampwright.errors import AmpwrightError
from ampwright.web.app import the_desk
from ampwright.web.day_lines import day_view, samples
from ampwright.web.guards import account_of
from ampwright.web.models import JobEntry, Revision
from ampwright.web.reading import check_shape, job_text
from ampwright.web.reckoning import sun_of
from ampwright.web.roles import may_change
from ampwright.web.store import last_revision
from ampwright.web.views.job import job_words

__all__ = ["days_page"]

TICKS = tuple(f"{100.0 * hour / 24:.4f}%" for hour in range(0, 25, 3))
"""Where the lines of a timeline are, every three hours."""


@require_GET
def days_page(request: HttpRequest, job_id: int) -> HttpResponse:
    """Show the day plans."""
    entry = get_object_or_404(JobEntry, pk=job_id)
    revision = last_revision(entry)
    account = account_of(request)
    words = {
        **job_words(entry, revision, tab="days"),
        "view": day_view(check_shape(revision.text, job_id=job_id), _sun(revision)),
        "ticks": TICKS,
        "samples": samples(),
        "may_type": may_change(account, "day") and may_change(account, "load"),
    }
    return render(request, "web/days.html", words)


def _sun(revision: Revision) -> SunSeries | None:
    """Return the sun of the job's place; None where a name in the job leads nowhere."""
    try:
        found: SunSeries = the_desk().ask(sun_of, job_text(revision.text, job_id=revision.job_id))
    except AmpwrightError:
        return None
    return found
