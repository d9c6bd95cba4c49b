"""Every address of the app, as a stranger, as each role, and with what an attacker would put into it.

Nobody may send anything to a new address until it is listed here who may.
"""

from __future__ import annotations

import re

import pytest
from django.conf import settings
from django.test import Client
from django.urls import get_resolver
from interface_jobs import BASE, PASSWORD, as_network
from web_jobs import job_from, put, text_of

from ampwright.web.models import Account, Event, JobEntry, Photo, Revision, Role, Token
from ampwright.web.serve import make_account

ALL = frozenset(Role.values)
CHANGE = frozenset({"admin", "designer"})
MOVE = CHANGE | {"bench"}
MANAGE = frozenset({"admin"})
SHOW = ALL - {"read-only"}
MAY_SEND = {
    **dict.fromkeys(["new", "import", "copy", "archive", "undo", "redo", "restore", "text", "files"], CHANGE),
    **dict.fromkeys(["edit", "add", "copy-row", "remove"], CHANGE),
    **dict.fromkeys(
        ["part-edit", "part-import", "part-new", "part-remove", "module-import", "module-remove"], CHANGE
    ),
    **dict.fromkeys(["intake", "intake-anew", "intake-made", "intake-step"], CHANGE),
    **dict.fromkeys(["accounts", "account", "backup", "backup-look", "backup-restore"], MANAGE),
    **dict.fromkeys(["tokens", "revoke-token", "logout", "login", "battery-log"], ALL),
    **dict.fromkeys(["photos"], SHOW),
    **dict.fromkeys(["reckon", "place-import", "place-new"], CHANGE),
    "own-settings": ALL,
    "state": MOVE,
}
"""Roles that may send something to an address; to one that is not named nobody may, or only with a right name in it (404 here)."""
KEPT = (Account, JobEntry, Photo, Revision, Token)


def addresses(patterns=None, base=""):
    """Yield route and name of every address."""
    for pattern in get_resolver().url_patterns if patterns is None else patterns:
        route = f"{base}{pattern.pattern}"
        if hasattr(pattern, "url_patterns"):
            yield from addresses(pattern.url_patterns, route)
        else:
            yield route, pattern.name


PAGES = [(route, name) for route, name in addresses() if not route.startswith("api/")]


def filled(route, job, word="x", number="1"):
    def value(found):
        if found[2] in ("job_id", "job"):
            return str(job if number == "1" else number)
        return number if found[1] == "int" else word

    return "/" + re.sub(r"<(?:(\w+):)?(\w+)>", value, route)


@pytest.fixture(scope="module")
def job_number():
    return job_from("start").pk


@pytest.fixture(scope="module")
def people():
    """Return a client for each role, in the network."""
    with as_network():
        found = {}
        for role in Role.values:
            make_account(f"walker-{role}", password=PASSWORD, role=role)
            found[role] = Client(HTTP_HOST="127.0.0.1")
            found[role].post("/login", {"name": f"walker-{role}", "password": PASSWORD})
        yield found


def counts():
    return {model.__name__: model.objects.count() for model in KEPT}


def test_what_is_listed_is_there():
    assert set(MAY_SEND) <= {name for _, name in PAGES}


@pytest.mark.parametrize(("route", "name"), list(addresses()), ids=lambda each: str(each)[:40])
def test_a_stranger_sees_nothing(route, name, job_number, people):  # noqa: ARG001 - the network
    stranger = Client(HTTP_HOST="127.0.0.1")
    for method in (stranger.get, stranger.post, stranger.put, stranger.delete):
        response = method(filled(route, job_number))
        if route.startswith("api/"):
            assert response.status_code == 401
        elif name == "login":
            assert response.status_code in (200, 403)
        else:
            assert response.status_code == 302
            assert response.headers["Location"].startswith("/login?next=")


@pytest.mark.parametrize(("route", "name"), PAGES, ids=lambda each: str(each)[:40])
def test_each_role_may_send_what_it_may(route, name, job_number, people):
    if name == "logout":
        pytest.skip("it would end what follows")
    for role, client in people.items():
        before = counts()
        response = client.post(filled(route, job_number))
        status = response.status_code
        response.close()
        assert status < 500
        if name not in MAY_SEND or name == "login":
            assert status in (403, 404, 405), role
        else:
            assert (status != 403) == (role in MAY_SEND[name]), (role, status)
        if role not in MAY_SEND.get(name, ()):
            assert counts() == before, role


@pytest.mark.parametrize(("route", "name"), PAGES, ids=lambda each: str(each)[:40])
def test_looking_changes_nothing(route, name, job_number, people):  # noqa: ARG001 - names the test
    if route in ("logout", "backup"):
        pytest.skip("only sent to")
    before = counts()
    response = people["admin"].get(filled(route, job_number))
    assert response.status_code < 500
    response.close()
    assert counts() == before
    policy = response.headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy


HOSTILE = (
    "..%2F..%2Fsecret",
    "..%2Fsecret",
    "%2e%2e%2fsecret",
    "..%5Csecret",
    "..",
    ".",
    "%2Fetc%2Fpasswd",
    "%00",
    "secret%00.toml",
    "%FF%FE",
    "%0D%0ASet-Cookie:%20a=b",
    "'%20OR%201=1--",
    "%3Cscript%3Ealert(1)%3C%2Fscript%3E",
    "a" * 3000,
    "%F0%9F%92%A9",
)


@pytest.mark.parametrize(
    ("route", "name"),
    [
        (route, name)
        for route, name in addresses()
        if "<str:" in route or "<slug:" in route or "<path:" in route
    ],
    ids=lambda each: str(each)[:40],
)
def test_names_in_an_address_lead_nowhere_else(route, name, job_number, people):  # noqa: ARG001 - names the test
    with as_network():
        secret = settings.AMPWRIGHT_PLACE.secret.encode()
    for word in HOSTILE:
        for method in (people["admin"].get, people["admin"].post):
            response = method(filled(route, job_number, word=word))
            assert response.status_code < 500, word
            content = b"".join(response.streaming_content) if response.streaming else response.content
            response.close()
            assert secret not in content
            assert b"root:" not in content
            if response.headers["Content-Type"].startswith("text/html"):
                assert b"<script>alert" not in content
            assert "Set-Cookie: a=b" not in str(response.headers)


@pytest.mark.parametrize(
    ("route", "name"), [each for each in addresses() if "<int:" in each[0]], ids=lambda each: str(each)[:40]
)
def test_numbers_out_of_all_bounds_are_not_found(route, name, people):  # noqa: ARG001 - names the test
    for number in ("0", "999999999", "9" * 19, "9" * 40, "9" * 5000, "-1"):
        for method in (people["admin"].get, people["admin"].post):
            assert method(filled(route, 1, number=number)).status_code in (401, 404, 405), number


def test_a_sign_zero_is_refused_everywhere(people, job_number):
    admin, zero = people["admin"], "a\0b"
    for path in ("/", "/parts", "/compare", f"/jobs/{job_number}/diagram", f"/jobs/{job_number}/photos"):
        assert admin.get(path, {"word": zero, "circuit": zero, "of": zero}).status_code == 400
    for path in (
        "/login",
        "/accounts",
        "/tokens",
        "/new",
        f"/jobs/{job_number}/edit",
        f"/jobs/{job_number}/text",
    ):
        assert admin.post(path, {"name": zero, "label": zero, "text": zero, "path": zero}).status_code == 400


def test_names_of_a_job_are_shown_and_never_run(people, job_number):
    """A title, an id and a caption that would be a script in a page."""
    entry = JobEntry.objects.get(pk=job_number)
    evil = "'><script>alert(1)</script><img src=x onerror=alert(1)>"
    put(entry, 'title = "My van"', f'title = "{evil}"')
    entry.refresh_from_db()
    put(entry, text_of(entry).partition("description = ")[2].partition("\n")[0], f'"{evil}"')
    for route, name in PAGES:
        if name in ("logout", "backup", "export", "export-all"):
            continue
        response = people["admin"].get(filled(route, job_number))
        if response.headers["Content-Type"].startswith("text/html"):
            assert b"<script>alert" not in response.content, route
            assert b"<img src=x" not in response.content, route
        response.close()


def test_a_session_is_new_after_the_login_and_ends_with_the_password(people):
    make_account("Fay", password=PASSWORD, role="designer")
    client = Client(HTTP_HOST="127.0.0.1")
    client.cookies["sessionid"] = "a" * 32  # one that somebody slipped in before
    client.post("/login", {"name": "Fay", "password": PASSWORD})
    cookie = client.cookies["sessionid"]
    assert cookie.value != "a" * 32
    assert (cookie["httponly"], cookie["samesite"]) == (True, "Strict")
    fay = Account.objects.get(name="Fay")
    made = client.post("/tokens", {"label": "list", "role": "designer", "days": "7"}).content.decode()
    token = "aw_" + made.partition('value="aw_')[2].partition('"')[0]
    hello = {"headers": {"Authorization": f"Bearer {token}"}}
    assert client.get(BASE, **hello).status_code == 200
    changed = {"role": "designer", "active": "yes", "password": "another long walk at night"}
    assert people["admin"].post(f"/accounts/{fay.pk}", changed).status_code == 302
    assert client.get("/").status_code == 302
    assert client.get(BASE, **hello).status_code == 401
    assert Event.objects.filter(what="account changed", detail__startswith="Fay").exists()


def test_a_locked_account_is_out_at_once(people):
    make_account("Gil", password=PASSWORD, role="designer")
    client = Client(HTTP_HOST="127.0.0.1")
    client.post("/login", {"name": "Gil", "password": PASSWORD})
    assert client.get("/").status_code == 200
    gil = Account.objects.get(name="Gil")
    people["admin"].post(f"/accounts/{gil.pk}", {"role": "designer"})
    assert client.get("/").status_code == 302


def test_what_a_role_does_not_allow_is_in_the_log(people):
    assert people["bench"].post("/backup").status_code == 403
    line = Event.objects.filter(what="not allowed", who="walker-bench").first()
    assert (line.detail, line.address) == ("POST /backup", "127.0.0.1")


def test_a_form_of_another_site_is_refused_in_plain_words(people):  # noqa: ARG001 - the network
    strict = Client(enforce_csrf_checks=True, HTTP_HOST="127.0.0.1")
    response = strict.post("/login", {"name": "walker-admin", "password": PASSWORD})
    assert response.status_code == 403
    assert "load the page anew" in response.content.decode()


@pytest.mark.parametrize(
    "deep", ["x = " + "[" * 50_000, "x = " + "{a = " * 5_000, "a" + ".a" * 20_000 + " = 1"]
)
def test_a_text_nested_without_end_is_refused(people, job_number, deep):
    number = JobEntry.objects.get(pk=job_number).number
    typed = {"text": deep, "number": str(number)}
    assert people["admin"].post(f"/jobs/{job_number}/text", typed).status_code == 422
