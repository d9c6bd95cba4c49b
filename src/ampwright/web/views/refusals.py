"""What is shown where a page cannot be."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext

__all__ = ["failed", "not_allowed", "not_found"]


def not_allowed(request: HttpRequest, exception: Any = None) -> HttpResponse:  # noqa: ARG001 - as Django calls it
    """Say that the role does not allow it."""
    text = gettext("Your role does not allow this. Ask whoever manages the accounts.")
    return _said(request, 403, gettext("Not allowed"), text)


def not_found(request: HttpRequest, exception: Any = None) -> HttpResponse:  # noqa: ARG001 - as Django calls it
    """Say that there is no such page."""
    return _said(request, 404, gettext("No such page"), gettext("There is no such job or page."))


def failed(request: HttpRequest) -> HttpResponse:
    """Say that the program failed."""
    text = gettext("A fault of the program. What was saved before is kept; load the page anew.")
    return _said(request, 500, gettext("This failed"), text)


def _said(request: HttpRequest, status: int, title: str, text: str) -> HttpResponse:
    return render(request, "web/refusal.html", {"title": title, "text": text}, status=status)
