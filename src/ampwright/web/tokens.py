"""Tokens by which a program comes in for a person: made, found, revoked.

A token is 256 random bits, shown once; its SHA-256 is kept. So much chance needs no slow hash: nobody
finds it by trying, and a copy of the database lets nobody in.
"""

from __future__ import annotations

import copy
import datetime as dt
import hashlib
import secrets

from django.utils import timezone
from django.utils.translation import gettext

from ampwright.errors import AmpwrightError
from ampwright.web.models import Account, Role, Token
from ampwright.web.roles import held_role, roles_within

__all__ = ["MOST_DAYS", "MOST_TOKENS", "account_by_token", "make_token", "revoke_all", "revoke_token"]

BEGINNING = "aw_"
"""So that a token is known where somebody pasted it by mistake."""
RANDOM_BYTES = 32
MOST_DAYS = 366
"""Longest time for which a token is made (our own choice)."""
MOST_TOKENS = 20
"""Most tokens of one person that let in at one time (our own choice)."""
NOTED_EVERY = dt.timedelta(minutes=1)
"""How exactly the last use is noted: not every request writes (our own choice)."""


def make_token(account: Account, *, label: str, role: str, days: int) -> str:
    """Return a new token; it cannot be read again later.

    Raises
    ------
    AmpwrightError
        Where label, role or days cannot be taken.
    """
    if not 1 <= len(label) <= 60 or not label.isprintable():
        raise AmpwrightError(gettext("say what the token is for, in 1 to 60 letters"))
    within = roles_within(account.role)
    if role not in within:
        may = gettext("a token of {name} may be: {roles}")
        raise AmpwrightError(may.format(name=account.name, roles=", ".join(map(gettext, within))))
    if not 1 <= days <= MOST_DAYS:
        raise AmpwrightError(gettext("a token lasts 1 to {count} days").format(count=MOST_DAYS))
    now = timezone.now()
    if Token.objects.filter(account=account, revoked_at=None, expires_at__gt=now).count() >= MOST_TOKENS:
        many = gettext("there are {count} tokens already; revoke one that is not needed")
        raise AmpwrightError(many.format(count=MOST_TOKENS))
    token = BEGINNING + secrets.token_urlsafe(RANDOM_BYTES)
    Token.objects.create(
        account=account, label=label, sha256=_hash(token), role=role, expires_at=now + dt.timedelta(days=days)
    )
    return token


def account_by_token(text: str) -> Account | None:
    """Return the account a token stands for, with the token's role; None where it lets nobody in."""
    now = timezone.now()
    found = Token.objects.select_related("account").filter(sha256=_hash(text)).first()
    if found is None or found.revoked_at is not None or found.expires_at <= now:
        return None
    if not found.account.is_active:
        return None
    if found.used_at is None or now - found.used_at > NOTED_EVERY:
        Token.objects.filter(pk=found.pk).update(used_at=now)
    account = copy.copy(found.account)
    account.role = held_role(found.role, account.role)
    return account


def revoke_token(token_id: int, account: Account) -> Token | None:
    """Revoke a token of one's own, or as an admin anybody's; None where there is no such token."""
    mine = Token.objects.filter(pk=token_id, revoked_at=None)
    if account.role != Role.ADMIN:
        mine = mine.filter(account=account)
    found = mine.first()
    if found is not None:
        mine.update(revoked_at=timezone.now())
    return found


def revoke_all(account: Account) -> None:
    """Revoke every token of a person."""
    Token.objects.filter(account=account, revoked_at=None).update(revoked_at=timezone.now())


def _hash(token: str) -> str:
    return hashlib.sha256(token.encode(errors="replace")).hexdigest()
