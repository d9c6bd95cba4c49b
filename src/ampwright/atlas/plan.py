"""What is typed for an atlas, turned into its chunks."""

from __future__ import annotations

import difflib
import hashlib
from pathlib import Path

from ampwright.atlas.records import Chunk, JobText, chunks_of
from ampwright.climate.sources import shipped_sites
from ampwright.errors import FileError
from ampwright.job.load import load_job
from ampwright.job.loaded import LoadedJob
from ampwright.job.workshop import MODULES, PARTS, load_workshop, workshop_files

__all__ = ["months_of", "planned_chunks", "sites_of"]

ALL = "all"
CASES_IN_CHUNK = 12
"""So many checks are lost at most when a worker dies: some ten seconds of work."""


def planned_chunks(
    jobs: tuple[Path, ...], *, sites: str, months: str, workshop: Path | None = None
) -> tuple[Chunk, ...]:
    """Return the chunks of an atlas.

    Raises
    ------
    JobError
        Where a job file cannot be used at all.
    FileError
        Where places or months are typed wrongly, or two jobs have one name.
    """
    names = [path.name for path in jobs]
    if len(set(names)) < len(names):
        raise FileError("two job files have the same name; the rows could not be told apart: rename one")
    own = None if workshop is None else load_workshop(workshop)
    texts = tuple(_text_of(load_job(path, workshop=own), workshop) for path in jobs)
    return chunks_of(texts, sites=sites_of(sites), months=months_of(months), size_count=CASES_IN_CHUNK)


def _text_of(loaded: LoadedJob, workshop: Path | None) -> JobText:
    folder = loaded.file.resolve().parent
    beside = [folder / name for name in loaded.job.parts_files]
    if workshop is not None:
        beside += [*workshop_files(workshop, PARTS), *workshop_files(workshop, MODULES)]
    digest = hashlib.sha256()
    for path in beside:
        digest.update(path.name.encode() + b"\0" + path.read_bytes() + b"\0")
    return JobText(
        name=loaded.file.name,
        folder=str(folder),
        text=loaded.text,
        workshop="" if workshop is None else str(workshop.resolve()),
        beside_sha256=digest.hexdigest(),
    )


def sites_of(text: str) -> tuple[str, ...]:
    """Return the ids of places as typed, each once.

    Examples
    --------
    >>> sites_of("denver-us, denver-us")
    ('denver-us',)
    """
    known = shipped_sites()
    if text.strip() == ALL:
        return tuple(known)
    typed = tuple(dict.fromkeys(word.strip() for word in text.split(",") if word.strip()))
    for word in typed:
        if word not in known:
            near = difflib.get_close_matches(word, known, n=1)
            hint = f"did you mean '{near[0]}'?" if near else "ampwright sites lists them"
            raise FileError(f"--sites: no place '{word}'; {hint}")
    if not typed:
        raise FileError("--sites: give ids with commas between, or all")
    return typed


def months_of(text: str) -> tuple[int, ...]:
    """Return the months as typed, in order, each once.

    Examples
    --------
    >>> months_of("11-2, 7"), len(months_of("all"))
    ((11, 12, 1, 2, 7), 12)
    """
    if text.strip() == ALL:
        return tuple(range(1, 13))
    found: list[int] = []
    for word in (word.strip() for word in text.split(",") if word.strip()):
        first, dash, last = word.partition("-")
        ends = [first, last] if dash else [first, first]
        if not all(end.strip().isdecimal() and 1 <= int(end) <= 12 for end in ends):
            raise FileError(f"--months: '{word}' is no month; write 1 to 12, as 1,7 or 5-9, or all")
        start, end = int(ends[0]), int(ends[1])
        found += [(start - 1 + step) % 12 + 1 for step in range((end - start) % 12 + 1)]
    if not found:
        raise FileError("--months: write 1 to 12, as 1,7 or 5-9, or all")
    return tuple(dict.fromkeys(found))
