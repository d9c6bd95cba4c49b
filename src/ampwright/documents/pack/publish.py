"""Material -> every file of the pack, with a list of contents; and the pack -> a folder.

A folder holds one job's pack. What an earlier revision left there is replaced, a file nobody listed is never touched.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Sequence
from pathlib import Path

from ampwright.documents.pack.documents import DOCUMENTS
from ampwright.documents.pack.records import Material, Pack, PackFile
from ampwright.errors import FileError

__all__ = ["CONTENTS", "check_names", "pack_of", "write_pack"]

CONTENTS = "contents.json"
"""Name of the list of contents."""


def check_names(only: Sequence[str]) -> None:
    """Raise FileError, before anything is calculated, where a name is no document."""
    names = [document.name for document in DOCUMENTS]
    unknown = [name for name in only if name not in names]
    if unknown:
        raise FileError(f"there is no document {', '.join(unknown)}; choose from {', '.join(names)}")


def pack_of(material: Material, *, only: Sequence[str] = ()) -> Pack:
    """Return the documents of a job, or those named."""
    made: list[PackFile] = []
    left_out: list[tuple[str, str]] = []
    for document in DOCUMENTS:
        if only and document.name not in only:
            continue
        reason = document.left_out(material)
        if reason:
            left_out.append((document.name, reason))
        else:
            made.extend(document.make(material))
    made.append(_contents(material, made, left_out))
    return Pack(
        use_verdict=material.answer.use_verdict,
        wiring_verdict=material.answer.wiring_verdict,
        files=tuple(made),
        left_out=tuple(left_out),
    )


def _contents(material: Material, made: list[PackFile], left_out: list[tuple[str, str]]) -> PackFile:
    about, answer = material.about, material.answer
    listed = {
        "job": about.id,
        "revision": about.revision,
        "date": about.date.isoformat(),
        "job_hash": answer.job_hash,
        "program_version": answer.program_version,
        "language": material.words.language,
        "use_verdict": answer.use_verdict,
        "wiring_verdict": answer.wiring_verdict,
        "files": [{"name": file.name, "sha256": hashlib.sha256(file.content).hexdigest()} for file in made],
        "left_out": [{"document": name, "why": reason} for name, reason in left_out],
    }
    text = json.dumps(listed, indent=2, ensure_ascii=False) + "\n"
    return PackFile(name=CONTENTS, content=text.encode())


def write_pack(pack: Pack, folder: Path) -> None:
    """Write the pack into a folder, each file whole or not at all.

    Raises
    ------
    FileError
        Where the folder holds another job's pack, or cannot be written.
    """
    job = json.loads(pack.files[-1].content)["job"]
    before = _listed(folder, job)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for file in pack.files:
            fresh = folder / f".{file.name}.new"
            fresh.write_bytes(file.content)
            os.replace(fresh, folder / file.name)  # noqa: PTH105 - Path.replace says the same; this is atomic by contract
        for name in before - {file.name for file in pack.files}:
            (folder / name).unlink(missing_ok=True)
    except OSError as error:
        reason = error.strerror or "unknown reason"
        raise FileError(f"{folder}: cannot be written ({reason}); choose another folder") from error


def _listed(folder: Path, job: str) -> set[str]:
    """Return the files an earlier pack of the same job listed."""
    contents = folder / CONTENTS
    if not contents.is_file():
        return set()
    try:
        listed = json.loads(contents.read_text(encoding="utf-8"))
        other, names = listed["job"], {str(each["name"]) for each in listed["files"]}
    except (OSError, ValueError, KeyError, TypeError):
        raise FileError(
            f"{contents} is no list of contents of this program; choose an empty folder"
        ) from None
    if other != job:
        raise FileError(f"{folder} holds the documents of job {other}; choose another folder for {job}")
    return {name for name in names if Path(name).name == name}
