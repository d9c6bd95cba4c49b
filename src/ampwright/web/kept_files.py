"""The files kept with a job: weather, own parts and tables that the job names by their plain names."""

from __future__ import annotations

import os
import re
from pathlib import Path

from django.utils.translation import gettext

from ampwright.errors import FileError
from ampwright.web.models import Revision
from ampwright.web.reading import folder_of
from ampwright.web.store import Change, change_job

__all__ = [
    "FILES_OF_A_JOB",
    "FILE_BYTES",
    "check_file",
    "keep_file",
    "kept_file",
    "kept_files",
    "write_file",
]

FILE_BYTES = 12_000_000
"""Largest file kept with a job; ten years of hours are about 5 MB (our own choice)."""
FILES_OF_A_JOB = 20
"""Most files kept with a job (our own choice)."""
GOOD_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9 ._-]{0,79}")
GOOD_ENDINGS = (".toml", ".csv", ".json", ".epw", ".tm3", ".tmy3")
TAKEN_NAME = "job.toml"


def kept_files(job_id: int) -> tuple[Path, ...]:
    """Return the files of a job by name; what is only half written is none of them."""
    found = folder_of(job_id).glob("*")
    return tuple(sorted(path for path in found if path.is_file() and not path.name.startswith(".")))


def kept_file(job_id: int, name: str) -> Path | None:
    """Return one file of a job; None where there is none of this name."""
    path = folder_of(job_id) / name
    return path if GOOD_NAME.fullmatch(name) and path.is_file() else None


def keep_file(job_id: int, name: str, content: bytes, *, who: str) -> Revision:
    """Keep a file with a job, or replace it; that is a revision of the job.

    Raises
    ------
    FileError
        Where the name, the size or the number of files cannot be taken.
    """
    check_file(name, content)
    folder = folder_of(job_id)
    folder.mkdir(parents=True, exist_ok=True)
    if not (folder / name).exists() and len(kept_files(job_id)) >= FILES_OF_A_JOB:
        most = gettext("a job keeps at most {count} files; ask for another way to bring in more")
        raise FileError(most.format(count=FILES_OF_A_JOB))
    write_file(job_id, name, content)
    what = gettext("file {name} added").format(name=name)
    return change_job(job_id, lambda last: last.text, Change(who=who, what=what), is_file=True)


def check_file(name: str, content: bytes) -> None:
    """Raise FileError where a file cannot be kept with a job."""
    if not GOOD_NAME.fullmatch(name) or not name.lower().endswith(GOOD_ENDINGS) or name == TAKEN_NAME:
        wanted = gettext("'{name}': take letters, digits, dashes and dots, ending in {endings}")
        raise FileError(wanted.format(name=name[:60], endings=", ".join(GOOD_ENDINGS)))
    if len(content) > FILE_BYTES:
        size = f"{FILE_BYTES / 1e6:g}"
        raise FileError(gettext("{name}: larger than {size} MB").format(name=name, size=size))


def write_file(job_id: int, name: str, content: bytes) -> None:
    """Write a file of a job, whole or not at all."""
    folder = folder_of(job_id)
    folder.mkdir(parents=True, exist_ok=True)
    fresh = folder / f".{name}.new"
    fresh.write_bytes(content)
    os.replace(fresh, folder / name)  # noqa: PTH105 - Path.replace says the same; this is atomic by contract
