"""A job's text becomes a job: the files it names may only be those in its own folder."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from django.conf import settings
from django.utils.translation import gettext

from ampwright import api
from ampwright.errors import JobError, Problem
from ampwright.job.cable_edit import relative_files
from ampwright.job.load import JOB_FILE_BYTES, LoadedJob, job_from_text
from ampwright.toml_positions import toml_tables

__all__ = ["check_shape", "folder_of", "loaded_of", "today"]


def folder_of(job_id: int) -> Path:
    """Return the folder with the files of one job."""
    return Path(settings.AMPWRIGHT_PLACE.data) / "jobs" / str(job_id)


def today() -> dt.date:
    """Return the day by the clock of this machine; overrides are held against it."""
    return dt.datetime.now().astimezone().date()


def check_shape(text: str, *, job_id: int) -> LoadedJob:
    """Return the job a text writes down, names not yet looked up.

    Raises
    ------
    JobError
        With every problem of the text, files outside the job's own folder among them.
    """
    path = folder_of(job_id) / "job.toml"
    if len(text.encode()) > JOB_FILE_BYTES:
        raise JobError(
            path.name, (Problem(path="", message=f"more than {JOB_FILE_BYTES / 1e6:g} MB of text"),)
        )
    _check_files(text, path)
    return job_from_text(text, path)


def loaded_of(text: str, *, job_id: int) -> api.Loaded:
    """Return a job with everything it names; errors as `check_shape`, and names that lead nowhere."""
    path = folder_of(job_id) / "job.toml"
    _check_files(text, path)
    return api.load_text(text, path)


def _check_files(text: str, path: Path) -> None:
    strange = [name for name in relative_files(toml_tables(text, path)) if _is_elsewhere(name)]
    if strange:
        message = gettext("must be the plain name of a file kept with this job; add it under Files")
        raise JobError(path.name, tuple(Problem(path=str(name)[:60], message=message) for name in strange))


def _is_elsewhere(name: object) -> bool:
    if not isinstance(name, str) or name == "..":
        return True
    return Path(name).name != name or "\\" in name or "\0" in name
