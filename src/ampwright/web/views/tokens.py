"""Tokens by which programs come in: a person makes and revokes them here."""

from __future__ import annotations

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST

from ampwright.errors import AmpwrightError
from ampwright.web.guards import account_of, address_of
from ampwright.web.models import Role, Token
from ampwright.web.roles import roles_within
from ampwright.web.store import log
from ampwright.web.tokens import MOST_DAYS, make_token, revoke_token

__all__ = ["revoke", "token_list"]


def token_list(request: HttpRequest) -> HttpResponse:
    """List a person's tokens (an admin's: everybody's), and make another one, shown this once."""
    words: dict[str, Any] = {"token": "", "complaint": ""}
    if request.method == "POST":
        try:
            words["token"] = _made(request)
        except AmpwrightError as error:
            words["complaint"] = str(error)
    account = account_of(request)
    tokens = Token.objects.select_related("account").filter(revoked_at=None, expires_at__gt=timezone.now())
    if account.role != Role.ADMIN:
        tokens = tokens.filter(account=account)
    words |= {"tokens": tokens, "roles": roles_within(account.role), "most_days": MOST_DAYS}
    return render(request, "web/tokens.html", words, status=422 if words["complaint"] else 200)


def _made(request: HttpRequest) -> str:
    account, typed = account_of(request), request.POST
    days = typed.get("days", "")
    token = make_token(
        account,
        label=typed.get("label", "").strip(),
        role=typed.get("role", ""),
        days=int(days) if days.isascii() and days.isdigit() and len(days) < 6 else 0,
    )
    detail = f"{typed['label'].strip()}, {typed['role']}, {days} days"
    log(account.name, "token made", address=address_of(request), detail=detail)
    return token


@require_POST
def revoke(request: HttpRequest, token_id: int) -> HttpResponse:
    """Revoke a token: it lets nobody in from now on."""
    account = account_of(request)
    token = revoke_token(token_id, account)
    if token is None:
        raise Http404
    log(account.name, "token revoked", address=address_of(request), detail=token.label)
    return redirect("tokens")
