"""Edits of single fields and rows; the answer to each is a short notice to the page."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_POST

from ampwright.errors import AmpwrightError
from ampwright.job.text_edit import value_at
from ampwright.toml_positions import toml_tables
from ampwright.web.app import the_desk
from ampwright.web.edit import ChangedMeanwhileError, add_row, change_value, copy_row, refusal, remove_row
from ampwright.web.guards import account_of
from ampwright.web.models import JobEntry, Revision
from ampwright.web.reading import folder_of
from ampwright.web.roles import may_change
from ampwright.web.sheet import path_of, row_name, was_text
from ampwright.web.stretch import change_stretch, is_stretch

__all__ = ["add", "change", "copy", "remove"]

Act = Callable[..., Any]


@require_POST
def change(request: HttpRequest, job_id: int) -> HttpResponse:
    """Change one field, or both ends of a stretch of the day."""
    return _acted(request, job_id, lambda typed, who: _changed(job_id, typed, who))


@require_POST
def add(request: HttpRequest, job_id: int) -> HttpResponse:
    """Add a row or a table, then show the page anew."""
    return _shown_anew(_acted(request, job_id, lambda typed, who: add_row(job_id, typed, who=who)))


@require_POST
def copy(request: HttpRequest, job_id: int) -> HttpResponse:
    """Copy a row, then show the page anew."""
    return _shown_anew(_acted(request, job_id, lambda typed, who: copy_row(job_id, typed, who=who)))


@require_POST
def remove(request: HttpRequest, job_id: int) -> HttpResponse:
    """Take a row or a table away, then show the page anew."""
    return _shown_anew(_acted(request, job_id, lambda typed, who: remove_row(job_id, typed, who=who)))


def _changed(job_id: int, typed: dict[str, str], who: str) -> Revision:
    if is_stretch(path_of(typed.get("path", ""))):
        return change_stretch(job_id, typed, who=who)
    return change_value(job_id, typed, who=who)[0]


def _acted(request: HttpRequest, job_id: int, act: Act) -> HttpResponse:
    get_object_or_404(JobEntry, pk=job_id)
    typed = {name: str(value) for name, value in request.POST.items()}
    path = typed.get("path", "")
    if not may_change(account_of(request), path.partition(".")[0]):
        raise PermissionDenied
    try:
        with the_desk().waiting_person():
            revision = act(typed, account_of(request).name)
    except ChangedMeanwhileError as error:
        return _notice("meanwhile", {"path": path, "message": str(error)})
    except AmpwrightError as error:
        return _notice("refused", {"path": path, "message": refusal(error, path)})
    return _notice("saved", _saved(revision, path))


def _saved(revision: Revision, path: str) -> dict[str, Any]:
    """Return what the page has to know after a save: the number, and what now stands in field and row."""
    raw = toml_tables(revision.text, folder_of(revision.job_id) / "job.toml")
    at = path_of(path)
    last = max((index for index, step in enumerate(at) if isinstance(step, int)), default=-1)
    return {
        "path": path,
        "number": revision.number,
        "was": was_text(value_at(raw, at)),
        "row": row_name(raw, at),
        "rowPath": ".".join(str(step) for step in at[: last + 1]),
    }


def _notice(event: str, detail: dict[str, Any]) -> HttpResponse:
    response = HttpResponse(status=204)
    response.headers["HX-Trigger"] = json.dumps({event: detail})
    return response


def _shown_anew(response: HttpResponse) -> HttpResponse:
    if '"saved"' in response.headers["HX-Trigger"][:10]:
        response.headers["HX-Refresh"] = "true"
    return response
