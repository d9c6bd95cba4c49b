"""Read a job file and what it names beside it: text -> Job, with every problem at once."""

from __future__ import annotations

import hashlib
from pathlib import Path
from typing import Any

from ampwright.errors import JobError, Problem
from ampwright.job.definitions import load_definition, shipped_definitions
from ampwright.job.loaded import LoadedJob
from ampwright.job.own_tables import load_own_tables
from ampwright.job.records import Job
from ampwright.job.workshop import Workshop
from ampwright.toml_positions import read_toml, toml_tables
from ampwright.validation import problems_from, validated

__all__ = [
    "JOB_FILE_BYTES",
    "LoadedJob",
    "job_from_text",
    "load_definition",
    "load_job",
    "shipped_definitions",
]

JOB_FILE_BYTES = 2_000_000
"""Largest job file read; a job of 60 circuits has about 40 kB (our own choice)."""
NOT_LOOKED_UP = "mend these, then check again: names are looked up once the file is well formed"


def load_job(path: Path, *, workshop: Workshop | None = None) -> LoadedJob:
    """Read a job file; raises JobError with all problems, names that lead nowhere among them."""
    raw, text = read_toml(path, max_bytes=JOB_FILE_BYTES)
    return _job(raw, text, path, workshop)


def job_from_text(text: str, path: Path, *, workshop: Workshop | None = None) -> LoadedJob:
    """Read a job from its text; the files it names lie beside `path`, which need not exist."""
    return _job(toml_tables(text, path), text, path, workshop)


def _job(raw: dict[str, Any], text: str, path: Path, workshop: Workshop | None) -> LoadedJob:
    from pydantic import ValidationError  # noqa: PLC0415 - heavy, needed only where text is checked

    try:
        job = validated(Job, raw)
    except ValidationError as error:
        problems = problems_from(error, raw, kind=Job, text=text)
        raise JobError(str(path), _with_dangling(problems, raw, text, path, workshop)) from None
    digest = hashlib.sha256(text.encode("utf-8")).hexdigest()
    tables = load_own_tables(job.tables, path.parent)
    return LoadedJob(job=job, file=path, text=text, raw=raw, sha256=digest, tables=tables, workshop=workshop)


def _with_dangling(
    problems: list[Problem], raw: dict[str, Any], text: str, path: Path, workshop: Workshop | None
) -> tuple[Problem, ...]:
    """Add the names that lead nowhere, or say that they were not looked up."""
    from ampwright.job.dangling import dangling_problems  # noqa: PLC0415 - needed only in a wrong job

    dangling = dangling_problems(raw, text, path, workshop)
    found = sorted((*problems, *(dangling or ())), key=lambda each: each.line or 0)
    if dangling is None:
        found.append(Problem(path="", message=NOT_LOOKED_UP))
    return tuple(found)
