"""Places: browsed, brought in from a weather file after a look, typed, and copied into the jobs that take them over."""

import dataclasses
import re
import tomllib
from pathlib import Path

import pvlib
import pytest
from django.conf import settings
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client, override_settings
from web_jobs import put, text_of

from ampwright.climate.sources import shipped_site
from ampwright.web.app import workshop_folder
from ampwright.web.models import Account, Event, JobEntry
from ampwright.web.reading import folder_of
from ampwright.web.store import last_revision

TMY3 = Path(pvlib.__file__).parent / "data" / "703165TY.csv"
"""A typical year of Sand Point, Alaska, which pvlib ships for its own tests."""


@pytest.fixture(autouse=True)
def own_workshop():
    """Leave the shared data folder as it was."""
    yield
    for path in (*workshop_folder().glob("places/*.*"), *workshop_folder().glob("places/.looked-at/*")):
        if path.is_file():
            path.unlink()


def page(response):
    return response.content.decode()


def looked_at(browser, content, name="year.csv", **words):
    return browser.post("/places/import", {"file": SimpleUploadedFile(name, content), **words})


def kept_names():
    return {path.name for path in workshop_folder().glob("places/*.*") if path.is_file()}


def token_of(shown):
    return re.search(r'name="token" value="([0-9a-f]{32})"', shown)[1]


@pytest.fixture
def sand_point(browser):
    """Keep the place of the TMY3 file."""
    token = token_of(page(looked_at(browser, TMY3.read_bytes())))
    kept = browser.post(
        "/places/import",
        {"token": token, "name": "year.csv", "id": "sand-point", "place_name": "Sand Point", "keep": "yes"},
    )
    assert kept.headers["Location"] == "/places/at/sand-point"


def test_shipped_places_are_found_and_shown_with_their_months(browser):
    assert "potsdam-de" in page(browser.get("/places", {"word": "potsdam"}))
    shown = page(browser.get("/places/at/potsdam-de"))
    assert f"{shipped_site('potsdam-de').ghi_kwh_m2_day[5]:.2f}" in shown
    assert browser.get("/places/at/nowhere").status_code == 404


def test_a_weather_file_is_looked_at_before_its_place_is_kept(browser):
    shown = page(looked_at(browser, TMY3.read_bytes()))
    for text in ("55.317°", "-160.517°", "8760 hours", "no gap", "December"):
        assert text in shown
    assert kept_names() == set()


def test_a_kept_place_has_its_figures_and_its_file(browser, sand_point):
    assert sand_point is None
    raw = tomllib.loads((workshop_folder() / "places" / "sand-point.toml").read_text(encoding="utf-8"))
    assert (raw["latitude_deg"], raw["utc_offset_h"], raw["elevation_m"]) == (55.317, -9.0, 7.0)
    assert (workshop_folder() / "places" / "sand-point.csv").read_bytes() == TMY3.read_bytes()
    assert "sand-point" in page(browser.get("/places"))
    assert Event.objects.filter(what="place kept", detail__startswith="sand-point").exists()


def test_gaps_and_other_faults_are_told_and_nothing_is_kept(browser):
    lines = TMY3.read_text(encoding="latin-1").split("\n")
    short = looked_at(browser, "\n".join(lines[:5000]).encode("latin-1"))
    assert short.status_code == 422
    assert "4998 hours, a year has 8760" in page(short)
    assert looked_at(browser, b"nothing of weather").status_code == 422
    rows = [f"2015-01-{day:02d}T{hour:02d}:00,0,1" for day in (1, 2) for hour in range(24)]
    table = "\n".join(["time,ghi_w_m2,ambient_degc", *rows, ""]).encode()
    assert "give latitude_deg and longitude_deg" in page(looked_at(browser, table))
    placed = page(looked_at(browser, table, latitude_deg="52.4", longitude_deg="13,1"))
    assert "year.csv: no whole day in February" in placed
    assert kept_names() == set()


@pytest.mark.parametrize("name", ["year.exe", "../../year", ".csv"])
def test_strange_names_are_refused(browser, name):
    assert looked_at(browser, b"x", name).status_code == 422


def test_too_large_a_file_is_refused(browser):
    assert looked_at(browser, b"x" * 13_000_000).status_code in (400, 413, 422)


@pytest.mark.parametrize("token", ["", "../../secret", "0" * 32])
def test_a_strange_name_of_a_looked_at_file_finds_nothing(browser, token):
    sent = {"token": token, "id": "x", "place_name": "X", "keep": "yes"}
    assert browser.post("/places/import", sent).status_code == 422


@pytest.mark.parametrize("name", ["../evil", "Potsdam", "potsdam-de", ""])
def test_a_bad_short_name_is_told(browser, name):
    token = token_of(page(looked_at(browser, TMY3.read_bytes())))
    sent = {"token": token, "id": name, "place_name": "X", "keep": "yes"}
    response = browser.post("/places/import", sent)
    assert response.status_code == (422 if name else 302)
    assert bool(kept_names()) == (not name)


def typed(**words):
    site = shipped_site("potsdam-de")
    months = {
        f"{name}-{at}": str(value).replace(".", ",")
        for name in ("ghi_kwh_m2_day", "max_degc", "min_degc")
        for at, value in enumerate(getattr(site, name))
    }
    about = {"id": "my-yard", "name": "My yard", "country": "", "source": "own log", "latitude_deg": "52,4"}
    return {**months, **about, "longitude_deg": "13.1", "elevation_m": "", "utc_offset_h": "1", **words}


def test_typed_figures_are_held_against_what_can_be_true(browser):
    response = browser.post("/places/new", typed(**{"ghi_kwh_m2_day-0": "9", "max_degc-3": "cold"}))
    assert response.status_code == 422
    assert 'value="cold"' in page(response)
    impossible = browser.post("/places/new", typed(**{"ghi_kwh_m2_day-0": "9"}))
    assert "is impossible; at latitude 52.4" in page(impossible)
    assert browser.post("/places/new", typed()).headers["Location"] == "/places/at/my-yard"


def test_a_job_takes_a_copy_of_the_figures_with_a_reason(browser, job, sand_point):
    assert sand_point is None
    address = "/places/at/sand-point/use"
    tried = page(browser.get(address, {"job": job.pk}))
    assert 'class="quick"' in tried
    assert "sign-good" not in tried
    assert browser.post(address, {"job_id": job.pk, "number": "1", "why": ""}).status_code == 422
    browser.post(address, {"job_id": job.pk, "number": "1", "why": "they go to Alaska"})
    last = last_revision(JobEntry.objects.get(pk=job.pk))
    assert (last.what, last.why) == ("place sand-point", "they go to Alaska")
    place = tomllib.loads(last.text)["place"]
    assert (place["name"], place["latitude_deg"]) == ("Sand Point", 55.317)
    assert len(place["ghi_kwh_m2_day"]) == 12
    assert "site" not in place
    assert "My van" in page(browser.get("/places/at/sand-point"))
    browser.post("/places/at/sand-point/remove")
    assert browser.get("/places/at/sand-point").status_code == 404
    assert "No verdict" not in page(browser.get(f"/jobs/{job.pk}/live"))


def test_a_job_takes_the_hours_too(browser, job, sand_point):
    assert sand_point is None
    sent = {"job_id": job.pk, "number": "1", "why": "with hours", "file": "yes"}
    assert browser.post("/places/at/sand-point/use", sent).status_code == 302
    assert tomllib.loads(text_of(JobEntry.objects.get(pk=job.pk)))["place"] == {
        "weather_file": "sand-point.csv"
    }
    assert (folder_of(job.pk) / "sand-point.csv").read_bytes() == TMY3.read_bytes()


def test_a_shipped_place_is_named_and_every_comment_stays(browser, job):
    browser.post("/places/at/denver-us/use", {"job_id": job.pk, "number": "1", "why": "they move"})
    changed = text_of(JobEntry.objects.get(pk=job.pk))
    assert changed.replace('site = "denver-us"', 'site = "potsdam-de"') == text_of_first(job)


def text_of_first(job):
    from ampwright.web.models import Revision  # noqa: PLC0415 - only here

    return Revision.objects.get(job=job, number=1).text


def test_a_job_that_changed_meanwhile_is_left_as_it_is(browser, job):
    put(job, "format = 1\n", "format = 1\n# meanwhile\n")
    response = browser.post("/places/at/denver-us/use", {"job_id": job.pk, "number": "1", "why": "they move"})
    assert "changed meanwhile" in page(response)
    assert 'site = "potsdam-de"' in text_of(JobEntry.objects.get(pk=job.pk))


def test_only_whoever_may_change_jobs_keeps_or_takes_over_places(browser, job):
    account = Account.objects.create_account("place bench", password=None, role="bench")
    with override_settings(AMPWRIGHT_PLACE=dataclasses.replace(settings.AMPWRIGHT_PLACE, is_lan=True)):
        browser.force_login(account)
        assert browser.get("/places").status_code == 200
        assert browser.get("/places/at/denver-us/use", {"job": job.pk}).status_code == 200
        for path, sent in (
            ("/places/new", typed()),
            ("/places/import", {"token": "0" * 32}),
            ("/places/at/denver-us/use", {"job_id": job.pk, "number": "1", "why": "x"}),
            ("/places/at/denver-us/remove", {}),
        ):
            assert browser.post(path, sent).status_code == 403, path


def test_a_page_elsewhere_cannot_keep_a_place():
    strict = Client(HTTP_HOST="127.0.0.1", enforce_csrf_checks=True)
    assert strict.post("/places/new", typed()).status_code == 403
