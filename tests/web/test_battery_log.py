"""A log sent to the page: what it says of the job, in the reader's language; nothing of it stays."""

import datetime as dt

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from ampwright.web.models import Event, Revision

NAMES = {"time": "Zeit", "battery_v": "U", "battery_a": "I"}


def log(name="oct.csv", quiet_a=0.9):
    """Two days by the minute: a drain that never sleeps, 20 A of charge from 10 to 15 h."""
    start = dt.datetime.fromisoformat("2026-10-03")
    lines = ["Zeit;U;I"]
    for minute in range(2 * 1440):
        amps = 20.0 if 600 <= minute % 1440 < 900 else -quiet_a
        lines.append(
            f"{(start + dt.timedelta(minutes=minute)).isoformat()};13,2;{amps:.2f}".replace(".", ",")
        )
    return SimpleUploadedFile(name, "\n".join(lines).encode())


def send(browser, job, **words):
    return browser.post(f"/jobs/{job.pk}/battery-log", {**NAMES, "file": log(), **words})


def test_the_page_asks_for_a_log(browser, job):
    page = browser.get(f"/jobs/{job.pk}/battery-log").content.decode()
    assert 'type="file"' in page
    assert "Reading</th>" not in page


def test_a_drain_is_told_with_its_causes(browser, job):
    response = send(browser, job)
    page = response.content.decode()
    assert response.status_code == 200
    assert "quiet draw at night" in page
    assert "pull fuses one by one" in page
    assert "isolate the battery" in page
    assert 'value="Zeit"' in page


def test_nothing_of_it_is_kept(browser, job):
    before = Revision.objects.count(), Event.objects.count()
    send(browser, job)
    assert (Revision.objects.count(), Event.objects.count()) == before


def test_in_german_no_cause_is_english(browser, job):
    page = browser.post(
        f"/jobs/{job.pk}/battery-log", {**NAMES, "file": log()}, headers={"accept-language": "de"}
    ).content.decode()
    assert "Ruhestrom bei Nacht" in page
    assert "pull fuses" not in page


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ({"battery_v": "volt"}, "no column volt; it has Zeit, U, I"),
        ({"file": SimpleUploadedFile("x.csv", b"\xff\xfe\x00")}, "is not text in UTF-8"),
        ({"file": ""}, "choose a file first"),
    ],
)
def test_what_cannot_be_read_is_said(browser, job, words, said):
    response = send(browser, job, **words)
    assert response.status_code == 422
    assert said in response.content.decode()
    assert 'role="alert"' in response.content.decode()
