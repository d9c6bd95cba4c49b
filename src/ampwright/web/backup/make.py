"""Everything a workshop has kept goes into one file, at one moment, while the app goes on."""

from __future__ import annotations

import os
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import IO

from django.utils import timezone

from ampwright import __version__
from ampwright.errors import FileError
from ampwright.web.backup.archive import (
    FILES,
    LEFT_OUT,
    TABLES,
    checked_manifest,
    files_below,
    good_name,
    put_manifest,
    put_part,
)
from ampwright.web.backup.records import BACKUP, Content, Manifest, TableCount
from ampwright.web.backup.tables import last_change, rows_of, snapshot, table_models

__all__ = ["write_backup", "write_backup_to"]

READ_BYTES = 1 << 20


def write_backup(file: Path, data: Path) -> Manifest:
    """Write a backup to a file that is not there yet: whole and read back, or not at all.

    Raises
    ------
    FileError
        Where it cannot be written there.
    """
    if file.exists():
        raise FileError(f"{file} is there already; a backup replaces nothing, choose another name")
    half = file.with_name(f".{file.name}.part")
    try:
        with half.open("w+b") as stream:
            os.chmod(half, 0o600)  # noqa: PTH101 - hashes of passwords are in it
            manifest = write_backup_to(stream, data)
            stream.flush()
            os.fsync(stream.fileno())
        os.replace(half, file)  # noqa: PTH105 - atomic by contract
    except OSError as error:
        half.unlink(missing_ok=True)
        reason = error.strerror or "unknown reason"
        raise FileError(f"{file}: cannot be written ({reason}); choose another place") from None
    except FileError:
        half.unlink(missing_ok=True)
        raise
    return manifest


def write_backup_to(stream: IO[bytes], data: Path) -> Manifest:
    """Write a backup to a stream that can be read back, and check it."""
    contents: list[Content] = []
    tables: list[TableCount] = []
    with zipfile.ZipFile(stream, "w") as archive:
        with snapshot():
            change = last_change()
            for model in table_models():
                counted = _Counted(rows_of(model))
                contents.append(put_part(archive, f"{TABLES}{model.__name__}.jsonl", counted))
                tables.append(TableCount(name=model.__name__, row_count=counted.count))
        for name, path in files_below(data, LEFT_OUT):
            if not good_name(name):
                raise FileError(f"{path}: a name like this cannot be kept everywhere; rename the file")
            contents.append(put_part(archive, f"{FILES}{name}", _chunks(path)))
        manifest = Manifest(
            kind=BACKUP.kind,
            format=BACKUP.format,
            program_version=__version__,
            made_at=timezone.now().isoformat(timespec="seconds"),
            tables_as_of=change,
            tables=tuple(tables),
            contents=tuple(contents),
        )
        put_manifest(archive, manifest)
    with zipfile.ZipFile(stream) as archive:
        checked_manifest(archive, most_bytes=10**15)
    return manifest


class _Counted:
    """Counts the lines that are taken from it."""

    def __init__(self, lines: Iterator[bytes]) -> None:
        self._lines = lines
        self.count = 0

    def __iter__(self) -> Iterator[bytes]:
        for line in self._lines:
            self.count += 1
            yield line


def _chunks(path: Path) -> Iterator[bytes]:
    try:
        with path.open("rb") as stream:
            while chunk := stream.read(READ_BYTES):
                yield chunk
    except OSError as error:
        reason = error.strerror or "unknown reason"
        raise FileError(f"{path}: cannot be read ({reason}); mend that and take the backup again") from None
