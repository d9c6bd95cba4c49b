"""The list: search, state, archive; files in and out; documents."""

import datetime as dt
import io
import re
import zipfile

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.utils import timezone
from web_jobs import job_from, put, text_of, whole

from ampwright import __version__
from ampwright.web.models import Event, JobEntry, Result
from ampwright.web.reading import folder_of
from ampwright.web.store import last_revision


def shown(browser, **words):
    return browser.get("/", words).content.decode()


def test_jobs_are_found_by_words_of_title_customer_and_vehicle(browser):
    entry = job_from("start")
    put(entry, 'title = "My van"', 'title = "Heron boat trailer"')
    put(entry, 'customer = ""', 'customer = "Reed and Daughter"')
    assert "Heron boat trailer" in shown(browser, word="reed heron")
    assert "Heron boat trailer" not in shown(browser, word="reed walrus")


def test_state_and_archive(browser, job):
    put(job, 'title = "My van"', 'title = "State van"')
    browser.post(f"/jobs/{job.pk}/state", {"state": "built"})
    browser.post(f"/jobs/{job.pk}/state", {"state": "sold"})
    assert JobEntry.objects.get(pk=job.pk).state == "built"
    assert "State van" in shown(browser, state="built", word="State")
    assert "State van" not in shown(browser, state="asked", word="State")
    browser.post(f"/jobs/{job.pk}/archive")
    assert "State van" not in shown(browser, word="State")
    assert "State van" in shown(browser, word="State", archived="yes")
    assert Event.objects.filter(what="archived", detail="State van").exists()


def test_the_list_shows_both_verdicts_as_shape_and_word(browser, job):
    put(job, 'title = "My van"', 'title = "Verdict van"')
    live = whole(job)
    page = shown(browser, word="Verdict")
    while "not reckoned</td>" in page:
        page = shown(browser, word="Verdict")
    assert live.answer.use_verdict in page
    assert page.count("<svg") == 2


def many(count, word):
    """Return jobs as they stand in the list, without revisions of their own."""
    now = timezone.now()
    return [
        JobEntry.objects.create(
            code=f"job-{at:03d}",
            title=f"{word} {at:03d}",
            customer=f"Customer {(count - at):03d}",
            state=("tested", "asked", "built")[at % 3],
            changed_at=now + dt.timedelta(seconds=at),
            number=1,
        )
        for at in range(count)
    ]


def titles(page, word):
    return re.findall(rf">({word} \d+)</a>", page)


def test_two_hundred_jobs_stand_on_pages_in_the_order_asked_for(browser):
    many(120, "Paged")
    first = shown(browser, word="Paged")
    assert titles(first, "Paged")[:2] == ["Paged 119", "Paged 118"]
    assert len(titles(first, "Paged")) == 30
    assert len(first.encode()) < 40_000
    assert "page 1 of 4" in first
    assert titles(shown(browser, word="Paged", page="4"), "Paged")[-1] == "Paged 000"
    assert titles(shown(browser, word="Paged", order="title"), "Paged")[0] == "Paged 000"
    assert titles(shown(browser, word="Paged", order="customer"), "Paged")[0] == "Paged 119"
    by_state = shown(browser, word="Paged", order="state")
    assert {int(title[-3:]) % 3 for title in titles(by_state, "Paged")} == {1}
    assert "page=2" in by_state
    assert "order=state" in by_state.replace("&amp;", "&")
    assert titles(shown(browser, word="Paged", order="'; drop"), "Paged")[0] == "Paged 119"
    counted = shown(browser, word="Paged", state="built")
    assert 'value="built" selected>built (40)' in counted
    assert {int(title[-3:]) % 3 for title in titles(counted, "Paged")} == {2}


def test_jobs_are_found_by_their_verdict(browser, job):
    put(job, 'title = "My van"', 'title = "Found by verdict"')
    put(JobEntry.objects.get(pk=job.pk), "[season]", "[doubt]\nruns = 0\n\n[season]")
    assert "Found by verdict" in shown(browser, word="Found verdict", verdict="not reckoned")
    assert (
        browser.post("/reckon", {"job": str(job.pk), "next": "/?word=Found"}).headers["Location"]
        == "/?word=Found"
    )
    word = whole(job).answer.wiring_verdict
    while "Found by verdict" in shown(browser, word="Found verdict", verdict="not reckoned"):
        pass
    assert "Found by verdict" in shown(browser, word="Found verdict", verdict=word)
    others = {"do not energise", "not fully checked", "no fault found"} - {word}
    assert all(
        "Found by verdict" not in shown(browser, word="Found verdict", verdict=other) for other in others
    )


def test_a_verdict_of_another_day_says_so_and_one_of_an_older_revision_is_not_shown(browser, job):
    put(job, 'title = "My van"', 'title = "Dated van"')
    last = last_revision(JobEntry.objects.get(pk=job.pk))
    Result.objects.create(
        revision=last, program_version=__version__, on=dt.date(2026, 1, 2), use_verdict="suits",
        wiring_verdict="no fault found", answer={},
    )  # fmt: skip
    assert shown(browser, word="Dated").count("as of 2026-01-02") == 2
    put(JobEntry.objects.get(pk=job.pk), "format = 1\n", "format = 1\n# another one\n")
    page = shown(browser, word="Dated")
    assert "as of" not in page
    assert "sign-good" not in page
    assert page.count(">not reckoned</td>") == 2


def test_reckoning_leads_nowhere_else(browser, job):
    sent = {"job": ["x", "999999999999", str(job.pk)], "next": "https://elsewhere.example/"}
    assert browser.post("/reckon", sent).headers["Location"] == "/"


def test_export_and_import_bring_the_same_text(browser, job):
    content = browser.get(f"/jobs/{job.pk}/export")
    assert content.headers["Content-Disposition"] == 'attachment; filename="my-van.toml"'
    assert content.content.decode() == text_of(job)
    response = browser.post("/import", {"file": SimpleUploadedFile("a.toml", content.content)})
    made = JobEntry.objects.latest("pk")
    assert response.headers["Location"] == f"/jobs/{made.pk}/"
    assert text_of(made) == text_of(job)


def test_a_wrong_job_file_is_refused_with_its_lines(browser):
    count = JobEntry.objects.count()
    text = text_of(job_from("start")).replace("month = 6", 'month = "June"')
    response = browser.post("/import", {"file": SimpleUploadedFile("a.toml", text.encode())})
    assert response.status_code == 422
    assert "month" in response.content.decode()
    assert "line " in response.content.decode()
    assert JobEntry.objects.count() == count + 1


@pytest.mark.parametrize("content", [b"\xff\xfe", b"\x00", b"a = ", b"[" * 200, b"x" * 2_000_001])
def test_no_upload_breaks_the_import(browser, content):
    response = browser.post("/import", {"file": SimpleUploadedFile("a.toml", content)})
    assert response.status_code == 422


def test_a_weather_file_is_kept_beside_the_job_and_read_back(browser, job):
    url = f"/jobs/{job.pk}/files"
    assert browser.post(url, {"file": SimpleUploadedFile("own.toml", b"[[part]]\n")}).status_code == 302
    assert (folder_of(job.pk) / "own.toml").read_bytes() == b"[[part]]\n"
    assert browser.get(f"{url}/own.toml").content == b"[[part]]\n"
    assert JobEntry.objects.get(pk=job.pk).number == 2


@pytest.mark.parametrize("name", ["..%2f..%2fsecret", "%2e%2e%2fsecret", "job.toml.", ".hidden.toml"])
def test_no_path_leads_out_of_the_folder(browser, job, name):
    assert browser.get(f"/jobs/{job.pk}/files/{name}").status_code == 404
    upload = SimpleUploadedFile("x.toml", b"")
    upload.name = name.replace("%2f", "/").replace("%2e", ".")
    before = sorted(folder_of(job.pk).parent.parent.rglob("*"))
    assert browser.post(f"/jobs/{job.pk}/files", {"file": upload}).status_code in (302, 422)
    new = set(folder_of(job.pk).parent.parent.rglob("*")) - set(before)
    assert all(folder_of(job.pk) in each.parents for each in new)


def test_documents_are_shown_and_fetched(browser, job):
    whole(job)
    base = f"/jobs/{job.pk}/documents"
    assert "Report with both verdicts" in browser.get(base).content.decode()
    assert "report.pdf" in browser.get(f"{base}/report").content.decode()
    report = browser.get(f"{base}/report/report.pdf")
    assert report.content.startswith(b"%PDF")
    assert report.headers["Content-Disposition"].startswith("inline")
    assert browser.get(f"{base}/nothing").status_code == 404
    assert browser.get(f"{base}/report/other.pdf").status_code == 404
    pack = browser.get(f"{base}/all.zip")
    with zipfile.ZipFile(io.BytesIO(pack.content)) as archive:
        assert {"report.pdf", "contents.json"} <= set(archive.namelist())


def test_the_text_page_takes_a_text_or_says_what_is_wrong(browser, job):
    url, text = f"/jobs/{job.pk}/text", text_of(job)
    wrong = browser.post(url, {"text": text.replace("system_v = 12", "system_v = 13"), "number": "1"})
    assert wrong.status_code == 422
    assert "system_v" in wrong.content.decode()
    right = browser.post(
        url, {"text": text.replace("system_v = 12", "system_v = 24"), "number": "1", "why": "truck"}
    )
    assert right.status_code == 302
    late = browser.post(url, {"text": text, "number": "1"})
    assert late.status_code == 422
    assert "changed meanwhile" in late.content.decode()
    page = browser.get(f"/jobs/{job.pk}/history/2").content.decode()
    assert "+system_v = 24" in page
    assert "truck" in page


def test_the_job_page_is_shown_and_fetched_under_a_policy_of_its_own(browser, job):
    whole(job)
    page = browser.get(f"/jobs/{job.pk}/documents/page/page.html")
    assert page.headers["Content-Type"].startswith("text/html")
    policy = page.headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "script-src" not in policy
    assert "sandbox" in policy
    assert "DRAFT, DO NOT ENERGISE" in page.content.decode()
    kept = browser.get(f"/jobs/{job.pk}/documents/page/page.html?keep")
    assert kept.headers["Content-Disposition"] == 'attachment; filename="page.html"'
