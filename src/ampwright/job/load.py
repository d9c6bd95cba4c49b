"""Read a job file and what it names beside it: text -> Job, with every problem at once."""

from __future__ import annotations

import hashlib
from importlib.resources import files
from pathlib import Path
from typing import Any, TypeVar

from ampwright.errors import JobError, Problem
from ampwright.job.module import ModuleDefinition
from ampwright.job.records import Job
from ampwright.records import record
from ampwright.toml_positions import line_of, read_toml
from ampwright.validation import near_names, problems_from, validated

__all__ = ["JOB_FILE_BYTES", "LoadedJob", "job_schema", "load_definition", "load_job", "shipped_definitions"]

T = TypeVar("T")

JOB_FILE_BYTES = 2_000_000
"""Largest job file read; a job of 60 circuits has about 40 kB (our own choice)."""


@record
class LoadedJob:
    """A job with the text it was read from."""

    job: Job
    """The job."""
    file: Path
    """Where it was read."""
    text: str
    """Its text, for messages with lines."""
    raw: dict[str, Any]
    """Its tables before validation."""
    sha256: str
    """Hash of the text."""


def load_job(path: Path) -> LoadedJob:
    """Read a job file; raises JobError with all problems."""
    raw, text = read_toml(path, max_bytes=JOB_FILE_BYTES)
    job = _made(Job, raw, text, str(path))
    digest = hashlib.sha256(text.encode("utf-8")).hexdigest()
    return LoadedJob(job=job, file=path, text=text, raw=raw, sha256=digest)


def _made(kind: type[T], raw: dict[str, Any], text: str, file: str) -> T:
    from pydantic import ValidationError  # noqa: PLC0415 - heavy, needed only where text is checked

    try:
        return validated(kind, raw)
    except ValidationError as error:
        problems = problems_from(error, raw, kind=kind, text=text)
        raise JobError(file, tuple(sorted(problems, key=lambda each: each.line or 0))) from None


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
    raw, text = read_toml(path, max_bytes=JOB_FILE_BYTES)
    return _made(ModuleDefinition, raw, text, str(path))


def job_schema() -> dict[str, Any]:
    """Return the JSON Schema of a job file."""
    from pydantic import TypeAdapter  # noqa: PLC0415 - heavy

    schema = TypeAdapter(Job).json_schema()
    schema["$schema"] = "https://json-schema.org/draft/2020-12/schema"
    schema["title"] = "Ampwright job file, format 1"
    return schema
