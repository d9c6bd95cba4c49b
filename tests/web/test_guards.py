"""Who gets in, what each role may do, and what every answer forbids the browser."""

import dataclasses

import pytest
from django.conf import settings
from django.test import Client, override_settings
from web_jobs import notice, typed

from ampwright.errors import FileError, JobError
from ampwright.web.models import Account, Event, Role
from ampwright.web.place import place_at
from ampwright.web.serve import make_account

PASSWORD = "a long walk in the rain"  # noqa: S105 - of a test


@pytest.fixture
def network():
    """Let the app think that it answers the local network."""
    with override_settings(AMPWRIGHT_PLACE=dataclasses.replace(settings.AMPWRIGHT_PLACE, is_lan=True)):
        yield


def person(role):
    name = f"{role}-{Account.objects.count()}"
    make_account(name, password=PASSWORD, role=role)
    client = Client(HTTP_HOST="127.0.0.1")
    assert client.post("/login", {"name": name, "password": PASSWORD}).status_code == 302
    return client


@pytest.mark.parametrize("path", ["/", "/new", "/jobs/1/", "/nothing", "/login"])
def test_every_answer_carries_the_strict_policy(browser, path):
    headers = browser.get(path).headers
    policy = headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert "http" not in policy
    assert headers["X-Frame-Options"] == "SAMEORIGIN"
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "same-origin"


def test_another_name_for_this_machine_is_refused():
    assert Client(HTTP_HOST="elsewhere.example").get("/").status_code == 400


def test_a_page_of_another_site_cannot_change_anything(job):
    strict = Client(enforce_csrf_checks=True, HTTP_HOST="127.0.0.1")
    for path in ("edit", "undo", "archive", "state", "add", "remove"):
        assert (
            strict.post(f"/jobs/{job.pk}/{path}", {"path": "load.2.power_w", "value": "5"}).status_code == 403
        )


def test_too_large_a_request_is_refused(browser, job):
    response = browser.post(f"/jobs/{job.pk}/text", {"text": "x" * 7_000_000, "number": "1"})
    assert response.status_code == 413
    assert "Nothing was saved" in response.content.decode()


@pytest.mark.usefixtures("network")
def test_in_the_network_nobody_sees_anything_before_the_login(browser, job):
    for path in ("/", f"/jobs/{job.pk}/", f"/jobs/{job.pk}/export", "/accounts", "/log"):
        response = browser.get(path)
        assert response.status_code == 302
        assert response.headers["Location"].startswith("/login?next=")
    assert browser.get("/login").status_code == 200


@pytest.mark.usefixtures("network")
def test_nobody_logs_in_as_this_machine(browser):
    browser.get("/login")
    assert browser.post("/login", {"name": "this machine", "password": ""}).status_code == 403


@pytest.mark.usefixtures("network")
def test_roles(job):
    allowed = {
        Role.ADMIN: {"load.2.power_w", "setting.0.charge_v", "/accounts"},
        Role.DESIGNER: {"load.2.power_w", "setting.0.charge_v"},
        Role.BENCH: {"setting.0.charge_v"},
        Role.ELECTRICIAN: set(),
        Role.READER: set(),
    }
    for number, (role, may) in enumerate(allowed.items()):
        client = person(role)
        assert client.get(f"/jobs/{job.pk}/page/loads").status_code == 200
        for path in ("load.2.power_w", "setting.0.charge_v"):
            value = str(60 + number) if path.startswith("load") else f"14.{number}"
            response = client.post(f"/jobs/{job.pk}/edit", {"path": path, "value": value})
            assert (response.status_code == 204) == (path in may), (role, path)
        assert (client.get("/accounts").status_code == 200) == ("/accounts" in may)
        assert (client.post(f"/jobs/{job.pk}/copy").status_code == 302) == ("load.2.power_w" in may)


@pytest.mark.usefixtures("network")
def test_wrong_passwords_have_to_wait_and_are_in_the_log(browser):
    make_account("Cleo", password=PASSWORD, role="designer")
    for _ in range(5):
        assert browser.post("/login", {"name": "Cleo", "password": "wrong"}).status_code == 403
    late = browser.post("/login", {"name": "Cleo", "password": PASSWORD})
    assert late.status_code == 429
    assert "Try again in 15 min" in late.content.decode()
    assert Event.objects.filter(who="Cleo", what="login refused").count() == 5
    Event.objects.filter(who="Cleo").delete()


def test_accounts_need_a_good_password(browser):
    with pytest.raises(FileError):
        make_account("Dora", password="short", role="admin")  # noqa: S106 - of a test
    bad = browser.post("/accounts", {"name": "Dora", "password": "password", "role": "designer"})
    assert bad.status_code == 422
    good = browser.post("/accounts", {"name": "Dora", "password": PASSWORD, "role": "designer"})
    assert good.status_code == 302
    assert Account.objects.get(name="Dora").password.startswith("pbkdf2_sha256$")


def test_at_this_machine_the_history_says_so(browser, job):
    assert typed(browser, job, "load.2.power_w", known="declared", value="61")[0] == "saved"
    assert "this machine" in browser.get(f"/jobs/{job.pk}/history").content.decode()
    assert notice(browser.post(f"/jobs/{job.pk}/edit", {"path": "load.2.count", "value": "2"}))[0] == "saved"


def test_the_settings_file_is_checked(tmp_path):
    (tmp_path / "web.toml").write_text(
        'hosts = ["bench.example"]\n[postgresql]\nname = "shop"\n', encoding="utf-8"
    )
    place = place_at(tmp_path, is_lan=True)
    assert "bench.example" in place.hosts
    assert place.postgresql.name == "shop"
    assert (tmp_path / "secret").stat().st_mode & 0o077 == 0
    assert place_at(tmp_path, is_lan=False).secret == place.secret
    (tmp_path / "web.toml").write_text('host = ["x"]\n', encoding="utf-8")
    with pytest.raises(JobError):
        place_at(tmp_path, is_lan=True)


@pytest.mark.usefixtures("network")
def test_who_may_only_look_gets_bars_that_do_not_move(job):
    reader, designer = person(Role.READER), person(Role.DESIGNER)
    assert 'data-path="load.1.when.0" data-start' in designer.get(f"/jobs/{job.pk}/days").content.decode()
    page = reader.get(f"/jobs/{job.pk}/days").content.decode()
    assert "Cabin lights, 19:00 to 23:00" in page
    assert "data-start" not in page
    answer = reader.post(f"/jobs/{job.pk}/edit", {"path": "load.1.when.0", "start": "18:00", "end": "20:00"})
    assert answer.status_code == 403
