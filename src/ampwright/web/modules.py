"""Revisions of power modules: those shipped and those the workshop keeps; a kept revision is never changed."""

from __future__ import annotations

import re
from pathlib import Path

from ampwright.errors import JobError, Problem
from ampwright.job.definition_file import DEFINITION_FILE_BYTES, definition_from_text
from ampwright.job.definitions import shipped_definition, shipped_definitions
from ampwright.job.module import ModuleDefinition
from ampwright.job.workshop import MODULES
from ampwright.toml_positions import text_of
from ampwright.web.app import the_stock, workshop_folder
from ampwright.web.shelf import write_whole
from ampwright.web.usage import module_parts

__all__ = [
    "arriving_module",
    "definition_named",
    "file_of_module",
    "keep_module",
    "known_definitions",
    "known_revisions",
]

GOOD_ID = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
GOOD_REVISION = re.compile(r"[A-Za-z0-9]+(?:[.-][A-Za-z0-9]+)*")
MOST_LETTERS = 40


def known_definitions() -> tuple[ModuleDefinition, ...]:
    """Return every revision there is, shipped ones first."""
    return (*(shipped_definition(name) for name in shipped_definitions()), *the_stock().workshop.definitions)


def known_revisions() -> dict[str, tuple[str, ...]]:
    """Return the revisions of each module."""
    found: dict[str, tuple[str, ...]] = {}
    for each in known_definitions():
        found[each.id] = (*found.get(each.id, ()), each.revision)
    return found


def definition_named(name: str, revision: str) -> ModuleDefinition | None:
    """Return one revision."""
    return next((each for each in known_definitions() if (each.id, each.revision) == (name, revision)), None)


def file_of_module(definition: ModuleDefinition) -> Path:
    """Return the file of a kept revision; its names have been checked."""
    return workshop_folder() / MODULES / f"{definition.id}--{definition.revision}.toml"


def arriving_module(content: bytes, name: str) -> tuple[ModuleDefinition, str]:
    """Return the revision a file writes down, and its text; nothing is kept.

    Raises
    ------
    JobError
        With everything that is wrong in it.
    """
    path = Path(Path(name).name or "module.toml")
    text = text_of(content, path, max_bytes=DEFINITION_FILE_BYTES)
    definition = definition_from_text(text, path)
    problems = _problems(definition)
    if problems:
        raise JobError(path.name, problems)
    return definition, text


def _problems(definition: ModuleDefinition) -> tuple[Problem, ...]:
    found = []
    if not GOOD_ID.fullmatch(definition.id) or len(definition.id) > MOST_LETTERS:
        found.append(Problem(path="id", message="use lower case letters, digits and single dashes"))
    if not GOOD_REVISION.fullmatch(definition.revision) or len(definition.revision) > MOST_LETTERS:
        found.append(Problem(path="revision", message="use letters and digits, dots and dashes between them"))
    if definition.revision in known_revisions().get(definition.id, ()):
        message = f"revision {definition.revision} of '{definition.id}' is kept already and never changed; give the next one"
        found.append(Problem(path="revision", message=message))
    parts = the_stock().workshop.catalogue.parts
    found += [
        Problem(path=f"part '{each}'", message="no such part in the catalogue; keep it under Parts first")
        for each in sorted(module_parts(definition) - set(parts))
    ]
    return tuple(found)


def keep_module(definition: ModuleDefinition, text: str) -> None:
    """Keep a new revision."""
    write_whole(file_of_module(definition), text)
