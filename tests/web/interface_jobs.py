"""A network with accounts, and programs that ask with a token."""

from __future__ import annotations

import dataclasses
import json

from django.conf import settings
from django.test import Client, override_settings

from ampwright.web.models import Account
from ampwright.web.serve import make_account
from ampwright.web.tokens import make_token

PASSWORD = "a long walk in the rain"  # noqa: S105 - of a test
BASE = "/api/v1/"


def as_network():
    """Let the app think that it answers the local network."""
    return override_settings(AMPWRIGHT_PLACE=dataclasses.replace(settings.AMPWRIGHT_PLACE, is_lan=True))


def token_of(role, of_account=None, **words):
    """Return a token of a new account."""
    name = f"person-{Account.objects.count()}"
    make_account(name, password=PASSWORD, role=of_account or role)
    account = Account.objects.get(name=name)
    return make_token(account, **{"label": "a script", "role": role, "days": 3, **words})


class Program:
    """Another program: it has no cookies and a token, or none."""

    def __init__(self, token=None):
        self._client = Client(enforce_csrf_checks=True, HTTP_HOST="127.0.0.1")
        self._headers = {"Authorization": f"Bearer {token}"} if token else {}

    def get(self, path, **words):
        return self._client.get(BASE + path, headers={**self._headers, **words})

    def send(self, method, path, value, *, kind="application/json", **words):
        data = value if isinstance(value, bytes) else json.dumps(value).encode()
        return self._client.generic(
            method, BASE + path, data, content_type=kind, headers={**self._headers, **words}
        )


def trouble(response, status):
    """Return the one record that every refusal has."""
    assert response.status_code == status, response.content
    assert response.headers["Content-Type"] == "application/problem+json"
    found = response.json()
    assert found["status"] == status
    assert found["type"].startswith("urn:ampwright:trouble:")
    assert found["detail"]
    assert found["mend"]
    return found
