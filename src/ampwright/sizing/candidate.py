"""One variant of a job that might mend it."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterator
from typing import Literal

from ampwright.assessment.result import Assessment
from ampwright.job.design import DesignPart
from ampwright.job.module import ModuleChange
from ampwright.job.records import Job
from ampwright.parts.catalogue import Catalogue
from ampwright.records import record

__all__ = ["Candidate", "CandidateKind", "Family", "Proposer", "with_part"]

CandidateKind = Literal[
    "panel", "battery", "charger", "converter", "driving", "idling", "habit", "cable", "device", "setting"
]


@record
class Candidate:
    """A changed job with what it costs."""

    kind: CandidateKind
    """What is changed."""
    description: str
    """The change in words."""
    cost_eur: float
    """Price of the parts."""
    job: Job
    """The changed job."""
    caution: str = ""
    """A hazard that comes with it."""


Family = tuple[Candidate, ...]
"""Candidates of one idea, smallest first: the search stops at the first that mends the job."""
Proposer = Callable[[Job, Assessment, Catalogue], Iterator[Family]]
"""Proposes families of candidates for a job and what was found about it."""


def with_part(job: Job, placed: DesignPart, becomes: str) -> Job | None:
    """Return the job with a placed part exchanged; inside the module as an edit outside the certificate."""
    if not placed.is_inside_module:
        parts = tuple(
            dataclasses.replace(part, part=becomes) if part.id == placed.id else part for part in job.part
        )
        return dataclasses.replace(job, part=parts)
    if job.module is None:
        return None
    inside = placed.id.removeprefix(f"{job.module.id}.")
    kept = tuple(change for change in job.module.change if change.part != inside)
    change = ModuleChange(part=inside, becomes=becomes, reason="proposed as the smallest change")
    module = dataclasses.replace(job.module, change=(*kept, change))
    return dataclasses.replace(job, module=module)
