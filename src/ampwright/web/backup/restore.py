"""A workshop made anew from a backup: checked first, built beside, compared, and only then put in place."""

from __future__ import annotations

import datetime as dt
import hashlib
import os
import shutil
import tempfile
import zipfile
from pathlib import Path

from ampwright.errors import FileError
from ampwright.records import record
from ampwright.web.backup.archive import FILES, TABLES, checked_manifest, part_chunks
from ampwright.web.backup.records import Manifest
from ampwright.web.configure import configure
from ampwright.web.place import SETTINGS_FILE, place_at

__all__ = ["Restored", "checked_backup", "restore_to"]

SPARE_BYTES = 200_000_000
"""What stays free on the disk, for the database beside the files (our own choice)."""
GROWTH = 3
"""A database may need so many times the size of its rows in the backup (our own choice)."""


@record
class Restored:
    """What was restored, as counted in the new workshop."""

    manifest: Manifest
    """The backup's list of contents."""
    folder: Path
    """Where the workshop is."""
    before: Path | None
    """Where the folder went that was there before; None = there was none."""
    revision_count: int
    """Revisions whose text was compared with its hash."""
    file_count: int
    """Files that were compared with their hashes."""


def checked_backup(file: Path, *, room_at: Path) -> Manifest:
    """Return a backup's list of contents, all of it read and compared; nothing is written.

    Raises
    ------
    FileError
        Where it is damaged, of another program, of a newer one, or too large for the disk.
    """
    there = next(path for path in (room_at, *room_at.resolve().parents) if path.exists())
    room = max(0, shutil.disk_usage(there).free - SPARE_BYTES) // GROWTH
    try:
        with zipfile.ZipFile(file) as archive:
            manifest: Manifest = checked_manifest(archive, most_bytes=room)
    except OSError as error:
        raise FileError(f"{file}: cannot be read ({error.strerror or 'unknown reason'})") from None
    except (zipfile.BadZipFile, ValueError, NotImplementedError):
        raise FileError(f"{file}: it is damaged, cut off, or no backup; take another one") from None
    except FileError as error:
        raise FileError(f"{file}: {error}") from None
    return manifest


def restore_to(file: Path, data: Path, *, is_replacing: bool) -> Restored:
    """Make a workshop of a backup in a folder that is empty, or whose content is set aside first.

    Raises
    ------
    FileError
        Before anything is touched, where the backup or the folder will not do; later, where the new workshop is not
        what the backup says. The folder is then as it was.
    """
    data = data.resolve()
    held = sorted(path.name for path in data.iterdir()) if data.is_dir() else []
    if data.exists() and not data.is_dir():
        raise FileError(f"{data} is no folder; choose another one")
    if set(held) - {SETTINGS_FILE} and not is_replacing:
        raise FileError(
            f"{data} is not empty; choose another folder, or set its content aside with --replace"
        )
    manifest = checked_backup(file, room_at=data)
    data.parent.mkdir(parents=True, exist_ok=True)
    fresh = Path(tempfile.mkdtemp(prefix=f".{data.name}.restoring-", dir=data.parent))
    try:
        if SETTINGS_FILE in held:
            shutil.copy2(data / SETTINGS_FILE, fresh / SETTINGS_FILE)
        revision_count, file_count = _build(file, manifest, fresh)
        before = _put_in_place(fresh, data)
    finally:
        shutil.rmtree(fresh, ignore_errors=True)
    return Restored(
        manifest=manifest,
        folder=data,
        before=before,
        revision_count=revision_count,
        file_count=file_count,
    )


def _build(file: Path, manifest: Manifest, fresh: Path) -> tuple[int, int]:
    """Build the workshop in a folder beside and compare it with the list; returns revisions and files compared."""
    configure(place_at(fresh, is_lan=False))
    from django.core.exceptions import ValidationError  # noqa: PLC0415 - only once Django is set up
    from django.core.management import call_command  # noqa: PLC0415
    from django.db import DatabaseError, connection  # noqa: PLC0415

    from ampwright.web.store import log  # noqa: PLC0415

    with zipfile.ZipFile(file) as archive:
        _put_files(archive, manifest, fresh)
        try:
            revision_count = _put_tables(archive, manifest)
        except (LookupError, TypeError, ValueError, ValidationError, DatabaseError) as error:
            what = f"its tables cannot be taken ({type(error).__name__}: {str(error)[:120]})"
            raise FileError(f"{file}: {what}; take another one") from None
    file_count = _compared_files(manifest, fresh)
    call_command("migrate", verbosity=0, interactive=False)
    log("this machine", "restored", address="", detail=f"backup of {manifest.made_at}")
    connection.close()
    return revision_count, file_count


def _put_files(archive: zipfile.ZipFile, manifest: Manifest, fresh: Path) -> None:
    for part in manifest.contents:
        if part.name.startswith(FILES):
            place = fresh / part.name.removeprefix(FILES)
            place.parent.mkdir(parents=True, exist_ok=True)
            with place.open("xb") as stream:
                stream.writelines(part_chunks(archive, part))


def _put_tables(archive: zipfile.ZipFile, manifest: Manifest) -> int:
    """Fill the tables, all or none; returns how many revisions agree with their hashes."""
    from django.db import transaction  # noqa: PLC0415 - only once Django is set up

    from ampwright.web.backup.tables import (  # noqa: PLC0415
        add_rows,
        is_empty,
        lines_of,
        tables_at,
        wrong_revisions,
    )

    if not is_empty():  # a server's database cannot be set aside as a folder can
        raise FileError("the database named in web.toml is not empty; make an empty one and name it there")
    old = tables_at(manifest.tables_as_of)
    parts = {part.name: part for part in manifest.contents}
    with transaction.atomic():
        for table in manifest.tables:
            model = old.get_model("web", table.name)
            lines = lines_of(part_chunks(archive, parts[f"{TABLES}{table.name}.jsonl"]))
            if add_rows(model, lines) != table.row_count or model.objects.count() != table.row_count:
                raise FileError(f"{table.name}: not as many rows as the backup's list says")
        revision_count, wrong = wrong_revisions(old.get_model("web", "Revision"))
        if wrong:
            raise FileError(f"texts do not agree with their hashes: {', '.join(wrong[:5])}; take another one")
    return revision_count


def _compared_files(manifest: Manifest, fresh: Path) -> int:
    files = [part for part in manifest.contents if part.name.startswith(FILES)]
    for part in files:
        with (fresh / part.name.removeprefix(FILES)).open("rb") as stream:
            if hashlib.file_digest(stream, "sha256").hexdigest() != part.sha256:
                raise FileError(f"{part.name}: written otherwise than the backup has it; is the disk sound?")
    return len(files)


def _put_in_place(fresh: Path, data: Path) -> Path | None:
    """Put the new folder in place of the old one, which is set aside; each step is one rename."""
    before = None
    if data.exists() and not {path.name for path in data.iterdir()} - {SETTINGS_FILE}:
        shutil.rmtree(data)
    if data.exists():
        stamp = dt.datetime.now().astimezone().strftime("%Y%m%d-%H%M%S")
        before = data.with_name(f"{data.name}.before-{stamp}")
        os.replace(data, before)  # noqa: PTH105 - one step
    os.replace(fresh, data)  # noqa: PTH105 - one step
    return before
