"""What a person chooses for the pages: language and units."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext_noop

from ampwright.web.guards import account_of
from ampwright.web.words.compiled import LANGUAGES

__all__ = ["UNITS", "own_settings"]

UNITS = (
    ("metric", gettext_noop("metric: m, mm, mm², kg, °C")),
    ("us", gettext_noop("US customary: ft, in, AWG, lb, °F")),
)


def own_settings(request: HttpRequest) -> HttpResponse:
    """Show what whoever asks has chosen, and take another choice."""
    account = account_of(request)
    if request.method == "POST":
        language, units = request.POST.get("language", ""), request.POST.get("units", "")
        account.language = language if language in dict(LANGUAGES) else ""
        account.units = units if units in dict(UNITS) else "metric"
        account.save(update_fields=["language", "units"])
        return redirect("own-settings")
    return render(request, "web/own_settings.html", {"languages": LANGUAGES, "units": UNITS})
