"""A workshop goes into one file and comes back equal; whatever goes wrong leaves no half of it."""

from __future__ import annotations

import io
import json
import os
import signal
import subprocess
import sys
import threading
import time
import zipfile

import pytest
from backup_files import parts_of, rewritten
from django.conf import settings
from django.db import connection
from django.db.migrations.executor import MigrationExecutor
from interface_jobs import token_of
from web_jobs import job_from, put

from ampwright.errors import FileError
from ampwright.web.backup.make import write_backup
from ampwright.web.kept_files import keep_file
from ampwright.web.models import Account, Event, JobEntry, Revision
from ampwright.web.store import Change, change_job


def command(*words, **options):
    run = [sys.executable, "-m", "ampwright.cli.main", *map(str, words)]
    return subprocess.run(run, capture_output=True, text=True, check=False, timeout=300, **options)


def listing(folder):
    return sorted(str(path.relative_to(folder)) for path in folder.rglob("*"))


@pytest.fixture
def shop():
    """Return a job with revisions, a file, and accounts with tokens."""
    job = job_from("start")
    put(job, 'title = "My van"', 'title = "Van with ä, € and 日"', why="the customer says so")
    keep_file(job.pk, "own.csv", b"hour,power_w\n", who="Ada")
    token_of("designer")
    return job


@pytest.fixture
def backup(shop, tmp_path):  # noqa: ARG001 - what is backed up
    file = tmp_path / "shop.zip"
    write_backup(file, settings.AMPWRIGHT_PLACE.data)
    return file


def test_what_is_in_it(backup, shop):
    parts = parts_of(backup)
    rows = [json.loads(line) for line in parts["tables/Revision.jsonl"].splitlines()]
    assert len(rows) == Revision.objects.count()
    mine = [row for row in rows if row["job_id"] == shop.pk]
    assert [row["number"] for row in mine] == [1, 2, 3]
    kept = Revision.objects.get(job=shop, number=2)
    assert (mine[1]["text"], mine[1]["made_at"]) == (kept.text, kept.made_at.isoformat())
    assert parts[f"files/jobs/{shop.pk}/own.csv"] == b"hour,power_w\n"
    account = Account.objects.latest("pk")
    assert account.password.encode() in parts["tables/Account.jsonl"]
    assert not any("Token" in name or "secret" in name or "sqlite" in name for name in parts)
    assert settings.SECRET_KEY.encode() not in b"".join(parts.values())
    assert backup.stat().st_mode & 0o077 == 0


def test_it_comes_back_equal_and_says_so(backup, tmp_path):
    done = command("restore", backup, "--data", tmp_path / "new")
    assert (done.returncode, done.stderr) == (0, "")
    count = Revision.objects.count()
    assert f"{count} texts and " in done.stdout
    again = command("backup", tmp_path / "again.zip", "--data", tmp_path / "new")
    assert again.returncode == 0, again.stderr
    first, second = parts_of(backup), parts_of(tmp_path / "again.zip")
    assert first.keys() == second.keys()
    restored = second["tables/Event.jsonl"].splitlines()[-1]
    assert json.loads(restored)["what"] == "restored"
    second["tables/Event.jsonl"] = second["tables/Event.jsonl"].removesuffix(restored + b"\n")
    changed = {name for name in first if first[name] != second[name]}
    assert changed == {"manifest.json"}
    assert listing(tmp_path / "new") != []
    assert sorted(path.name for path in tmp_path.iterdir()) == ["again.zip", "new", "shop.zip"]


def test_one_of_older_tables_is_brought_up_to_date(backup, tmp_path):
    parts = parts_of(backup)
    now = json.loads(parts["manifest.json"])["tables_as_of"]
    assert now > "0001_tables"
    old = MigrationExecutor(connection).loader.project_state([("web", "0001_tables")]).apps
    changed = {}
    for name in [name for name in parts if name.startswith("tables/")]:
        known = {model.__name__: model for model in old.get_models()}.get(name[7:-6])
        columns = {field.attname for field in known._meta.concrete_fields} if known else None  # noqa: SLF001
        rows = [json.loads(line) for line in parts[name].splitlines()]
        lines = [{key: row[key] for key in row if key in columns} for row in rows] if columns else None
        changed[name] = lines and "".join(json.dumps(line) + "\n" for line in lines).encode()
        changed[name] = b"" if lines == [] else changed[name]
    rewritten(parts, tmp_path / "old.zip", changed, tables_as_of="0001_tables")
    assert "tables/Photo.jsonl" not in parts_of(tmp_path / "old.zip")
    done = command("restore", tmp_path / "old.zip", "--data", tmp_path / "new")
    assert (done.returncode, done.stderr) == (0, "")
    again = command("backup", tmp_path / "again.zip", "--data", tmp_path / "new")
    assert again.returncode == 0, again.stderr
    later = parts_of(tmp_path / "again.zip")
    assert json.loads(later["manifest.json"])["tables_as_of"] == now
    assert later["tables/Revision.jsonl"] == parts["tables/Revision.jsonl"]


def test_nothing_is_touched_where_it_will_not_do(backup, tmp_path):
    held = tmp_path / "held"
    held.mkdir()
    (held / "letter.txt").write_text("mine", encoding="ascii")
    newer = json.loads(parts_of(backup)["manifest.json"]) | {"tables_as_of": "9999_later"}
    with zipfile.ZipFile(tmp_path / "newer.zip", "w") as archive:
        for name, content in parts_of(backup).items():
            archive.writestr(name, json.dumps(newer) if name == "manifest.json" else content)
    (tmp_path / "cut.zip").write_bytes(backup.read_bytes()[:-2000])
    (tmp_path / "text.zip").write_bytes(b"not a zip")
    before = listing(tmp_path)
    for file, folder, words in (
        (backup, held, "--replace"),
        (tmp_path / "newer.zip", tmp_path / "new", "newer program"),
        (tmp_path / "cut.zip", tmp_path / "new", "take another"),
        (tmp_path / "text.zip", tmp_path / "new", "no backup"),
        (tmp_path / "nothing.zip", tmp_path / "new", "cannot be read"),
        (backup, backup, "no folder"),
    ):
        done = command("restore", file, "--data", folder)
        assert (done.returncode, done.stdout) == (2, ""), file
        assert words in done.stderr
        assert done.stderr.count("\n") == 1
        assert "Traceback" not in done.stderr
        assert listing(tmp_path) == before, file


def test_what_was_there_is_set_aside_when_asked(backup, tmp_path):
    held = tmp_path / "held"
    held.mkdir()
    (held / "letter.txt").write_text("mine", encoding="ascii")
    (held / "web.toml").write_text('hosts = ["bench.example"]\n', encoding="ascii")
    done = command("restore", backup, "--data", held, "--replace")
    assert done.returncode == 0, done.stderr
    (aside,) = tmp_path.glob("held.before-*")
    assert (aside / "letter.txt").read_text(encoding="ascii") == "mine"
    assert (held / "web.toml").read_text(encoding="ascii") == 'hosts = ["bench.example"]\n'
    assert (held / "ampwright.sqlite3").exists()
    assert not (held / "letter.txt").exists()


def test_a_text_that_does_not_agree_with_its_hash_is_found(backup, tmp_path):
    parts = parts_of(backup)
    rows = [json.loads(line) for line in parts["tables/Revision.jsonl"].splitlines()]
    rows[0]["sha256"] = "0" * 64
    lines = "".join(json.dumps(row) + "\n" for row in rows).encode()
    rewritten(parts, tmp_path / "wrong.zip", {"tables/Revision.jsonl": lines})
    done = command("restore", tmp_path / "wrong.zip", "--data", tmp_path / "new")
    assert done.returncode == 2
    assert f"job {rows[0]['job_id']} revision {rows[0]['number']}" in done.stderr
    assert not (tmp_path / "new").exists()


def test_it_replaces_no_file(backup):
    before = backup.read_bytes()
    with pytest.raises(FileError, match="there already"):
        write_backup(backup, settings.AMPWRIGHT_PLACE.data)
    assert backup.read_bytes() == before
    done = command("backup", backup.with_name("x.zip"), "--data", backup.with_name("no-such-folder"))
    assert (done.returncode, done.stdout) == (2, "")


def test_it_shows_one_moment_while_others_write(shop, tmp_path):
    is_done = threading.Event()
    first = shop.number

    def write():
        while not is_done.is_set():
            change_job(shop.pk, lambda last: f"{last.text}# more\n", Change(who="Ada", what="more"))
        connection.close()

    writer = threading.Thread(target=write)
    writer.start()
    try:
        for number in range(4):
            write_backup(tmp_path / f"{number}.zip", settings.AMPWRIGHT_PLACE.data)
    finally:
        is_done.set()
        writer.join()
    for number in range(4):
        parts = parts_of(tmp_path / f"{number}.zip")
        entries = [json.loads(line) for line in parts["tables/JobEntry.jsonl"].splitlines()]
        rows = [json.loads(line) for line in parts["tables/Revision.jsonl"].splitlines()]
        (entry,) = [each for each in entries if each["id"] == shop.pk]
        assert entry["number"] == max(row["number"] for row in rows if row["job_id"] == shop.pk)
    assert JobEntry.objects.get(pk=shop.pk).number > first + 4


def test_killed_in_the_middle_it_leaves_no_half_file(tmp_path):
    data = tmp_path / "data"
    made = command("backup", tmp_path / "x.zip", "--data", data)
    assert made.returncode == 2
    (data / "jobs" / "1").mkdir(parents=True)
    (data / "web.toml").write_text("", encoding="ascii")
    for number in range(6):
        (data / "jobs" / "1" / f"{number}.csv").write_bytes(os.urandom(12_000_000))
    half, file = tmp_path / ".shop.zip.part", tmp_path / "shop.zip"
    run = [sys.executable, "-m", "ampwright.cli.main", "backup", file, "--data", data]
    process = subprocess.Popen(run, stdout=subprocess.DEVNULL)
    while not (half.exists() and half.stat().st_size > 1_000_000):
        assert process.poll() is None
        time.sleep(0.005)
    process.send_signal(signal.SIGKILL)
    process.wait()
    assert not file.exists()
    done = command("backup", file, "--data", data)
    assert done.returncode == 0, done.stderr
    assert not half.exists()
    assert len(parts_of(file)) >= 7


def test_the_page_hands_it_over_to_whoever_manages(browser, shop):
    assert "restore" in browser.get("/backup").content.decode()
    response = browser.post("/backup")
    assert response.headers["Content-Type"] == "application/zip"
    assert response.headers["Content-Disposition"].startswith("attachment")
    parts = parts_of(io.BytesIO(b"".join(response.streaming_content)))
    response.close()
    assert f"files/jobs/{shop.pk}/own.csv" in parts
    assert Event.objects.filter(what="backup made").exists()
    assert not list(settings.AMPWRIGHT_PLACE.data.glob(".backup-*"))
