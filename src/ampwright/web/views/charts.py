"""The charts of a job: the page, what its script draws, and every step as a file."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_GET

from ampwright.documents.chart import soc_chart
from ampwright.documents.chart_svg import chart_svg
from ampwright.documents.energy_view import use_course
from ampwright.web.answers import Live, live_of
from ampwright.web.charts_page import chart_data, day_rows, ledger_bars, step_lines
from ampwright.web.models import JobEntry
from ampwright.web.store import last_revision
from ampwright.web.views.job import job_words
from ampwright.web.words.reader import reader_words

__all__ = ["charts_page", "charts_steps", "courses"]


@require_GET
def charts_page(request: HttpRequest, job_id: int) -> HttpResponse:
    """Show the charts; without script as a fixed picture with tables."""
    entry = get_object_or_404(JobEntry, pk=job_id)
    revision = last_revision(entry)
    live = live_of(revision)
    words = {
        **job_words(entry, revision, tab="charts"),
        "live": live,
        "picture": _picture(live),
        "days": day_rows(live),
        "ledger": ledger_bars(live),
        "worst": live.answer.chance.worst_message
        if live.answer is not None and live.answer.chance is not None
        else "",
    }
    is_part = request.htmx.target == "charts"  # type: ignore[attr-defined]
    response = render(request, "web/_charts.html" if is_part else "web/charts.html", words)
    response.headers["X-Version"] = live.version
    return response


@require_GET
def courses(request: HttpRequest, job_id: int) -> HttpResponse:  # noqa: ARG001 - as Django calls it
    """Give what the script draws."""
    return JsonResponse(chart_data(live_of(last_revision(get_object_or_404(JobEntry, pk=job_id)))))


@require_GET
def charts_steps(request: HttpRequest, job_id: int) -> HttpResponse:  # noqa: ARG001 - as Django calls it
    """Give every step of the charts as a file."""
    entry = get_object_or_404(JobEntry, pk=job_id)
    text = "".join(step_lines(live_of(last_revision(entry))))
    response = HttpResponse(text, content_type="text/csv; charset=utf-8")
    response.headers["Content-Disposition"] = (
        f'attachment; filename="job-{entry.pk}-revision-{entry.number}-steps.csv"'
    )
    return response


def _picture(live: Live) -> str:
    """Return the fixed chart; empty where there is none."""
    if live.assessment is None:
        return ""
    chance = live.answer.chance if live.answer is not None else None
    course, units = use_course(live.assessment, chance), live.assessment.design.job.job.units
    return chart_svg(soc_chart(course, units=units, words=reader_words()), family="inherit")
