"""Login and logout, accounts, and the log of who did what."""

from __future__ import annotations

from typing import Any

from django.contrib.auth import authenticate, login, logout
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.translation import gettext
from django.views.decorators.http import require_GET, require_POST

from ampwright.web.guards import account_of, address_of, managing
from ampwright.web.models import Account, Event, Role
from ampwright.web.roles import LOCAL_NAME
from ampwright.web.store import log
from ampwright.web.throttle import wait_minutes
from ampwright.web.tokens import revoke_all

__all__ = ["account_list", "change_account", "event_list", "login_page", "logout_now"]


def login_page(request: HttpRequest) -> HttpResponse:
    """Let a person in, not more often wrongly than the throttle allows."""
    words: dict[str, Any] = {"next": request.GET.get("next", ""), "complaint": ""}
    if request.method != "POST":
        return render(request, "web/login.html", words)
    name, address = request.POST.get("name", "").strip()[:60], address_of(request)
    minutes = wait_minutes(name, address)
    if minutes:
        words["complaint"] = gettext("Too many wrong attempts. Try again in {minutes} min.").format(
            minutes=minutes
        )
        return render(request, "web/login.html", words, status=429)
    account = authenticate(request, username=name, password=request.POST.get("password", ""))
    if account is None or name == LOCAL_NAME:
        log(name, "login refused", address=address)
        words["complaint"] = gettext("Name or password is wrong.")
        return render(request, "web/login.html", words, status=403)
    login(request, account)
    log(name, "login", address=address)
    after = request.POST.get("next", "")
    is_own = url_has_allowed_host_and_scheme(after, allowed_hosts={request.get_host()})
    return redirect(after) if is_own else redirect("jobs")


@require_POST
def logout_now(request: HttpRequest) -> HttpResponse:
    """Let a person out."""
    log(account_of(request).name, "logout", address=address_of(request))
    logout(request)
    return redirect("login")


@managing
def account_list(request: HttpRequest) -> HttpResponse:
    """List the accounts, and make another one."""
    complaints = _made(request) if request.method == "POST" else []
    if request.method == "POST" and not complaints:
        return redirect("accounts")
    accounts = Account.objects.exclude(name=LOCAL_NAME).order_by("name")
    words = {"accounts": accounts, "roles": Role.values, "complaints": complaints}
    return render(request, "web/accounts.html", words, status=422 if complaints else 200)


def _made(request: HttpRequest) -> list[str]:
    """Make an account; return why it cannot be made."""
    name, role = request.POST.get("name", "").strip(), request.POST.get("role", "")
    complaints = _password_complaints(request.POST.get("password", ""))
    if not 2 <= len(name) <= 60 or role not in Role.values:
        complaints.append(gettext("give a name of 2 to 60 letters and a role"))
    elif Account.objects.filter(name__iexact=name).exists() or name == LOCAL_NAME:
        complaints.append(gettext("there is an account '{name}' already").format(name=name))
    if not complaints:
        Account.objects.create_account(name, password=request.POST["password"], role=role)
        log(account_of(request).name, "account made", address=address_of(request), detail=f"{name}, {role}")
    return complaints


@managing
@require_POST
def change_account(request: HttpRequest, account_id: int) -> HttpResponse:
    """Change a person's role or password, or lock the account."""
    account = get_object_or_404(Account.objects.exclude(name=LOCAL_NAME), pk=account_id)
    role, password = request.POST.get("role", ""), request.POST.get("password", "")
    complaints = _password_complaints(password) if password else []
    if role in Role.values and not complaints:
        account.role, account.is_active = role, request.POST.get("active") == "yes"
        if password:
            account.set_password(password)
            revoke_all(account)  # whoever knew the old one may have made tokens with it
        account.save()
        detail = f"{account.name}, {role}, {'active' if account.is_active else 'locked'}"
        log(account_of(request).name, "account changed", address=address_of(request), detail=detail)
        return redirect("accounts")
    words = {
        "accounts": Account.objects.exclude(name=LOCAL_NAME),
        "roles": Role.values,
        "complaints": complaints,
    }
    return render(request, "web/accounts.html", words, status=422)


def _password_complaints(password: str) -> list[str]:
    try:
        validate_password(password)
    except ValidationError as error:
        return list(error.messages)
    return []


@managing
@require_GET
def event_list(request: HttpRequest) -> HttpResponse:
    """Show the log, newest first."""
    return render(request, "web/log.html", {"events": Event.objects.all()[:500]})
