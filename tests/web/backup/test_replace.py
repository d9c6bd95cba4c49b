"""The workshop at work goes back to a backup from the page: looked at first, whole or not at all."""

from __future__ import annotations

import hashlib
import io
import json
import re
import subprocess
import sys
import threading
import zipfile

import pytest
from backup_files import parts_of, rewritten
from django.conf import settings
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import DatabaseError
from django.test import Client
from interface_jobs import PASSWORD, Program, as_network, token_of
from photo_files import photo as picture
from web_jobs import job_from, put, text_of

from ampwright.web.backup import replace
from ampwright.web.backup.make import write_backup
from ampwright.web.gate import StillPassingError, the_gate
from ampwright.web.kept_files import keep_file, kept_file
from ampwright.web.models import Account, Event, JobEntry, Photo, Token
from ampwright.web.photos import keep_photo, photo_path
from ampwright.web.serve import make_account


def data():
    return settings.AMPWRIGHT_PLACE.data


def look(browser, content):
    file = SimpleUploadedFile("shop.zip", content, content_type="application/zip")
    return browser.post("/backup/restore", {"file": file})


def form_of(page):
    """Return what the form of a page that was shown sends."""
    return dict(re.findall(r'type="hidden" name="(name|sha256)" value="([^"]*)"', page.content.decode()))


@pytest.fixture
def shop():
    """Return a job with a file and a photo."""
    job = job_from("start")
    keep_file(job.pk, "own.csv", b"before\n", who="Ada")
    keep_photo(job, picture(), subject="fridge", caption="before", who="Ada")
    return job


@pytest.fixture
def backup(shop, tmp_path):  # noqa: ARG001 - what is backed up
    write_backup(tmp_path / "shop.zip", data())
    return (tmp_path / "shop.zip").read_bytes()


@pytest.fixture
def moved_on(backup, shop):  # noqa: ARG001 - taken before
    """Return the job after much happened to it, and one that came later."""
    shop.refresh_from_db()
    put(shop, 'title = "My van"', 'title = "Another van"')
    keep_file(shop.pk, "own.csv", b"after\n", who="Ada")
    keep_file(shop.pk, "more.csv", b"after\n", who="Ada")
    return job_from("start")


def test_what_is_in_it_is_shown_and_nothing_is_changed(browser, backup, moved_on):
    before = Event.objects.count()
    page = look(browser, backup)
    text = page.content.decode()
    assert page.status_code == 200
    jobs = JobEntry.objects.count()
    assert re.search(rf'>Jobs</th><td class="num">{jobs - 1}</td><td class="num">{jobs}</td>', text)
    manifest = json.loads(parts_of(io.BytesIO(backup))["manifest.json"])
    assert f"Made {manifest['made_at'][:10]} {manifest['made_at'][11:16]} UTC by" in text
    assert f"version {manifest['program_version']}" in text
    assert f"{len(manifest['contents'])} parts were read" in text
    assert form_of(page)["sha256"] in text
    assert JobEntry.objects.filter(pk=moved_on.pk).exists()
    assert Event.objects.count() == before


def test_it_goes_back_after_a_word_was_typed(browser, backup, shop, moved_on):
    token_of("bench")
    form = form_of(look(browser, backup))
    for word in ("", "yes", "restor"):
        refused = browser.post("/backup/restore/now", {**form, "word": word})
        assert (refused.status_code, "type the word restore" in refused.content.decode()) == (422, True)
    assert JobEntry.objects.filter(pk=moved_on.pk).exists()
    asked = browser.post("/backup/restore/now", {**form, "word": "Restore "})
    assert asked.status_code == 200, asked.content.decode()
    assert "Restored" in asked.content.decode()
    assert not JobEntry.objects.filter(pk=moved_on.pk).exists()
    assert 'title = "My van"' in text_of(shop)
    assert kept_file(shop.pk, "own.csv").read_bytes() == b"before\n"
    assert kept_file(shop.pk, "more.csv") is None
    photo = Photo.objects.get(job_id=shop.pk)
    assert photo_path(photo, is_small=False).is_file()
    assert Token.objects.count() == 0
    assert Event.objects.filter(what="restored", who="this machine").latest("pk").address == "127.0.0.1"
    held = data() / ".restoring"
    assert [path.name for path in held.iterdir()] == ["looked-at"]
    assert job_from("start").pk > shop.pk


def test_what_was_there_before_is_kept_as_a_backup_and_leads_back(browser, backup, shop, moved_on):
    form = form_of(look(browser, backup))
    done = browser.post("/backup/restore/now", {**form, "word": "restore"}).content.decode()
    (name,) = set(re.findall(r"before-restore-[0-9-]+\.zip", done))
    fetched = browser.get(f"/backup/kept/{name}")
    parts = parts_of(io.BytesIO(b"".join(fetched.streaming_content)))
    fetched.close()
    assert parts[f"files/jobs/{shop.pk}/own.csv"] == b"after\n"
    assert not any("backups" in part for part in parts)
    assert name in browser.get("/backup").content.decode()
    page = browser.post("/backup/restore", {"kept": name})
    again = browser.post("/backup/restore/now", {**form_of(page), "word": "restore"})
    assert again.status_code == 200
    assert 'title = "Another van"' in text_of(shop)
    assert kept_file(shop.pk, "more.csv").read_bytes() == b"after\n"
    assert JobEntry.objects.filter(pk=moved_on.pk).exists()


def test_what_is_no_sound_backup_is_refused(browser, backup, tmp_path):
    parts = parts_of(io.BytesIO(backup))
    rewritten(parts, tmp_path / "later.zip", {}, tables_as_of="9999_later")
    rewritten(parts, tmp_path / "newer.zip", {}, format=99, program_version="9.0")
    rewritten(parts, tmp_path / "up.zip", {"files/../secret": b"x"})
    rewritten(parts, tmp_path / "key.zip", {"files/secret": b"x"})
    rewritten(parts, tmp_path / "held.zip", {"files/backups/x.zip": b"x"})
    bomb = io.BytesIO()
    with (
        zipfile.ZipFile(bomb, "w", zipfile.ZIP_DEFLATED) as archive,
        archive.open("files/a.csv", "w") as stream,
    ):
        stream.writelines(b"\0" * 1_000_000 for _ in range(300))
    flipped = bytearray(backup)
    flipped[len(flipped) // 3] ^= 1
    bad = {
        "cut off": backup[:-2000],
        "changed": bytes(flipped),
        "no zip": b"hello",
        "empty": b"PK\x05\x06" + b"\0" * 18,
        "bomb": bomb.getvalue(),
        **{file.name: file.read_bytes() for file in tmp_path.glob("[lnukh]*.zip")},
    }
    assert len(bad) == 10
    for name, content in bad.items():
        refused = look(browser, content)
        assert refused.status_code == 422, name
        assert "nothing was changed" in refused.content.decode(), name
        assert b"sha256" not in refused.content
    for name in ("", "nothing.zip", "../secret", "/etc/passwd", "0" * 32, "..", "a/b.zip"):
        assert browser.post("/backup/restore", {"kept": name}).status_code == 422, name
        assert browser.post("/backup/restore/now", {"name": name, "word": "restore"}).status_code == 422, name
    assert not list((data() / ".restoring").glob("build-*"))


def test_a_bomb_whose_list_agrees_is_refused_before_it_unpacks(browser, backup, tmp_path, monkeypatch):
    rewritten(parts_of(io.BytesIO(backup)), tmp_path / "bomb.zip", {"files/x.csv": b"\0" * 60_000_000})
    room = type("Room", (), {"free": 350_000_000})
    monkeypatch.setattr("ampwright.web.backup.restore.shutil.disk_usage", lambda _: room)
    refused = look(browser, (tmp_path / "bomb.zip").read_bytes())
    assert "there is room for 50 MB" in refused.content.decode()


def test_a_file_that_lies_about_its_texts_changes_nothing(browser, backup, shop, moved_on, tmp_path):
    parts = parts_of(io.BytesIO(backup))
    rows = [json.loads(line) for line in parts["tables/Revision.jsonl"].splitlines()]
    rows[0]["sha256"] = "0" * 64
    lines = "".join(json.dumps(row) + "\n" for row in rows).encode()
    rewritten(parts, tmp_path / "wrong.zip", {"tables/Revision.jsonl": lines})
    form = form_of(look(browser, (tmp_path / "wrong.zip").read_bytes()))
    refused = browser.post("/backup/restore/now", {**form, "word": "restore"})
    assert (refused.status_code, "texts do not agree" in refused.content.decode()) == (422, True)
    assert JobEntry.objects.filter(pk=moved_on.pk).exists()
    assert kept_file(shop.pk, "own.csv").read_bytes() == b"after\n"


@pytest.mark.parametrize("step", ["_exchange_rows", "forward", "log"])
def test_whatever_fails_in_the_middle_leaves_all_as_it_was(browser, backup, moved_on, monkeypatch, step):
    shop = JobEntry.objects.filter(pk__lt=moved_on.pk).latest("pk")
    usual, form = getattr(replace, step), form_of(look(browser, backup))

    def failing(*args, **words):
        usual(*args, **words)
        raise DatabaseError("the server is gone")

    monkeypatch.setattr(replace, step, failing)
    if step == "forward":  # else it would fail again while it is undone
        monkeypatch.setattr(replace, "settle", lambda place: (monkeypatch.undo(), replace.settle(place)))
    refused = browser.post("/backup/restore/now", {**form, "word": "restore"})
    assert (refused.status_code, "the server is gone" in refused.content.decode()) == (422, True)
    assert JobEntry.objects.filter(pk=moved_on.pk).exists()
    assert 'title = "Another van"' in text_of(shop)
    assert kept_file(shop.pk, "own.csv").read_bytes() == b"after\n"
    assert photo_path(Photo.objects.get(job_id=shop.pk), is_small=False).is_file()
    assert not list((data() / ".restoring").glob("*/plan.json"))


def test_others_are_asked_to_come_back_meanwhile(browser):
    with the_gate().closed(inside=0):
        held, told = browser.get("/"), Program().get("jobs")
        assert (held.status_code, held.headers["Retry-After"]) == (503, "60")
        assert "being restored" in held.content.decode()
        assert "default-src 'none'" in held.headers["Content-Security-Policy"]
        assert (told.status_code, told.json()["status"]) == (503, 503)
        with pytest.raises(StillPassingError), the_gate().closed(inside=0):
            pass
    assert browser.get("/").status_code == 200


def test_it_waits_for_those_at_work_and_gives_up_in_the_end():
    gate = the_gate()
    assert gate.enter()
    with pytest.raises(StillPassingError), gate.closed(inside=0, patience_s=0.05):
        pass
    leaving = threading.Timer(0.1, gate.leave)
    leaving.start()
    with gate.closed(inside=0, patience_s=20.0):
        assert not gate.enter()
    leaving.join()


def test_only_who_manages_restores_and_nobody_is_locked_out(backup, tmp_path):
    with as_network():
        make_account("Restoring admin", password=PASSWORD, role="admin")
        client = Client(HTTP_HOST="127.0.0.1")
        client.post("/login", {"name": "Restoring admin", "password": PASSWORD})
        parts = parts_of(io.BytesIO(backup))
        rows = parts["tables/Account.jsonl"].replace(b'"role": "admin"', b'"role": "bench"')
        rewritten(parts, tmp_path / "nobody.zip", {"tables/Account.jsonl": rows})
        page = look(client, (tmp_path / "nobody.zip").read_bytes())
        assert "Nobody could manage" in page.content.decode()
        token = max((data() / ".restoring" / "looked-at").iterdir(), key=lambda path: path.stat().st_mtime_ns)
        sha256 = hashlib.sha256(token.read_bytes()).hexdigest()
        sent = {"name": token.stem, "sha256": sha256, "word": "restore"}
        refused = client.post("/backup/restore/now", sent)
        assert (refused.status_code, "nobody could manage" in refused.content.decode()) == (422, True)
        assert Account.objects.filter(name="Restoring admin", role="admin").exists()
        make_account("Restoring bench", password=PASSWORD, role="bench")
        bench = Client(HTTP_HOST="127.0.0.1")
        bench.post("/login", {"name": "Restoring bench", "password": PASSWORD})
        assert look(bench, backup).status_code == 403
        assert bench.post("/backup/restore/now", {}).status_code == 403
        assert bench.get("/backup/kept/x.zip").status_code == 403


KILLED = """
import os, shutil, sys
from pathlib import Path
base = Path(sys.argv[1])

def state(data):
    from ampwright.web.serve import prepared
    prepared(data, is_lan=False)
    from ampwright.web.models import Event, JobEntry
    title = JobEntry.objects.get(pk=1).title
    left = sorted(path.name for path in (data / ".restoring").glob("*/plan.json"))
    print(title, (data / "jobs" / "1" / "own.csv").read_text().strip(), (data / "photos" / "x").read_text(), left, flush=True)

def begin(data):
    from ampwright.web.serve import prepared
    prepared(data, is_lan=False)
    from ampwright.web.backup.make import write_backup
    from ampwright.web.backup.replace import build
    from ampwright.web.kept_files import keep_file
    from ampwright.web.store import Change, change_job, new_job, starting_texts
    job = new_job(starting_texts()["start"][1], Change(who="Ada", what="new"))
    (data / "photos").mkdir()
    for word in ("first", "second"):
        change_job(job.pk, lambda last: last.text.replace('"My van"', '"first"').replace('"first"', f'"{word}"'), Change(who="Ada", what="x"))
        keep_file(job.pk, "own.csv", word.encode(), who="Ada")
        (data / "photos" / "x").write_text(word)
        if word == "first":
            write_backup(base / "first.zip", data)
    fresh, rows = build(base / "first.zip", data)
    fresh.parent.rename(base / "built")

def replaced(data, count):
    from ampwright.web.serve import prepared
    prepared(data, is_lan=False)
    from ampwright.web.backup import exchange, replace
    usual, left = exchange.os.replace, [count]

    def dying(source, target):
        if left[0] == 0:
            os._exit(9)
        left[0] -= 1
        usual(source, target)

    if count < 90:
        exchange.os = type("System", (), {**vars(os), "replace": staticmethod(dying)})
    else:
        replace.done = lambda plan: os._exit(9)
    shutil.copytree(base / "built", data / ".restoring" / "built")
    replace.replace_by((data / ".restoring/built/new", data / ".restoring/built/rows.zip"), data, who="Ada", address="", about="x")

def ran(act, *args):
    if (child := os.fork()) == 0:
        try:
            act(*args)
        except BaseException:
            import traceback
            traceback.print_exc()
            os._exit(1)
        os._exit(0)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])

assert ran(begin, base / "shop") == 0
for count in (0, 1, 2, 3, 4, 5, 99, 50):
    data = base / f"shop-{count}"
    shutil.copytree(base / "shop", data)
    print(count, ran(replaced, data, count), end=" ", flush=True)
    assert ran(state, data) == 0
"""


def test_killed_at_any_step_the_next_start_finds_one_whole_workshop(tmp_path):
    ended = subprocess.run(
        [sys.executable, "-c", KILLED, str(tmp_path)],
        capture_output=True,
        text=True,
        check=False,
        timeout=300,
    )
    assert (ended.returncode, ended.stderr) == (0, "")
    lines = [line.split() for line in ended.stdout.splitlines()]
    died = {int(line[0]): int(line[1]) for line in lines}
    assert {died[count] for count in (0, 1, 2, 3, 4, 99)} == {9}
    assert died[50] == 0
    found = {int(line[0]): (line[2], line[3], line[4], line[5]) for line in lines}
    old, new = ("second", "second", "second", "[]"), ("first", "first", "first", "[]")
    assert set(found.values()) <= {old, new}
    assert {found[count] for count in (0, 1, 2, 3, 4)} == {old}  # not committed
    assert (found[99], found[50]) == (new, new)
