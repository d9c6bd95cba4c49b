"""What a workshop keeps for all its jobs: own parts and own revisions of power modules, each in a folder of files.

`parts/` holds TOML and CSV files of parts as a job's `parts_files` does, `modules/` one TOML file for each revision.
"""

from __future__ import annotations

import hashlib
from pathlib import Path

from ampwright.errors import FileError, JobError, Problem
from ampwright.job.definition_file import definition_from
from ampwright.job.module import ModuleDefinition
from ampwright.parts.catalogue import Catalogue, catalogue_with, shipped_catalogue
from ampwright.records import record

__all__ = ["MODULES", "PARTS", "Workshop", "load_workshop", "workshop_files", "workshop_stamp"]

PARTS, MODULES = "parts", "modules"
ENDINGS = {PARTS: (".toml", ".csv"), MODULES: (".toml",)}
MOST_FILES = 5_000
"""Most files of a kind that are read (our own choice)."""


@record
class Workshop:
    """What all jobs of a workshop may name."""

    catalogue: Catalogue
    """Shipped parts and the workshop's own."""
    own_ids: frozenset[str] = frozenset()
    """Ids of the workshop's own parts."""
    definitions: tuple[ModuleDefinition, ...] = ()
    """Its own revisions of power modules."""


def workshop_files(folder: Path, kind: str) -> tuple[Path, ...]:
    """Return the files of one kind that a workshop keeps, by name; none where there is no such folder.

    Raises
    ------
    FileError
        Where there are more than are read.
    """
    below = folder / kind
    if not below.is_dir():
        return ()
    found = sorted(
        path for path in below.iterdir() if path.suffix.lower() in ENDINGS[kind] and path.is_file()
    )
    if len(found) > MOST_FILES:
        raise FileError(
            f"{below}: {len(found)} files; at most {MOST_FILES} are read, put several parts into one"
        )
    return tuple(found)


def workshop_stamp(folder: Path) -> str:
    """Return a text that changes with every file; names, sizes and times tell, contents are not read. Empty = no file."""
    known = []
    for kind in (PARTS, MODULES):
        for path in workshop_files(folder, kind):
            about = path.stat()
            known.append(f"{kind}/{path.name} {about.st_size} {about.st_mtime_ns}")
    return hashlib.sha256("\n".join(known).encode()).hexdigest()[:16] if known else ""


def load_workshop(folder: Path) -> Workshop:
    """Return what a folder of a workshop holds.

    Raises
    ------
    FileError
        Where there is no such folder.
    JobError
        With every problem of its parts, or of its modules.
    """
    if not folder.is_dir():
        raise FileError(f"{folder}: there is no such folder; it holds '{PARTS}' and '{MODULES}'")
    shipped = shipped_catalogue()
    catalogue = catalogue_with(shipped, workshop_files(folder, PARTS))
    own = frozenset(name for name, part in catalogue.parts.items() if shipped.parts.get(name) is not part)
    return Workshop(catalogue=catalogue, own_ids=own, definitions=_definitions(folder))


def _definitions(folder: Path) -> tuple[ModuleDefinition, ...]:
    found: list[ModuleDefinition] = []
    problems: list[Problem] = []
    for path in workshop_files(folder, MODULES):
        try:
            definition = definition_from(path)
        except JobError as error:
            problems += [
                Problem(path=f"{path.name}: {each.path}", message=each.message, line=each.line)
                for each in error.problems
            ]
            continue
        if any((each.id, each.revision) == (definition.id, definition.revision) for each in found):
            message = f"revision {definition.revision} of '{definition.id}' stands in two files; keep one"
            problems.append(Problem(path=path.name, message=message))
        found.append(definition)
    if problems:
        raise JobError(str(folder / MODULES), tuple(problems))
    return tuple(found)
