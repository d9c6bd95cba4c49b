"""Revisions go to the desk, full answers are kept; what is known of a job at this moment."""

from __future__ import annotations

from typing import Any, Literal

from django.db import connection

from ampwright import __version__
from ampwright.assessment.result import Assessment
from ampwright.documents.plain import plain_answer
from ampwright.errors import Problem
from ampwright.records import record
from ampwright.sizing.result import Answer
from ampwright.web.app import the_desk, the_stock
from ampwright.web.desk import Task
from ampwright.web.models import Result, Revision
from ampwright.web.reading import job_text, today

__all__ = ["Live", "ask_full", "live_of", "task_of"]

Stage = Literal["problems", "quick", "full"]


@record
class Live:
    """What is known of a revision at this moment."""

    number: int
    """Number of the revision."""
    stage: Stage
    """Cannot be built, quick answer, or full answer."""
    assessment: Assessment | None
    """At the likely values."""
    answer: Answer | None
    """The full answer."""
    problems: tuple[Problem, ...]
    """Why the job cannot be built."""
    failed: str
    """Why there is no full answer; empty = it comes."""
    done_count: int
    """Steps of the full answer that are done."""
    step_count: int
    """Steps in all; 0 = it has not begun."""

    @property
    def version(self) -> str:
        """What grows with every newer answer: revision, then stage."""
        return f"{self.number}.{('problems', 'quick', 'full').index(self.stage)}"


def task_of(revision: Revision, *, is_aside: bool = False) -> Task:
    """Return the task of reckoning a revision as of today; one aside does not take the place of the job's last one."""
    job_id = revision.job_id
    return Task(
        job_id=-revision.pk if is_aside else job_id,
        revision_id=revision.pk,
        number=revision.number,
        job=job_text(revision.text, job_id=job_id),
        on=today(),
        stamp=the_stock().stamp,
    )


def live_of(revision: Revision, *, is_aside: bool = False) -> Live:
    """Return what is known of a revision; its full answer is asked for where it is missing."""
    desk, task = the_desk(), task_of(revision, is_aside=is_aside)
    full = desk.full(task)
    if isinstance(full, Answer):
        return _live(revision, "full", assessment=full.assessment, answer=full)
    quick = desk.quick(task)
    if quick.assessment is None:
        return _live(revision, "problems", problems=quick.problems)
    if full is None:
        desk.want_full(task, lambda answer: _keep(revision, task, answer))
    done, total = desk.steps(task)
    return _live(
        revision, "quick", assessment=quick.assessment, failed=full or "", done_count=done, step_count=total
    )


def ask_full(revision: Revision) -> None:
    """Ask for the full answer of a job's last revision, without waiting for anything."""
    task = task_of(revision)
    the_desk().want_full(task, lambda answer: _keep(revision, task, answer))


def _live(revision: Revision, stage: Stage, **known: Any) -> Live:
    nothing = {
        "assessment": None,
        "answer": None,
        "problems": (),
        "failed": "",
        "done_count": 0,
        "step_count": 0,
    }
    return Live(number=revision.number, stage=stage, **{**nothing, **known})


def _keep(revision: Revision, task: Task, answer: Answer) -> None:
    """Keep a full answer; called by the thread that reckoned it. A restored backup may have put another text there."""
    try:
        if not Revision.objects.filter(pk=revision.pk, sha256=revision.sha256).exists():
            return
        Result.objects.update_or_create(
            revision=revision,
            program_version=__version__,
            on=task.on,
            workshop=task.stamp,
            defaults={
                "use_verdict": answer.use_verdict,
                "wiring_verdict": answer.wiring_verdict,
                "answer": plain_answer(answer),
            },
        )
    finally:
        connection.close()
