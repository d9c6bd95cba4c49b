"""Another part, or another revision of a module: tried on each job, adopted only where somebody says so."""

import dataclasses
from importlib.resources import files

import pytest
from django.conf import settings
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client, override_settings
from web_jobs import job_from, put, text_of

from ampwright.web.app import workshop_folder
from ampwright.web.models import Account, Event, JobEntry
from ampwright.web.store import last_revision


@pytest.fixture(autouse=True)
def own_workshop():
    """Leave the shared data folder as it was, and no job with the module of the tests."""
    yield
    for path in (*workshop_folder().glob("parts/*"), *workshop_folder().glob("modules/*")):
        path.unlink()


def page(response):
    return response.content.decode()


def module_text(revision="C", *exchanged):
    text = (files("ampwright.job") / "modules" / "touring-12v.toml").read_text(encoding="utf-8")
    for old, new in (('revision = "B"', f'revision = "{revision}"'), *exchanged):
        assert old in text
        text = text.replace(old, new, 1)
    return text


def sent(browser, text, name="module.toml", **words):
    return browser.post("/modules/import", {"file": SimpleUploadedFile(name, text.encode()), **words})


def kept(browser, text):
    return browser.post("/modules/import", {"name": "module.toml", "content": text, "keep": "yes"})


@pytest.fixture
def van():
    return job_from("night-survey-van")


SMALLER = ('part = "lfp-100"', 'part = "lfp-50"')


def test_a_new_revision_is_looked_at_kept_and_never_changed(browser, van):
    assert van.number == 1
    shown = page(sent(browser, module_text()))
    assert "Keep this revision" in shown
    assert "Night-survey van" in shown
    assert not list(workshop_folder().glob("modules/*"))
    assert kept(browser, module_text()).headers["Location"] == "/modules/touring-12v/C"
    again = kept(browser, module_text("C", SMALLER))
    assert again.status_code == 422
    assert "kept already and never changed" in page(again)
    assert sent(browser, module_text("B")).status_code == 422
    assert Event.objects.filter(what="module kept", detail="touring-12v, revision C").exists()


def test_everything_wrong_in_a_definition_is_told(browser):
    response = sent(browser, module_text("../C", ('part = "bus-250"', 'part = "bus-9999"')))
    assert response.status_code == 422
    assert "bus-9999" in page(response)
    assert "use letters and digits" in page(response)
    assert sent(browser, "id = 3\n").status_code == 422
    assert not list(workshop_folder().glob("modules/*"))


def test_a_new_revision_says_what_it_changes_before_a_job_takes_it_over(browser, van):
    kept(browser, module_text("C", SMALLER))
    before = text_of(van)
    shown = page(browser.get("/proposals/module/touring-12v/C"))
    assert f"/proposals/module/touring-12v/C/jobs/{van.pk}" in shown
    tried = page(browser.get(f"/proposals/module/touring-12v/C/jobs/{van.pk}"))
    assert "margin of what runs out first" in tried
    assert 'class="quick"' in tried
    assert "sign-good" not in tried
    assert text_of(van) == before


def test_adopting_is_one_revision_with_its_reason(browser, van):
    kept(browser, module_text("C", SMALLER))
    address = "/proposals/module/touring-12v/C"
    refused = page(browser.post(address, {"job": f"{van.pk}.1", "why": " "}))
    assert "give a reason" in refused
    assert JobEntry.objects.get(pk=van.pk).number == 1
    assert "adopted, revision 2" in page(browser.post(address, {"job": f"{van.pk}.1", "why": "lighter"}))
    last = last_revision(JobEntry.objects.get(pk=van.pk))
    assert (last.why, last.what) == ("lighter", "module touring-12v brought to revision C")
    assert 'revision = "C"' in last.text
    assert last.text.replace('revision = "C"', 'revision = "B"') == text_of(job_from("night-survey-van"))
    assert f"/jobs/{van.pk}" not in page(browser.get(address))
    assert browser.post("/modules/touring-12v/C/remove").status_code == 409


def test_a_job_that_changed_meanwhile_is_not_adopted(browser, van):
    kept(browser, module_text("C", SMALLER))
    put(van, "format = 1\n", "format = 1\n# meanwhile\n")
    done = page(browser.post("/proposals/module/touring-12v/C", {"job": f"{van.pk}.1", "why": "lighter"}))
    assert "changed meanwhile" in done
    assert JobEntry.objects.get(pk=van.pk).number == 2


def test_a_revision_nobody_includes_is_taken_away(browser):
    kept(browser, module_text("Z"))
    assert browser.post("/modules/touring-12v/Z/remove").headers["Location"] == "/modules"
    assert browser.get("/modules/touring-12v/Z").status_code == 404
    assert browser.post("/modules/touring-12v/B/remove").status_code in (403, 409)


def test_a_part_is_exchanged_in_the_jobs_ticked_only(browser):
    first, second = job_from("start"), job_from("start")
    address = "/proposals/part/panel-200/panel-100"
    assert f"/jobs/{first.pk}" in page(browser.get("/substitute", {"old": "panel-200", "new": "panel-100"}))
    tried = page(browser.get(f"{address}/jobs/{first.pk}"))
    assert "bill without tax" in tried
    browser.post(address, {"job": f"{first.pk}.1", "why": "the large one cannot be had"})
    assert 'part = "panel-100"' in text_of(first)
    assert 'part = "panel-200"' in text_of(second)
    assert last_revision(JobEntry.objects.get(pk=first.pk)).what == "part panel-100 put for panel-200"


def test_a_part_that_does_not_fit_says_why_and_cannot_be_ticked(browser, job):
    tried = page(browser.get(f"/proposals/part/panel-200/cable-4/jobs/{job.pk}"))
    assert "cannot be reckoned" in tried
    assert "disabled" in tried


@pytest.mark.parametrize(
    "path",
    [
        "/proposals/part/panel-200/nothing", "/proposals/part/panel-200/panel-200", "/proposals/module/touring-12v/Q",
        "/proposals/other/a/b", "/proposals/part/panel-200/panel-100/jobs/999999",
    ],
)  # fmt: skip
def test_strange_proposals_find_nothing(browser, path):
    assert browser.get(path).status_code == 404


def test_two_parts_are_asked_for(browser):
    assert "In place of" in page(browser.get("/substitute", {"old": "panel-200"}))
    assert browser.get("/substitute", {"old": "panel-200", "new": "nothing"}).status_code == 422


def test_only_whoever_may_change_jobs_adopts(browser, job):
    account = Account.objects.create_account("trial bench", password=None, role="bench")
    address = "/proposals/part/panel-200/panel-100"
    with override_settings(AMPWRIGHT_PLACE=dataclasses.replace(settings.AMPWRIGHT_PLACE, is_lan=True)):
        browser.force_login(account)
        assert browser.get(f"{address}/jobs/{job.pk}").status_code == 200
        assert browser.post(address, {"job": f"{job.pk}.1", "why": "x"}).status_code == 403
        assert sent(browser, module_text()).status_code == 403
    assert 'part = "panel-200"' in text_of(job)


def test_a_page_elsewhere_cannot_adopt(job):
    strict = Client(HTTP_HOST="127.0.0.1", enforce_csrf_checks=True)
    done = strict.post("/proposals/part/panel-200/panel-100", {"job": f"{job.pk}.1", "why": "x"})
    assert done.status_code == 403
