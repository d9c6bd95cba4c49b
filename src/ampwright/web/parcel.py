"""One job with its files and photos as one file, to hand on, keep or take in again equal.

Its history stays: what is handed on is the last revision. Taking one in trusts nothing: the list, every name, every
picture and the text are checked before the job is made.
"""

from __future__ import annotations

import datetime as dt
import shutil
import zipfile
from pathlib import Path
from typing import IO, Annotated

from annotated_types import MaxLen
from django.db import transaction
from django.utils.translation import gettext

from ampwright import __version__
from ampwright.errors import FileError
from ampwright.job.load import JOB_FILE_BYTES
from ampwright.records import record
from ampwright.toml_positions import text_of
from ampwright.web.backup.archive import checked_manifest, part_chunks, put_manifest, put_part
from ampwright.web.backup.records import Content, Form
from ampwright.web.kept_files import FILES_OF_A_JOB, check_file, kept_files, write_file
from ampwright.web.models import JobEntry, Photo
from ampwright.web.photos import PHOTOS_OF_A_JOB, keep_picture, photo_path, photos_of
from ampwright.web.pictures import PHOTO_BYTES, Picture, kept_picture
from ampwright.web.reading import folder_of
from ampwright.web.store import Change, last_revision, new_job

__all__ = ["PARCEL_BYTES", "take_parcel", "write_parcel"]

PARCEL_BYTES = 200_000_000
"""Largest parcel taken, packed or unpacked (our own choice)."""
TEXT, FILES, PHOTOS = "job.toml", "files/", "photos/"


@record
class PhotoSaid:
    """What is said of one photo."""

    name: Annotated[str, MaxLen(200)]
    """Name of its part."""
    subject: Annotated[str, MaxLen(120)]
    """Id of the run, load or part; empty = the vehicle."""
    caption: Annotated[str, MaxLen(300)]
    """What it shows."""
    made_at: dt.datetime
    """When it came in."""
    made_by: Annotated[str, MaxLen(60)]
    """Who added it."""


@record
class Parcel:
    """List of contents of a job's parcel."""

    kind: Annotated[str, MaxLen(60)]
    """Always the same words."""
    format: int
    """Which form it has."""
    program_version: Annotated[str, MaxLen(20)]
    """Version of the program that made it."""
    photos: tuple[PhotoSaid, ...]
    """What is said of the photos."""
    contents: tuple[Content, ...]
    """Everything but this list."""


PARCEL = Form(
    kind="ampwright job with files and photos",
    format=1,
    shape=Parcel,
    tops=(TEXT, FILES, PHOTOS),
    called="job with its files",
)


def write_parcel(stream: IO[bytes], entry: JobEntry) -> None:
    """Write a job's last revision, its files and its photos."""
    contents, said = [], []
    with zipfile.ZipFile(stream, "w") as archive:
        contents.append(put_part(archive, TEXT, [last_revision(entry).text.encode()]))
        for path in kept_files(entry.pk):
            part = put_part(archive, f"{FILES}{path.name}", [path.read_bytes()])
            contents.append(part)
        for number, photo in enumerate(photos_of(entry.pk), start=1):
            name = f"{PHOTOS}{number:03d}.jpg"
            contents.append(put_part(archive, name, [photo_path(photo, is_small=False).read_bytes()]))
            said.append(
                PhotoSaid(
                    name=name,
                    subject=photo.subject,
                    caption=photo.caption,
                    made_at=photo.made_at,
                    made_by=photo.made_by,
                )
            )
        parcel = Parcel(
            kind=PARCEL.kind,
            format=PARCEL.format,
            program_version=__version__,
            photos=tuple(said),
            contents=tuple(contents),
        )
        put_manifest(archive, parcel)


def take_parcel(stream: IO[bytes], *, who: str) -> JobEntry:
    """Return the job made of a parcel.

    Raises
    ------
    FileError
        Where it is damaged, of another program, or holds what is not taken.
    JobError
        Where its text is no job file.
    """
    try:
        with zipfile.ZipFile(stream) as archive:
            parcel: Parcel = checked_manifest(archive, most_bytes=PARCEL_BYTES, form=PARCEL)
            parts = {part.name: part for part in parcel.contents}
            _check_parts(parcel, parts)
            content = {name: b"".join(part_chunks(archive, part)) for name, part in parts.items()}
    except (zipfile.BadZipFile, OSError, ValueError, NotImplementedError):
        raise FileError(gettext("this file is damaged, cut off, or no job with its files")) from None
    text = text_of(content.pop(TEXT), Path(TEXT), max_bytes=JOB_FILE_BYTES)
    for name, inner in content.items():
        if name.startswith(FILES):
            check_file(name.removeprefix(FILES), inner)
    pictures = {said.name: kept_picture(content[said.name]) for said in parcel.photos}
    return _made(text, content, parcel, pictures, who=who)


def _check_parts(parcel: Parcel, parts: dict[str, Content]) -> None:
    files = [name for name in parts if name.startswith(FILES)]
    photos = [name for name in parts if name.startswith(PHOTOS)]
    said = [photo.name for photo in parcel.photos]
    if TEXT not in parts or len(parts) != 1 + len(files) + len(photos) or sorted(said) != sorted(photos):
        raise FileError(gettext("its parts are not those of a job with its files"))
    if len(files) > FILES_OF_A_JOB or len(photos) > PHOTOS_OF_A_JOB:
        raise FileError(gettext("it has more files or photos than a job may have"))
    if not all(f"{said.subject}{said.caption}{said.made_by}".isprintable() for said in parcel.photos):
        raise FileError(gettext("what is said of a photo in it has signs that are no text"))
    if any(parts[name].size_bytes > PHOTO_BYTES for name in photos):
        raise FileError(gettext("a photo in it is too large"))


def _made(
    text: str, content: dict[str, bytes], parcel: Parcel, pictures: dict[str, Picture], *, who: str
) -> JobEntry:
    """Make the job: all of it or nothing."""
    entry = None
    try:
        with transaction.atomic():
            entry = new_job(text, Change(who=who, what=gettext("imported with files and photos")))
            for name, inner in content.items():
                if name.startswith(FILES):
                    write_file(entry.pk, name.removeprefix(FILES), inner)
            for said in parcel.photos:
                photo = Photo(
                    job=entry,
                    subject=said.subject,
                    caption=said.caption,
                    made_at=said.made_at if said.made_at.tzinfo else said.made_at.replace(tzinfo=dt.UTC),
                    made_by=said.made_by,
                )
                keep_picture(photo, pictures[said.name])
    except BaseException:
        if entry is not None:
            shutil.rmtree(folder_of(entry.pk), ignore_errors=True)
        raise
    return entry
