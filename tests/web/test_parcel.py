"""A job with its files and photos goes out as one file and comes in again equal."""

import io
import json
import zipfile

import pytest
from photo_files import photo, sent
from web_jobs import put, text_of

from ampwright.errors import FileError, JobError
from ampwright.web.backup.archive import put_manifest, put_part
from ampwright.web.kept_files import keep_file, kept_files
from ampwright.web.models import Event, JobEntry, Photo, Revision
from ampwright.web.parcel import PARCEL, Parcel, PhotoSaid, take_parcel
from ampwright.web.photos import photo_path
from ampwright.web.pictures import is_bare, kept_picture, picture_of


@pytest.fixture
def full(browser, job):
    """Return a job with files and photos."""
    keep_file(job.pk, "roof.csv", b"hour,power_w\n0,1\n", who="Ada")
    keep_file(job.pk, "own parts.toml", b"# none yet\n", who="Ada")
    job.refresh_from_db()
    put(job, 'title = "My van"', 'title = "Van €"')
    for subject, caption, orientation in (("W6", "fuse block", 6), ("", "", 1)):
        typed = {"subject": subject, "caption": caption, "file": sent(photo(orientation=orientation))}
        assert browser.post(f"/jobs/{job.pk}/photos", typed).status_code == 302
    return job


def fetched(browser, job):
    response = browser.get(f"/jobs/{job.pk}/export.zip")
    content = b"".join(response.streaming_content)
    response.close()
    return content


def parts_of(content):
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def imported(browser, content, name="job.zip"):
    return browser.post("/import", {"file": sent(content, name)})


def test_it_comes_in_again_equal(browser, full):
    first = fetched(browser, full)
    response = imported(browser, first)
    assert response.status_code == 302
    made = JobEntry.objects.latest("pk")
    assert response.headers["Location"] == f"/jobs/{made.pk}/"
    assert made.pk != full.pk
    assert text_of(made) == text_of(full)
    assert made.title == "Van €"
    assert [path.name for path in kept_files(made.pk)] == ["own parts.toml", "roof.csv"]
    assert fetched(browser, made) == first
    old, new = (list(Photo.objects.filter(job=each)) for each in (full, made))
    assert [(each.subject, each.caption, each.sha256, each.made_at) for each in old] == [
        (each.subject, each.caption, each.sha256, each.made_at) for each in new
    ]
    assert photo_path(new[0], is_small=True).is_file()
    assert Revision.objects.get(job=made).made_by == "this machine"
    assert Event.objects.filter(what="imported", detail="Van €").exists()


def test_an_unchanged_picture_of_ours_stays_and_any_other_is_made_anew():
    ours = picture_of(photo(orientation=6))
    assert is_bare(ours.content)
    assert kept_picture(ours.content).content == ours.content
    for other in (
        photo(),
        photo("PNG"),
        ours.content + b"<script>",
        ours.content[:-2] + b"x\xff\xd9" + ours.content[-2:],
        ours.content[:2] + b"\xff\xfe\x00\x09comment" + ours.content[2:],
        picture_of(photo()).content.replace(b"\xff\xd9", b"\xff\xd9\xff\xd9"),
    ):
        assert not is_bare(other)
        made = kept_picture(other).content
        assert made != other
        assert is_bare(made)
    with pytest.raises(FileError):
        kept_picture(ours.content[:-200])


def parcel(parts, photos=(), **said):
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w") as archive:
        contents = tuple(put_part(archive, name, [content]) for name, content in parts.items())
        known = {"kind": PARCEL.kind, "format": 1, "program_version": "0.1.0", "photos": tuple(photos)}
        put_manifest(archive, Parcel(**{**known, "contents": contents, **said}))
    return stream.getvalue()


def said(browser_job, **words):
    made = Photo(job=browser_job).made_at
    known = {"name": "photos/001.jpg", "subject": "", "caption": "", "made_at": made, "made_by": "Ada"}
    return PhotoSaid(**{**known, **words})


def test_what_is_not_taken_makes_no_job(browser, job):
    text = {"job.toml": text_of(job).encode()}
    picture = {"photos/001.jpg": picture_of(photo()).content}
    bad = {
        "no text": parcel({"files/a.csv": b"x"}),
        "no job": parcel({"job.toml": b"format = 1\n"}),
        "no utf-8": parcel({"job.toml": b"\xff\xfe"}),
        "a program": parcel({**text, "files/a.exe": b"x"}),
        "its own text": parcel({**text, "files/job.toml": b"x"}),
        "a folder": parcel({**text, "files/a/b.csv": b"x"}),
        "out of it": parcel({**text, "files/../../x.csv": b"x"}),
        "elsewhere": parcel({**text, "x.csv": b"x"}),
        "too many": parcel({**text, **{f"files/{number}.csv": b"" for number in range(21)}}),
        "no picture": parcel({**text, "photos/001.jpg": b"<svg/>"}, [said(job)]),
        "unsaid": parcel({**text, **picture}),
        "not there": parcel(text, [said(job)]),
        "no sign": parcel({**text, **picture}, [said(job, caption="a\0b")]),
        "too large": parcel({**text, "files/a.csv": b" " * 12_000_001}),
        "newer": parcel(text, format=2),
        "other": parcel(text, kind="ampwright workshop backup"),
        "cut": parcel(text)[:-30],
        "bare": b"PK\x03\x04 nothing",
    }
    count = JobEntry.objects.count()
    for name, content in bad.items():
        response = imported(browser, content)
        assert response.status_code == 422, name
        assert JobEntry.objects.count() == count, name
        with pytest.raises((FileError, JobError)):
            take_parcel(io.BytesIO(content), who="Ada")


def test_a_photo_from_elsewhere_is_made_anew(browser, job):
    content = parcel(
        {"job.toml": text_of(job).encode(), "photos/001.jpg": photo(orientation=6)},
        [said(job, subject="W6", caption="<b>bold</b>")],
    )
    assert imported(browser, content).status_code == 302
    only = Photo.objects.get(job=JobEntry.objects.latest("pk"))
    assert b"Maker" not in photo_path(only, is_small=False).read_bytes()
    page = browser.get(f"/jobs/{only.job_id}/photos").content.decode()
    assert "&lt;b&gt;bold" in page


def test_the_list_says_what_is_in_it(browser, full):
    parts = parts_of(fetched(browser, full))
    manifest = json.loads(parts.pop("manifest.json"))
    assert {each["name"] for each in manifest["contents"]} == set(parts)
    assert [each["subject"] for each in manifest["photos"]] == ["", "W6"]
    assert set(parts) == {
        "job.toml",
        "files/own parts.toml",
        "files/roof.csv",
        "photos/001.jpg",
        "photos/002.jpg",
    }
