"""The workshop at work is replaced by that of a backup: looked at, built beside, and exchanged whole or not at all."""

from __future__ import annotations

import contextlib
import datetime as dt
import hashlib
import json
import re
import secrets
import shutil
import subprocess
import sys
import time
import zipfile
from collections.abc import Iterable
from pathlib import Path

from django.contrib.sessions.models import Session
from django.db import DatabaseError
from django.utils.translation import gettext

from ampwright.errors import FileError
from ampwright.records import record
from ampwright.web.backup.archive import LEFT_OUT, TABLES, checked_manifest, part_chunks
from ampwright.web.backup.exchange import HOLD, Plan, back, done, forward, plans, write_down
from ampwright.web.backup.make import write_backup
from ampwright.web.backup.records import Manifest
from ampwright.web.backup.restore import checked_backup
from ampwright.web.backup.tables import (
    add_rows,
    exclusive,
    knows_change,
    lines_of,
    table_models,
    wrong_revisions,
)
from ampwright.web.models import Event, Revision, Role, Token
from ampwright.web.roles import LOCAL_NAME
from ampwright.web.store import log

__all__ = ["Seen", "build", "file_named", "kept_backups", "looked_at", "replace_by", "seen_backup", "settle"]

KEPT = "backups"
"""Folder in the data for backups made before a restore, or put there by hand; in no backup itself."""
GOOD_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,99}\.zip")
GOOD_TOKEN = re.compile(r"[0-9a-f]{32}")
LOOKED_AT_S = 3600.0
"""Time for which a file that was only looked at is kept (our own choice)."""
BUILD_S = 1800.0
"""Longest time for building a workshop beside (our own choice)."""


@record
class Seen:
    """What a backup holds, all of it read and compared with its list."""

    manifest: Manifest
    """Its list of contents."""
    sha256: str
    """Hash of the whole file."""
    size_bytes: int
    """Size of the whole file."""
    counts: dict[str, int]
    """Rows by table, and files."""
    admins: tuple[str, ...]
    """Who can log in and manage accounts in it."""

    @property
    def made(self) -> str:
        """When it was made, for people."""
        day, _, clock = self.manifest.made_at.removesuffix("+00:00").partition("T")
        return f"{day} {clock[:5]} UTC" if self.manifest.made_at.endswith("+00:00") else self.manifest.made_at


def kept_backups(data: Path) -> tuple[Path, ...]:
    """Return the backups in the folder for them, the newest name first."""
    found = (path for path in (data / KEPT).glob("*.zip") if GOOD_NAME.fullmatch(path.name))
    return tuple(sorted(found, key=lambda path: path.name, reverse=True))


def looked_at(data: Path, chunks: Iterable[bytes]) -> str:
    """Keep a file that came in for a while under a name nobody can guess; return that name."""
    folder = data / HOLD / "looked-at"
    folder.mkdir(parents=True, exist_ok=True)
    for path in folder.iterdir():
        if time.time() - path.stat().st_mtime > LOOKED_AT_S:
            path.unlink(missing_ok=True)
    token = secrets.token_hex(16)
    with (folder / f"{token}.zip").open("xb") as stream:
        stream.writelines(chunks)
    return token


def file_named(data: Path, name: str) -> Path | None:
    """Return the file that was looked at under a name, or a kept backup of this name."""
    if GOOD_TOKEN.fullmatch(name):
        path = data / HOLD / "looked-at" / f"{name}.zip"
    elif GOOD_NAME.fullmatch(name):
        path = data / KEPT / name
    else:
        return None
    return path if path.is_file() and not path.is_symlink() else None


def seen_backup(file: Path, data: Path) -> Seen:
    """Return what is in a backup; nothing is changed.

    Raises
    ------
    FileError
        Where it is damaged, of another program, of a newer one, or too large for the disk.
    """
    try:
        manifest = checked_backup(file, room_at=data)
    except FileError as error:  # the name under which it lies tells nobody anything
        raise FileError(str(error).removeprefix(f"{file}: ")) from None
    if not knows_change(manifest.tables_as_of):
        raise FileError("it was made by a newer program; bring this program up to date first")
    with file.open("rb") as stream:
        sha256 = hashlib.file_digest(stream, "sha256").hexdigest()
    counts = {table.name: table.row_count for table in manifest.tables}
    counts["File"] = len(manifest.contents) - len(manifest.tables)
    return Seen(
        manifest=manifest,
        sha256=sha256,
        size_bytes=file.stat().st_size,
        counts=counts,
        admins=_admins(file, manifest),
    )


def _admins(file: Path, manifest: Manifest) -> tuple[str, ...]:
    found = []
    with zipfile.ZipFile(file) as archive:
        part = next((each for each in manifest.contents if each.name == f"{TABLES}Account.jsonl"), None)
        for line in lines_of(part_chunks(archive, part)) if part is not None else ():
            row = json.loads(line)
            is_admin = row.get("role") == Role.ADMIN and row.get("is_active") is True
            if is_admin and row.get("name") != LOCAL_NAME:
                found.append(str(row["name"])[:60])
    return tuple(found)


def build(file: Path, data: Path) -> tuple[Path, Path]:
    """Build the workshop of a backup beside, in a process of its own; return its folder and its rows as of now.

    The process restores as the command does, with every comparison, brings the tables up to date and writes them again.

    Raises
    ------
    FileError
        Where the backup will not do; nothing of the workshop at work was touched.
    """
    hold = data / HOLD / f"build-{secrets.token_hex(8)}"
    hold.mkdir(parents=True)
    try:
        _ran("restore", str(file), "--data", str(hold / "new"))
        _ran("backup", str(hold / "rows.zip"), "--data", str(hold / "new"))
        for name in LEFT_OUT:
            path = hold / "new" / name
            shutil.rmtree(path) if path.is_dir() else path.unlink(missing_ok=True)
    except (FileError, OSError):
        shutil.rmtree(hold, ignore_errors=True)
        raise
    return hold / "new", hold / "rows.zip"


def _ran(*words: str) -> None:
    run = [sys.executable, "-m", "ampwright.cli.main", *words]
    try:
        ended = subprocess.run(run, capture_output=True, text=True, check=False, timeout=BUILD_S)  # noqa: S603 - this program itself
    except subprocess.TimeoutExpired:
        raise FileError(gettext("building it took too long; use the command on this machine")) from None
    if ended.returncode:
        said = ended.stderr.strip().rpartition("\n")[2][-300:]
        raise FileError(said or gettext("it could not be built; use the command on this machine"))


def replace_by(built: tuple[Path, Path], data: Path, *, who: str, address: str, about: str) -> Path:
    """Exchange rows and files for those that were built; return the backup of what was there before.

    Nobody else may be at work meanwhile. Rows are exchanged in one transaction and the folders inside it; whatever goes
    wrong, both are as before.

    Raises
    ------
    FileError
        Where it was not done.
    """
    fresh, rows = built
    before = data / KEPT / f"before-restore-{dt.datetime.now().astimezone():%Y%m%d-%H%M%S}.zip"
    before.parent.mkdir(exist_ok=True)
    write_backup(before, data)
    mark = secrets.token_hex(8)
    (data / HOLD / mark).mkdir()
    fresh.replace(data / HOLD / mark / "new")
    plan = Plan(data=data, mark=mark, away=_tops(data), come=_tops(data / HOLD / mark / "new"))
    try:
        with exclusive():
            write_down(plan)
            _exchange_rows(rows)
            log(who, "restored", address=address, detail=f"{mark}: {about}")
            forward(plan)
    except BaseException:
        with contextlib.suppress(DatabaseError):  # no database: the plan stays for the next start
            settle(data)
        raise
    done(plan)
    return before


def settle(data: Path) -> None:
    """Bring a restore that was cut off to one of its ends; one that is at work is waited for."""
    if not any(plans(data)):
        return
    with exclusive():
        for plan in plans(data):
            is_kept = Event.objects.filter(what="restored", detail__startswith=f"{plan.mark}: ").exists()
            (forward if is_kept else back)(plan)
            done(plan)


def _tops(folder: Path) -> tuple[str, ...]:
    """Return what of a folder goes into a backup, by its name in the folder."""
    names = (path.name for path in sorted(folder.iterdir()) if not path.is_symlink())
    return tuple(name for name in names if not name.startswith(".") and name not in LEFT_OUT)


def _exchange_rows(rows: Path) -> None:
    """Put the rows of a file in place of all that are there."""
    with zipfile.ZipFile(rows) as archive:
        manifest: Manifest = checked_manifest(archive, most_bytes=10**15)
        parts = {part.name: part for part in manifest.contents}
        Token.objects.all().delete()
        Session.objects.all().delete()
        for model in reversed(table_models()):
            model._default_manager.all()._raw_delete(model._default_manager.db)  # noqa: SLF001 - no rows are fetched
        for table, model in zip(manifest.tables, table_models(), strict=True):
            lines = lines_of(part_chunks(archive, parts[f"{TABLES}{model.__name__}.jsonl"]))
            if table.name != model.__name__ or add_rows(model, lines) != table.row_count:
                raise FileError(f"{model.__name__}: not as many rows as were built")
    count, wrong = wrong_revisions(Revision)
    if wrong or count != Revision.objects.count():
        raise FileError(f"texts do not agree with their hashes: {', '.join(wrong[:5])}")
