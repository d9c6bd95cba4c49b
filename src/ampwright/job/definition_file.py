"""Reads one definition of a power module, with every problem at once."""

from __future__ import annotations

from pathlib import Path

from ampwright.errors import JobError
from ampwright.job.module import ModuleDefinition
from ampwright.toml_positions import decoded_text, toml_tables
from ampwright.validation import problems_from, validated

__all__ = ["DEFINITION_FILE_BYTES", "definition_from", "definition_from_text"]

DEFINITION_FILE_BYTES = 2_000_000
"""Largest definition read; as large as a job file may be (our own choice)."""


def definition_from(path: Path) -> ModuleDefinition:
    """Return the definition in a file."""
    return definition_from_text(decoded_text(path, max_bytes=DEFINITION_FILE_BYTES), path)


def definition_from_text(text: str, path: Path) -> ModuleDefinition:
    """Return the definition a text writes down; `path` is what complaints call it."""
    from pydantic import ValidationError  # noqa: PLC0415 - heavy, needed only where text is checked

    raw = toml_tables(text, path)
    try:
        return validated(ModuleDefinition, raw)
    except ValidationError as error:
        problems = problems_from(error, raw, kind=ModuleDefinition, text=text)
        raise JobError(str(path), tuple(sorted(problems, key=lambda each: each.line or 0))) from None
