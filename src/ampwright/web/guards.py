"""What stands before every page: security headers, who asks, and the words on every page."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import wraps
from typing import Any, cast

from django.conf import settings
from django.contrib.auth.views import redirect_to_login
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponseBase
from django.utils import translation

from ampwright import __version__
from ampwright.web.configure import CONTENT_POLICY, REQUEST_BYTES
from ampwright.web.customary import reader_units
from ampwright.web.models import Account, Role
from ampwright.web.roles import LOCAL_NAME, may_change, may_manage, may_move
from ampwright.web.views.refusals import not_readable, too_large

__all__ = [
    "account_of",
    "address_of",
    "changing",
    "form_size",
    "in_own_language",
    "local_account",
    "managing",
    "page_words",
    "readable",
    "security_headers",
    "who_asks",
]

Answering = Callable[[HttpRequest], HttpResponseBase]
View = Callable[..., HttpResponseBase]
OPEN_PATHS = ("/login", "/static/")
"""What is shown before anybody logged in."""
FORM_BYTES = 6_000_000
"""Largest form taken (our own choice); the text of a job has at most 2 MB."""
LARGER_FORMS = (
    (re.compile(r"/jobs/\d+/files"), REQUEST_BYTES),
    (re.compile(r"/jobs/\d+/photos"), 21_000_000),
    (re.compile(r"/import|/backup/restore"), 201_000_000),
)
"""Where larger ones are taken: files of 12 MB, photos of 20 MB, jobs with all of them and backups of 200 MB."""
INTERFACE = "/api/v1/"
"""Where programs ask; they are known by their token, never by a login."""


def security_headers(answering: Answering) -> Answering:
    """Answer under the app's own names alone; let a page load nothing but what this app serves."""

    def answered(request: HttpRequest) -> HttpResponseBase:
        request.get_host()  # refuses a strange name: a page elsewhere may have pointed its name at this machine
        response = answering(request)
        response.headers.setdefault("Content-Security-Policy", CONTENT_POLICY)
        response.headers["Permissions-Policy"] = "camera=(), microphone=(), geolocation=()"
        response.headers["Cross-Origin-Resource-Policy"] = "same-origin"
        if not request.path.startswith("/static/"):
            response.headers.setdefault("Cache-Control", "no-store")
        return response

    return answered


def form_size(answering: Answering) -> Answering:
    """Refuse a form that is larger than its address takes, before anything of it is read."""

    def answered(request: HttpRequest) -> HttpResponseBase:
        if request.path.startswith(INTERFACE):
            return answering(request)
        most = next((size for place, size in LARGER_FORMS if place.fullmatch(request.path)), FORM_BYTES)
        said = str(request.META.get("CONTENT_LENGTH") or "0")
        if not said.isdigit() or int(said) > most:
            return too_large(request)
        return answering(request)

    return answered


def readable(answering: Answering) -> Answering:
    """Refuse what holds the sign zero: no person types it, no database takes it in a text, no system in a name."""

    def answered(request: HttpRequest) -> HttpResponseBase:
        if request.path.startswith(INTERFACE):
            return answering(request)
        asked = [request.path, *(value for _, values in request.GET.lists() for value in values)]
        typed = (value for _, values in request.POST.lists() for value in values)
        if any("\0" in text for text in (*asked, *typed)):
            return not_readable(request)
        return answering(request)

    return answered


def who_asks(answering: Answering) -> Answering:
    """Take whoever sits at this machine for its own account; in the network, send strangers to the login."""

    def answered(request: HttpRequest) -> HttpResponseBase:
        if request.path.startswith(INTERFACE):
            return answering(request)
        if not settings.AMPWRIGHT_PLACE.is_lan:
            request.user = local_account()
        elif not request.user.is_authenticated and not request.path.startswith(OPEN_PATHS):
            return redirect_to_login(request.get_full_path(), settings.LOGIN_URL)
        return answering(request)

    return answered


def in_own_language(answering: Answering) -> Answering:
    """Answer in the account's language and units; in the language the browser asks for where it has chosen none."""

    def answered(request: HttpRequest) -> HttpResponseBase:
        asks = getattr(request, "user", None)
        account = asks if isinstance(asks, Account) else None
        chosen = account.language if account is not None else ""
        mark = reader_units.set("us" if account is not None and account.units == "us" else "metric")
        try:
            with translation.override(chosen or translation.get_language_from_request(request)):
                response = answering(request)
                response.headers.setdefault("Content-Language", translation.get_language() or "en")
        finally:
            reader_units.reset(mark)
        return response

    return answered


def local_account() -> Account:
    """Return the account of whoever sits at this machine; nobody can log in with it."""
    found = Account.objects.filter(name=LOCAL_NAME).first()
    return found or Account.objects.create_account(LOCAL_NAME, password=None, role=Role.ADMIN)


def account_of(request: HttpRequest) -> Account:
    """Return who asks; the guards let nobody else through."""
    return cast("Account", request.user)


def address_of(request: HttpRequest) -> str:
    """Return the address a request came from."""
    return str(request.META.get("REMOTE_ADDR", ""))[:45]


def changing(view: View) -> View:
    """Let only those through who may change jobs as a whole."""
    return _guarded(view, may_change)


def managing(view: View) -> View:
    """Let only those through who manage accounts."""
    return _guarded(view, may_manage)


def moving(view: View) -> View:
    """Let only those through who may say how far a job has come."""
    return _guarded(view, may_move)


def _guarded(view: View, is_allowed: Callable[[Account], bool]) -> View:
    @wraps(view)
    def guarded(request: HttpRequest, *args: Any, **words: Any) -> HttpResponseBase:
        if not is_allowed(account_of(request)):
            raise PermissionDenied
        return view(request, *args, **words)

    return guarded


def page_words(request: HttpRequest) -> dict[str, Any]:
    """Return what every page prints."""
    asks = getattr(request, "user", None)
    account = asks if isinstance(asks, Account) else None
    return {
        "program_version": __version__,
        "is_lan": settings.AMPWRIGHT_PLACE.is_lan,
        "account": account,
        "may_change": account is not None and may_change(account),
        "may_manage": account is not None and may_manage(account),
        "may_move": account is not None and may_move(account),
    }
