"""Power modules' definitions: those that come with the program, and the one a job includes."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

from ampwright.errors import JobError, Problem
from ampwright.job.loaded import LoadedJob
from ampwright.job.module import ModuleDefinition
from ampwright.toml_positions import line_of, read_toml
from ampwright.validation import near_names, problems_from, validated

__all__ = ["load_definition", "shipped_definitions"]

DEFINITION_FILE_BYTES = 2_000_000
"""Largest definition read; as large as a job file may be (our own choice)."""


def shipped_definitions() -> tuple[str, ...]:
    """Return the ids of the module definitions that come with the program."""
    folder = files("ampwright.job") / "modules"
    return tuple(
        sorted(item.name.removesuffix(".toml") for item in folder.iterdir() if item.name.endswith(".toml"))
    )


def load_definition(loaded: LoadedJob) -> ModuleDefinition | None:
    """Return the definition of the module a job includes; None where it includes none."""
    use = loaded.job.module
    if use is None:
        return None
    if use.definition_file:
        path = loaded.file.parent / use.definition_file
    elif use.definition in shipped_definitions():
        path = Path(str(files("ampwright.job") / "modules" / f"{use.definition}.toml"))
    else:
        hint = near_names(use.definition, shipped_definitions())
        message = f"no module '{use.definition}' is shipped{hint}; or give its definition_file"
        line = line_of(loaded.text, ("module", "definition"))
        raise JobError(str(loaded.file), (Problem(path="module > definition", message=message, line=line),))
    return _definition_from(path)


def _definition_from(path: Path) -> ModuleDefinition:
    from pydantic import ValidationError  # noqa: PLC0415 - heavy, needed only where text is checked

    raw, text = read_toml(path, max_bytes=DEFINITION_FILE_BYTES)
    try:
        return validated(ModuleDefinition, raw)
    except ValidationError as error:
        problems = problems_from(error, raw, kind=ModuleDefinition, text=text)
        raise JobError(str(path), tuple(sorted(problems, key=lambda each: each.line or 0))) from None
