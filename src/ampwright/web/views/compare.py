"""Two revisions, or two jobs, side by side."""

from __future__ import annotations

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_GET

from ampwright.web.comparing import compared, shown_findings, shown_rows
from ampwright.web.models import JobEntry, Revision

__all__ = ["comparison_page", "comparison_part"]

OFFERED = 500
"""Jobs offered in a list (our own choice)."""


@require_GET
def comparison_page(request: HttpRequest) -> HttpResponse:
    """Show what differs between two revisions; ask for them where they are not said."""
    chosen = [_chosen(request, name) for name in ("a", "b")]
    offered = list(JobEntry.objects.filter(is_archived=False)[:OFFERED])
    words: dict[str, Any] = {"chosen": chosen, "jobs": _with(offered, chosen), "is_asked": all(chosen)}
    return render(request, "web/compare.html", words)


def _with(offered: list[JobEntry], chosen: list[Revision | None]) -> list[JobEntry]:
    """Return the jobs offered with those that are chosen already, archived ones too."""
    known = {entry.pk for entry in offered}
    extra = {each.job_id: each.job for each in chosen if each is not None and each.job_id not in known}
    return [*offered, *extra.values()]


@require_GET
def comparison_part(request: HttpRequest) -> HttpResponse:
    """Show the comparison as far as it is known; the page asks again until it is whole."""
    before, after = (_chosen(request, name) for name in ("a", "b"))
    if before is None or after is None:
        raise Http404
    found = compared(before, after)
    words: dict[str, Any] = {"found": found, "query": request.GET.urlencode()}
    if found.comparison is not None:
        words |= {
            "comparison": found.comparison,
            **shown_rows(found.comparison),
            **shown_findings(found.comparison),
            "sides_said": (("A", found.comparison.before), ("B", found.comparison.after)),
        }
    return render(request, "web/_comparison.html", words)


def _chosen(request: HttpRequest, name: str) -> Revision | None:
    """Return the revision that is asked for, the last one of a job where no number is said."""
    job_id, number = _number(request, name), _number(request, f"{name}_revision")
    if job_id is None:
        return None
    entry = get_object_or_404(JobEntry, pk=job_id)
    found: Revision = get_object_or_404(
        Revision.objects.select_related("job"), job=entry, number=number or entry.number
    )
    return found


def _number(request: HttpRequest, name: str) -> int | None:
    text = request.GET.get(name, "").strip()
    if not text:
        return None
    if not (text.isascii() and text.isdigit() and len(text) < 9):
        raise Http404
    return int(text)
