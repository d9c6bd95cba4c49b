"""Files of what a job names of the workshop's own things, to hand on with it."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_GET

from ampwright.web.carried import carried_by, parts_text
from ampwright.web.models import JobEntry
from ampwright.web.modules import definition_named, file_of_module
from ampwright.web.store import last_revision

__all__ = ["module_file", "parts_file"]


@require_GET
def parts_file(request: HttpRequest, job_id: int) -> HttpResponse:  # noqa: ARG001 - as Django calls it
    """Give the workshop's own parts that a job names, as a file of parts."""
    carried = carried_by(last_revision(get_object_or_404(JobEntry, pk=job_id)))
    if not carried.part_ids:
        raise Http404
    return _sent(parts_text(carried), "workshop-parts.toml")


@require_GET
def module_file(request: HttpRequest, name: str, revision: str) -> HttpResponse:  # noqa: ARG001 - as Django calls it
    """Give the file of a kept revision of a module."""
    found = definition_named(name, revision)
    if found is None or not file_of_module(found).is_file():
        raise Http404
    path = file_of_module(found)
    return _sent(path.read_text(encoding="utf-8"), path.name)


def _sent(text: str, name: str) -> HttpResponse:
    response = HttpResponse(text, content_type="application/toml; charset=utf-8")
    response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return response
