"""The list: search, state, archive; files in and out; documents."""

import io
import zipfile

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from web_jobs import job_from, put, text_of, whole

from ampwright.web.models import Event, JobEntry
from ampwright.web.reading import folder_of


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
    while "not reckoned" in page:
        page = shown(browser, word="Verdict")
    assert live.answer.use_verdict in page
    assert page.count("<svg") == 2


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
