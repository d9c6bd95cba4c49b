"""A change that several jobs might adopt (another part, another revision of a module): tried on each, then adopted by each.

A trial is the quick answer of the changed text beside that of the last revision; nothing is kept of it.
"""

from __future__ import annotations

import hashlib
from dataclasses import replace
from pathlib import Path
from typing import Literal

from ampwright.documents.comparison.compare import comparison_of
from ampwright.documents.comparison.records import Comparison, Side
from ampwright.errors import AmpwrightError, FileError, JobError, Problem
from ampwright.job.substitute import with_other_part
from ampwright.job.text_edit import with_value
from ampwright.records import record
from ampwright.toml_positions import toml_tables
from ampwright.web.answers import task_of
from ampwright.web.app import the_desk, the_stock
from ampwright.web.edit import ChangedMeanwhileError
from ampwright.web.models import Revision
from ampwright.web.places import place_named, place_table, with_place
from ampwright.web.reading import check_shape, job_text
from ampwright.web.store import Change, change_job
from ampwright.web.usage import Use, jobs_naming, jobs_with_module

__all__ = ["Proposal", "Trial", "adopt", "jobs_of", "trial_of"]

JOB = Path("job.toml")


@record
class Proposal:
    """What would be put in place of what."""

    kind: Literal["part", "module", "place"]
    """Another part, another revision of a module, or another place."""
    old: str
    """Id of the part, or of the module; empty for a place."""
    new: str
    """Id of the other part, the other revision, or the place."""

    @property
    def said(self) -> str:
        """Return it in words, for the history."""
        if self.kind == "part":
            return f"part {self.new} put for {self.old}"
        if self.kind == "place":
            return f"place {self.new}"
        return f"module {self.old} brought to revision {self.new}"

    def changed(self, text: str) -> str:
        """Return the text of a job with the change."""
        if self.kind == "part":
            return with_other_part(text, self.old, self.new)
        if self.kind == "place":
            found = place_named(self.new)
            if found is None:
                raise FileError(f"there is no place '{self.new}' any more")
            return with_place(text, place_table(found.site))
        return with_value(text, ("module", "revision"), self.new)


@record
class Trial:
    """What a proposal does to one job, at the likely values."""

    number: int
    """Revision it was tried on."""
    comparison: Comparison | None
    """What changes; None where one of the two cannot be reckoned."""
    problems: tuple[Problem, ...]
    """Why it cannot be reckoned, or not be changed."""


def jobs_of(proposal: Proposal) -> tuple[Use, ...]:
    """Return the jobs a proposal concerns."""
    if proposal.kind == "part":
        return tuple(
            use for use in jobs_naming(proposal.old) if any("inside" not in place for place in use.places)
        )
    return tuple(use for use in jobs_with_module(proposal.old) if use.places != (f"revision {proposal.new}",))


def trial_of(proposal: Proposal, last: Revision) -> Trial:
    """Return what a proposal does to a job, held against its last revision; both are quick answers."""
    try:
        text = proposal.changed(last.text)
        jobs = [check_shape(each, job_id=last.job_id).job for each in (last.text, text)]
    except AmpwrightError as error:
        return Trial(number=last.number, comparison=None, problems=_problems(error))
    base = task_of(last)
    stamp = hashlib.sha256(f"{the_stock().stamp} {text}".encode()).hexdigest()[:16]
    tried = replace(base, job=job_text(text, job_id=last.job_id), stamp=stamp)
    sides = []
    for title, job, task in zip(("now", proposal.said), jobs, (base, tried), strict=True):
        quick = the_desk().quick(task)
        if quick.assessment is None:
            return Trial(number=last.number, comparison=None, problems=quick.problems)
        sides.append(Side(title=title, job=job, assessment=quick.assessment))
    return Trial(number=last.number, comparison=comparison_of(*sides), problems=())


def _problems(error: AmpwrightError) -> tuple[Problem, ...]:
    return error.problems if isinstance(error, JobError) else (Problem(path="", message=str(error)),)


def adopt(proposal: Proposal, job_id: int, number: int, *, who: str, why: str) -> Revision:
    """Return the revision of a job with the change.

    Raises
    ------
    ChangedMeanwhileError
        Where the job is no longer the revision the change was tried on.
    """

    def edit(last: Revision) -> str:
        if last.number != number:
            raise ChangedMeanwhileError(
                f"not adopted: the job was changed meanwhile (revision {last.number}); look at the change again"
            )
        text = proposal.changed(last.text)
        toml_tables(text, JOB)
        return text

    return change_job(job_id, edit, Change(who=who, what=proposal.said, why=why))
