"""What an atlas is made of: cases to check, in chunks, and one row for each."""

from __future__ import annotations

import dataclasses
import hashlib
import json

from ampwright import __version__
from ampwright.records import record

__all__ = ["Case", "Chunk", "JobText", "Row", "chunks_of"]


@record
class JobText:
    """A job as it goes to a worker."""

    name: str
    """File name without folder."""
    folder: str
    """Where files that the job names lie, on every worker."""
    text: str
    """The job file."""
    workshop: str = ""
    """Folder with the workshop's own parts and modules, on every worker; empty = none."""
    beside_sha256: str = ""
    """Hash of the files beside it that decide the answer: own parts, the workshop's folder."""


@record
class Case:
    """One check: a place and a month."""

    site: str
    """Id of a shipped place."""
    month: int
    """Month, 1 to 12."""


@record
class Chunk:
    """Cases that are done together and kept in one file."""

    number: int
    """Position in the atlas, from 0."""
    job: JobText
    """The job."""
    cases: tuple[Case, ...]
    """What to check."""

    @property
    def sha256(self) -> str:
        """Hash of everything that decides the rows, the program's version with it."""
        said = {
            "version": __version__,
            "job": dataclasses.astuple(self.job),
            "cases": [(case.site, case.month) for case in self.cases],
        }
        return hashlib.sha256(json.dumps(said).encode()).hexdigest()


@record
class Row:
    """What one check found."""

    job: str
    """File name of the job."""
    site: str
    """Id of the place."""
    site_name: str
    """Name of the place."""
    country: str
    """ISO 3166-1 alpha-3 code."""
    latitude_deg: float
    """Degrees north."""
    longitude_deg: float
    """Degrees east."""
    month: int
    """Month, 1 to 12."""
    problem: str = ""
    """Why there is no answer; empty = there is one."""
    use_verdict: str = ""
    """First verdict, at the likely values and over the runs."""
    wiring_verdict: str = ""
    """Second verdict, at the likely values."""
    run_count: int = 0
    """Runs of weather and doubt."""
    held_count: int = 0
    """Runs in which every essential load was served."""
    held_low_frac: float = 0.0
    """Lower end of the interval of that share, 95 %."""
    held_high_frac: float = 0.0
    """Upper end."""
    lowest_soc_frac: float = 0.0
    """Lowest state of charge at the likely values."""
    low_soc_frac: float = 0.0
    """Lowest state of charge that 1 run in 20 stays below."""
    missing_wh: float = 0.0
    """Energy not served to essential loads, mean of the runs."""
    worst: str = ""
    """What runs out first in the worst run."""


ROW_FIELDS = tuple(field.name for field in dataclasses.fields(Row))
"""Columns of the file, in order."""


def chunks_of(
    jobs: tuple[JobText, ...], *, sites: tuple[str, ...], months: tuple[int, ...], size_count: int
) -> tuple[Chunk, ...]:
    """Return the chunks of an atlas: every job at every place in every month, one job a chunk."""
    found: list[Chunk] = []
    for job in jobs:
        cases = [Case(site=site, month=month) for site in sites for month in months]
        for start in range(0, len(cases), size_count):
            found.append(Chunk(number=len(found), job=job, cases=tuple(cases[start : start + size_count])))
    return tuple(found)
