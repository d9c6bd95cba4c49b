"""What the worker reckons: functions of texts and answers that know neither Django nor the database.

They run in another process, so that compiled code and everything the documents need leave with it.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping
from functools import lru_cache
from pathlib import Path

from ampwright import api
from ampwright.assessment.assess import assess
from ampwright.assessment.result import Assessment
from ampwright.climate.series import SunSeries
from ampwright.documents.pack.publish import pack_of
from ampwright.documents.pack.records import Material, Pack
from ampwright.documents.words.words import load_words
from ampwright.errors import AmpwrightError, JobError, Problem
from ampwright.fieldwork.log_file import log_of_text
from ampwright.fieldwork.log_study import LogStudy
from ampwright.job.cable_edit import relative_files
from ampwright.job.intake.story import Story
from ampwright.job.workshop import Workshop, load_workshop, workshop_stamp
from ampwright.records import record
from ampwright.sizing.result import Answer
from ampwright.toml_positions import toml_tables

__all__ = [
    "JobText",
    "Quick",
    "first_job_of",
    "full_answer",
    "log_study_of_job",
    "pack_of_job",
    "quick_answer",
    "strange_files",
    "sun_of",
    "warm_up",
]


@record
class JobText:
    """The text of a job and where its files are."""

    text: str
    """The job file as written."""
    path: Path
    """Where the job file would stand; files it names stand beside it."""
    workshop: Path | None = None
    """Folder of what the workshop keeps for all its jobs; None = only what is shipped."""


@record
class Quick:
    """What is known of a revision at once."""

    assessment: Assessment | None
    """At the likely values, one typical day; None where the job cannot be built."""
    problems: tuple[Problem, ...] = ()
    """Why it cannot be built."""


def strange_files(text: str, path: Path) -> tuple[str, ...]:
    """Return the names of files that a text names and that are no plain names of files beside it."""
    return tuple(str(name) for name in relative_files(toml_tables(text, path)) if _is_elsewhere(name))


def _is_elsewhere(name: object) -> bool:
    if not isinstance(name, str) or name == "..":
        return True
    return Path(name).name != name or "\\" in name or "\0" in name


def _loaded(job: JobText) -> api.Loaded:
    """Return a job with everything it names; what was kept in any way still reads no file elsewhere."""
    strange = strange_files(job.text, job.path)
    if strange:
        problems = tuple(Problem(path=name[:60], message="is no file of this job") for name in strange)
        raise JobError(job.path.name, problems)
    return api.load_text(job.text, job.path, workshop=_workshop(job.workshop))


def _workshop(folder: Path | None) -> Workshop | None:
    if folder is None or not folder.is_dir():
        return None
    return _kept_in(folder, workshop_stamp(folder))


@lru_cache(maxsize=2)
def _kept_in(folder: Path, stamp: str) -> Workshop:  # noqa: ARG001 - what the memo tells apart
    """Return what a folder holds (a memo: every change of a file changes the stamp)."""
    return load_workshop(folder)


def quick_answer(job: JobText, on: dt.date) -> Quick:
    """Return what the rules say at the likely values, overrides as of a day."""
    try:
        loaded = _loaded(job)
        return Quick(assessment=assess(loaded.design, loaded.sun, on=on))
    except JobError as error:
        return Quick(assessment=None, problems=error.problems)
    except AmpwrightError as error:
        return Quick(assessment=None, problems=(Problem(path="", message=str(error)),))


def full_answer(job: JobText, on: dt.date, *, progress: Callable[[int, int], None]) -> Answer:
    """Return the full answer, overrides as of a day; what `progress` raises ends it."""
    return api.answer(_loaded(job), on=on, progress=progress)


def log_study_of_job(
    job: JobText,
    content: bytes,
    file: str,
    names: Mapping[str, str],
    discharge_is_positive: bool,  # noqa: FBT001 - sent to another process
) -> LogStudy:
    """Return a log of the finished vehicle against a job."""
    loaded = _loaded(job)
    log = log_of_text(
        content,
        file,
        names=names,
        discharge_is_positive=discharge_is_positive,
        utc_offset_h=api.clock_offset_h(loaded),
    )
    return api.study_log(loaded, log)


def first_job_of(story: Story, on: dt.date) -> str:
    """Return the text of a first job made of a customer's story."""
    return api.first_job(story, on=on)


def pack_of_job(job: JobText, answer: Answer, only: tuple[str, ...]) -> Pack:
    """Return the pack of some documents, or of all, in the job's language; the list of contents is its last file."""
    loaded = _loaded(job)
    words = load_words(answer.assessment.design.job.job.language)
    return pack_of(Material(answer=answer, catalogue=loaded.catalogue, words=words), only=only)


def sun_of(job: JobText) -> SunSeries:
    """Return the sun and air of a job's place and season."""
    return _loaded(job).sun


def warm_up(text: str) -> None:
    """Reckon a job once, so that the calculation is compiled before anybody asks."""
    loaded = api.load_text(text, Path("job.toml"))
    assess(loaded.design, loaded.sun)
