"""A job's text becomes a job: the files it names may only be those in its own folder."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from django.conf import settings
from django.utils.translation import gettext

from ampwright.errors import JobError, Problem
from ampwright.job.load import JOB_FILE_BYTES, LoadedJob, job_from_text
from ampwright.web.app import the_stock, workshop_folder
from ampwright.web.reckoning import JobText, strange_files

__all__ = ["check_shape", "folder_of", "job_text", "today"]


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
    return job_from_text(text, path, workshop=the_stock().workshop)


def job_text(text: str, *, job_id: int) -> JobText:
    """Return a text as it is reckoned; files outside the job's own folder were refused when it was kept."""
    return JobText(text=text, path=folder_of(job_id) / "job.toml", workshop=workshop_folder())


def _check_files(text: str, path: Path) -> None:
    strange = strange_files(text, path)
    if strange:
        message = gettext("must be the plain name of a file kept with this job; add it under Files")
        raise JobError(path.name, tuple(Problem(path=name[:60], message=message) for name in strange))
