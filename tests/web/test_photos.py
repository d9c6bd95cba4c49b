"""Photos come in, are shown at what they are of, and go out with safe headers."""

import io

import pytest
from django.test import Client
from interface_jobs import PASSWORD, Program, as_network, token_of
from photo_files import photo, sent
from PIL import Image

from ampwright.web.models import Account, Event, Photo
from ampwright.web.photos import photo_path
from ampwright.web.store import copy_job


def add(browser, job, content=None, **words):
    typed = {"subject": "W6", "caption": "fuse block, left wall", "file": sent(content or photo()), **words}
    return browser.post(f"/jobs/{job.pk}/photos", typed)


def logged_in(role):
    token_of(role)
    client = Client(HTTP_HOST="127.0.0.1")
    name = Account.objects.latest("pk").name
    assert client.post("/login", {"name": name, "password": PASSWORD}).status_code == 302
    return client


def test_a_photo_is_shown_at_its_circuit_and_with_all_others(browser, job):
    assert add(browser, job).status_code == 302
    assert add(browser, job, subject="", caption="").status_code == 302
    first, second = Photo.objects.filter(job=job).order_by("-subject")
    assert (first.subject, first.caption, first.made_by) == ("W6", "fuse block, left wall", "this machine")
    page = browser.get(f"/jobs/{job.pk}/photos").content.decode()
    assert 'capture="environment"' in page
    assert page.index("The vehicle</h2>") < page.index("W6</h2>")
    assert 'alt="fuse block, left wall"' in page
    assert 'alt="Photo of the vehicle"' in page
    row = browser.get(f"/jobs/{job.pk}/at/run.5").content.decode()
    assert f"/jobs/{job.pk}/photos/{first.pk}.jpg?small" in row
    assert f"photos/{second.pk}.jpg" not in row
    assert "photos?of=W6" in row
    assert "photos/" not in browser.get(f"/jobs/{job.pk}/at/run.0").content.decode().replace("photos?of", "")
    assert Event.objects.filter(what="photo added", detail__contains="W6").exists()


def test_it_goes_out_as_a_picture_and_nothing_else(browser, job):
    add(browser, job)
    only = Photo.objects.get(job=job)
    for query, side_px in (("", 400), ("?small", 400)):
        response = browser.get(f"/jobs/{job.pk}/photos/{only.pk}.jpg{query}")
        content = b"".join(response.streaming_content)
        response.close()
        assert Image.open(io.BytesIO(content)).width == side_px
        assert response.headers["Content-Type"] == "image/jpeg"
        assert response.headers["X-Content-Type-Options"] == "nosniff"
        assert response.headers["Content-Security-Policy"] == "default-src 'none'; sandbox"
        assert response.headers["Cross-Origin-Resource-Policy"] == "same-origin"
        assert "private" in response.headers["Cache-Control"]
    assert browser.get(f"/jobs/{job.pk + 1}/photos/{only.pk}.jpg").status_code == 404


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ({"content": b"<svg/>"}, "no photo"),
        ({"subject": "nothing-of-this-name"}, "nothing of this name"),
        ({"file": ""}, "take or choose"),
        ({"subject": "../../x"}, "nothing of this name"),
    ],
)
def test_what_cannot_be_kept_is_said_and_keeps_nothing(browser, job, words, said):
    response = add(browser, job, **words)
    assert response.status_code == 422
    assert said in response.content.decode()
    assert not Photo.objects.filter(job=job).exists()


def test_larger_than_a_photo_is_refused_before_it_is_read(browser, job):
    response = add(browser, job, b"\0" * 21_000_001)
    assert response.status_code == 413
    big = add(browser, job, photo("PNG", size=(3000, 2000), compress_level=0))
    assert big.status_code == 302  # 18 MB, kept in a temporary file on its way


def test_taken_away_it_is_shown_no_more_and_a_copy_has_none(browser, job):
    add(browser, job)
    only = Photo.objects.get(job=job)
    assert not Photo.objects.filter(job=copy_job(job, "Ada")).exists()
    assert browser.get(f"/jobs/{job.pk}/photos/{only.pk}/away").status_code == 405
    assert browser.post(f"/jobs/{job.pk}/photos/{only.pk}/away").status_code == 302
    assert browser.get(f"/jobs/{job.pk}/photos/{only.pk}.jpg").status_code == 404
    assert photo_path(only, is_small=False).is_file()
    assert Photo.objects.get(pk=only.pk).removed_by == "this machine"


def test_who_may_add_and_take_away(job):
    with as_network():
        bench, reader, designer = (logged_in(role) for role in ("bench", "read-only", "designer"))
        assert add(bench, job).status_code == 302
        assert add(reader, job).status_code == 403
        assert "capture" not in reader.get(f"/jobs/{job.pk}/photos").content.decode()
        only = Photo.objects.get(job=job)
        electrician = logged_in("electrician")
        away = f"/jobs/{job.pk}/photos/{only.pk}/away"
        assert reader.post(away).status_code == 403
        assert electrician.post(away).status_code == 403
        assert designer.post(away).status_code == 302


def test_another_program_reads_them(browser, job):
    add(browser, job)
    only = Photo.objects.get(job=job)
    (line,) = Program().get(f"jobs/{job.pk}/photos").json()["photos"]
    assert (line["id"], line["subject"], line["width_px"]) == (only.pk, "W6", 400)
    content = Program().get(f"jobs/{job.pk}/photos/{only.pk}").content
    assert len(content) == line["size_bytes"]
    assert Program().get(f"jobs/{job.pk}/photos/{only.pk + 1}").status_code == 404
