"""What is shown where a page cannot be."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext

from ampwright.web.interface.text import json_text
from ampwright.web.interface.trouble import MEDIA_TYPE, RefusalError
from ampwright.web.models import Account
from ampwright.web.store import log

__all__ = [
    "being_restored",
    "failed",
    "not_allowed",
    "not_found",
    "not_readable",
    "strange_form",
    "too_large",
]


def not_allowed(request: HttpRequest, exception: Any = None) -> HttpResponse:  # noqa: ARG001 - as Django calls it
    """Say that the role does not allow it."""
    account = getattr(request, "user", None)
    if isinstance(account, Account):
        address = str(request.META.get("REMOTE_ADDR", ""))[:45]
        log(account.name, "not allowed", address=address, detail=f"{request.method} {request.path}")
    text = gettext("Your role does not allow this. Ask whoever manages the accounts.")
    return _said(request, 403, gettext("Not allowed"), text)


def being_restored(request: HttpRequest) -> HttpResponse:
    """Say that the workshop is being restored; whoever asks comes back in a moment."""
    if request.path.startswith("/api/"):
        refusal = RefusalError(503, "a backup is being restored", "ask again in a minute")
        content = json_text(refusal.told_at(request.path[:300]))
        response = HttpResponse(content, status=503, content_type=MEDIA_TYPE)
    else:
        text = gettext("A backup is being restored. Nothing was saved; load the page anew in a minute.")
        response = _said(request, 503, gettext("One moment"), text)
    response.headers["Retry-After"] = "60"
    return response


def not_found(request: HttpRequest, exception: Any = None) -> HttpResponse:  # noqa: ARG001 - as Django calls it
    """Say that there is no such page."""
    return _said(request, 404, gettext("No such page"), gettext("There is no such job or page."))


def failed(request: HttpRequest) -> HttpResponse:
    """Say that the program failed."""
    if request.path.startswith("/api/"):
        refusal = RefusalError(500, "the program failed", "what was saved before is kept; please report this")
        content = json_text(refusal.told_at(request.path[:300]))
        return HttpResponse(content, status=500, content_type=MEDIA_TYPE)
    text = gettext("A fault of the program. What was saved before is kept; load the page anew.")
    return _said(request, 500, gettext("This failed"), text)


def not_readable(request: HttpRequest) -> HttpResponse:
    """Say that what was sent is no text."""
    text = gettext("What was sent holds signs that are no text. Nothing was saved.")
    return _said(request, 400, gettext("Not readable"), text)


def strange_form(request: HttpRequest, reason: str = "") -> HttpResponse:  # noqa: ARG001 - as Django calls it
    """Say that a form was not one of this app's, or is from before the last login."""
    text = gettext(
        "This form is from before the last login, or from another site. Nothing was saved; load the page anew and send it again."
    )
    return _said(request, 403, gettext("Not accepted"), text)


def too_large(request: HttpRequest) -> HttpResponse:
    """Say that more was sent than is taken."""
    text = gettext("More was sent than is taken here. Nothing was saved; choose a smaller file.")
    return _said(request, 413, gettext("Too large"), text)


def _said(request: HttpRequest, status: int, title: str, text: str) -> HttpResponse:
    return render(request, "web/refusal.html", {"title": title, "text": text}, status=status)
