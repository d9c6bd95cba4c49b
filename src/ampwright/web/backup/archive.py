"""Parts with a list of contents as one ZIP file: written part by part, and checked whole before anything of it is believed.

Knows bytes and names, no database. A file that is checked has no part missing, added, changed or hidden, and no name
that leads out of a folder.
"""

from __future__ import annotations

import hashlib
import json
import re
import zipfile
import zlib
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import IO, Any

from pydantic import TypeAdapter, ValidationError

from ampwright.errors import FileError
from ampwright.validation import validated
from ampwright.web.backup.records import BACKUP, Content, Form

__all__ = [
    "FILES",
    "LEFT_OUT",
    "TABLES",
    "checked_manifest",
    "files_below",
    "good_name",
    "part_chunks",
    "put_manifest",
    "put_part",
]

MANIFEST = "manifest.json"
TABLES, FILES = BACKUP.tops
MANIFEST_BYTES = 60_000_000
MOST_PARTS = 200_000
MOST_STEPS = 12
"""Largest list, most parts and deepest folder that are read: 10,000 jobs with all their files (our own choice)."""
LEFT_OUT = frozenset({"secret", "web.toml", "words", "backups", "ampwright.sqlite3"}) | {
    f"ampwright.sqlite3-{end}" for end in ("wal", "shm", "journal")
}
"""Key, settings of the machine, compiled texts, earlier backups, and the database file, whose rows go in instead."""
CHUNK_BYTES = 1 << 20
UNREADABLE = (
    zipfile.BadZipFile,
    zlib.error,
    EOFError,
    OSError,
    NotImplementedError,
    RuntimeError,
    ValueError,
)
"""What the reader of ZIP files raises where one is damaged."""
PACKED_ALREADY = (".jpg", ".jpeg", ".png", ".webp", ".pdf", ".zip", ".xlsx")
GOOD_STEP = re.compile(r"[^\x00-\x1f\x7f/\\:*?\"<>|]{1,200}")
"""What a folder or file may be called, on every usual system."""


def put_part(archive: zipfile.ZipFile, name: str, chunks: Iterable[bytes]) -> Content:
    """Write one part; returns its line in the list."""
    digest, size = hashlib.sha256(), 0
    is_packed = name.lower().endswith(PACKED_ALREADY)
    info = zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0))
    info.compress_type = zipfile.ZIP_STORED if is_packed else zipfile.ZIP_DEFLATED
    info.external_attr = 0o600 << 16
    with archive.open(info, "w", force_zip64=True) as stream:
        for chunk in chunks:
            stream.write(chunk)
            digest.update(chunk)
            size += len(chunk)
    return Content(name=name, size_bytes=size, sha256=digest.hexdigest())


def put_manifest(archive: zipfile.ZipFile, manifest: object) -> None:
    """Write the list of contents; nothing comes after it."""
    kind: Any = type(manifest)
    put_part(archive, MANIFEST, [TypeAdapter(kind).dump_json(manifest, indent=1)])


def checked_manifest(archive: zipfile.ZipFile, *, most_bytes: int, form: Form = BACKUP) -> Any:
    """Return the list of contents, every part read and compared with it: the form's record.

    Parameters
    ----------
    most_bytes : room for the unpacked parts; what is larger is refused before it is unpacked

    Raises
    ------
    FileError
        Where the file is damaged, of another program, of a newer one, or made to do harm.
    """
    infos = archive.infolist()
    if len(infos) > MOST_PARTS:
        raise FileError(f"{len(infos)} parts; there are at most {MOST_PARTS}")
    manifest = _manifest(archive, form)
    _check_names(manifest.contents, infos, form)
    _check_places(infos, archive.start_dir)
    total = sum(part.size_bytes for part in manifest.contents)
    if total > most_bytes:
        raise FileError(f"it unpacks to {total / 1e6:.0f} MB; there is room for {most_bytes / 1e6:.0f} MB")
    for part in manifest.contents:
        digest = hashlib.sha256()
        for chunk in part_chunks(archive, part):
            digest.update(chunk)
        if digest.hexdigest() != part.sha256:
            raise FileError(f"'{part.name}' in it is damaged; take another one")
    return manifest


def part_chunks(archive: zipfile.ZipFile, part: Content) -> Iterator[bytes]:
    """Yield one part in pieces, never more of it than the list says."""
    left = part.size_bytes
    try:
        with archive.open(part.name) as stream:
            while chunk := stream.read(CHUNK_BYTES):
                left -= len(chunk)
                if left < 0:
                    raise FileError(f"'{part.name}' in it is larger than its list says")
                yield chunk
    except UNREADABLE as error:
        raise FileError(f"'{part.name}' in it cannot be read ({error}); take another one") from None
    if left:
        raise FileError(f"'{part.name}' in it is shorter than its list says")


def good_name(name: str) -> bool:
    """Say whether a name leads to a place below a folder, on every usual system."""
    steps = name.split("/")
    is_plain = all(GOOD_STEP.fullmatch(step) and step[0] != "." and step[-1] not in ". " for step in steps)
    return is_plain and len(steps) <= MOST_STEPS


def _manifest(archive: zipfile.ZipFile, form: Form) -> Any:
    try:
        with archive.open(MANIFEST) as stream:
            raw: Any = json.loads(_at_most(stream, MANIFEST_BYTES))
    except (KeyError, RecursionError, *UNREADABLE):
        raise FileError(f"it is no {form.called}: it has no list of contents that can be read") from None
    if not isinstance(raw, dict) or raw.get("kind") != form.kind:
        raise FileError(f"it is no {form.called}: its list of contents is of another program")
    if isinstance(raw.get("format"), int) and raw["format"] > form.format:
        version = str(raw.get("program_version"))[:20]
        raise FileError(f"it was made by a newer program ({version}); bring this program up to date first")
    try:
        return validated(form.shape, raw)
    except ValidationError as error:
        first = ".".join(str(step) for step in error.errors()[0]["loc"])
        raise FileError(f"its list of contents is damaged at {first}; take another one") from None


def _at_most(stream: IO[bytes], most: int) -> bytes:
    content = stream.read(most + 1)
    if len(content) > most:
        raise ValueError("too long")
    return content


def _check_names(contents: tuple[Content, ...], infos: list[zipfile.ZipInfo], form: Form) -> None:
    sizes = {part.name: part.size_bytes for part in contents}
    names = [info.filename for info in infos]
    if len(set(names)) != len(names) or len({name.casefold() for name in names}) != len(names):
        raise FileError("a name stands in it twice; it was not made by this program")
    if sorted(names) != sorted([*sizes, MANIFEST]) or len(sizes) != len(contents):
        raise FileError("its parts are not those of its list; take another one")
    for info in infos:
        top = info.filename.removeprefix(FILES).partition("/")[0].casefold()
        is_known = info.filename.startswith(form.tops) or info.filename == MANIFEST
        if not good_name(info.filename) or not is_known or top in LEFT_OUT:
            name = ascii(info.filename[:80])
            raise FileError(
                f"{name} in it leads where nothing of it may lie; it was not made by this program"
            )
        if info.flag_bits & 1 or info.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
            raise FileError(f"'{info.filename}' in it is packed in a way this program does not use")
        if info.filename != MANIFEST and info.file_size != sizes[info.filename]:
            raise FileError(f"'{info.filename}' in it has another size than its list says")


def _check_places(infos: list[zipfile.ZipInfo], end: int) -> None:
    """Refuse parts that lie over one another: so a small file would unpack to any size."""
    placed = sorted((info.header_offset, info.compress_size, info.filename) for info in infos)
    for (start, size, name), (following, _, _) in zip(placed, [*placed[1:], (end, 0, "")], strict=True):
        if start + size > following:
            raise FileError(f"'{name}' in it lies over another part; it was not made by this program")


def files_below(folder: Path, left_out: frozenset[str]) -> Iterator[tuple[str, Path]]:
    """Yield name and path of every file below a folder, in order; links, hidden files and some names are left out."""
    for path in sorted(folder.iterdir(), key=lambda each: each.name):
        if path.name in left_out or path.name.startswith(".") or path.is_symlink():
            continue
        if path.is_dir():
            for name, below in files_below(path, frozenset()):
                yield f"{path.name}/{name}", below
        elif path.is_file():
            yield path.name, path
