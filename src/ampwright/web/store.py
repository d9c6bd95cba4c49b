"""Jobs are made and changed here, each change one short transaction; nothing is computed in it."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from importlib.resources import files

from django.db import transaction
from django.db.models import F
from django.utils import timezone
from django.utils.translation import gettext

from ampwright import __version__
from ampwright.job.loaded import LoadedJob
from ampwright.records import record
from ampwright.web.models import Event, JobEntry, Revision
from ampwright.web.reading import check_shape, folder_of

__all__ = [
    "Change",
    "change_job",
    "copy_job",
    "last_revision",
    "log",
    "new_job",
    "redo_target",
    "restore",
    "starting_texts",
    "undo_target",
]

Kind = Revision.Kind


@record
class Change:
    """What one change of a job is."""

    who: str
    """Name of the person."""
    what: str
    """What was changed."""
    why: str = ""
    """The reason, where one was given."""
    kind: str = "edit"
    """Edit, undo, redo or restore."""
    stands_at: int | None = None
    """Number of the revision gone back to; None = a new text."""


def starting_texts() -> dict[str, tuple[str, str]]:
    """Return title and text of the jobs one may begin with, by name."""
    texts = {"start": (files("ampwright.job") / "starting_job.toml").read_text(encoding="utf-8")}
    for item in sorted((files("ampwright") / "examples").iterdir(), key=lambda each: each.name):
        if item.name.endswith(".toml"):
            texts[item.name.removesuffix(".toml")] = item.read_text(encoding="utf-8")
    return {name: (_title(text), text) for name, text in texts.items()}


def _title(text: str) -> str:
    return next(line for line in text.splitlines() if line.startswith("title")).partition('"')[2].rstrip('"')


def new_job(text: str, change: Change) -> JobEntry:
    """Return a new job with its first revision; raises JobError where the text is no job."""
    with transaction.atomic():
        entry = JobEntry.objects.create(code="", title="", changed_at=timezone.now())
        _add(entry, check_shape(text, job_id=entry.pk), change)
    folder_of(entry.pk).mkdir(parents=True, exist_ok=True)
    return entry


def copy_job(entry: JobEntry, who: str) -> JobEntry:
    """Return a new job with the last text and the files of another."""
    last = last_revision(entry)
    source, change = (
        folder_of(entry.pk),
        Change(who=who, what=gettext("copied from {title}").format(title=entry.title)),
    )
    with transaction.atomic():
        made = JobEntry.objects.create(code="", title="", changed_at=timezone.now())
        if source.is_dir():
            shutil.copytree(source, folder_of(made.pk), dirs_exist_ok=True)
        _add(made, check_shape(last.text, job_id=made.pk), change)
    return made


def change_job(
    job_id: int, edit: Callable[[Revision], str], change: Change, *, is_file: bool = False
) -> Revision:
    """Return the revision that an edit of the last one makes; the same text makes none, unless a file changed.

    The last revision is read, changed and followed in one transaction: nothing comes in between.
    """
    with transaction.atomic():
        entry = JobEntry.objects.select_for_update().get(pk=job_id)
        last = last_revision(entry)
        text = edit(last)
        if text == last.text and not is_file:
            return last
        return _add(entry, check_shape(text, job_id=job_id), change, last=last)


def restore(job_id: int, number: int, change: Change) -> Revision:
    """Return a new revision with the text of an earlier one."""
    old = Revision.objects.get(job_id=job_id, number=number)
    return change_job(job_id, lambda _: old.text, change)


def last_revision(entry: JobEntry) -> Revision:
    """Return the last revision of a job."""
    return Revision.objects.get(job=entry, number=entry.number)


def undo_target(last: Revision) -> int | None:
    """Return the number of the revision that undoing leads to; None where nothing is to be undone."""
    found: int | None = Revision.objects.get(job_id=last.job_id, number=last.stands_at).before
    return found


def redo_target(last: Revision) -> int | None:
    """Return the number of the revision that redoing leads to; only after undoing there is one."""
    if last.kind not in (Kind.UNDO, Kind.REDO):
        return None
    undone = Revision.objects.filter(job_id=last.job_id, before=last.stands_at, stands_at=F("number"))
    return undone.order_by("-number").values_list("number", flat=True).first()


def _add(entry: JobEntry, loaded: LoadedJob, change: Change, *, last: Revision | None = None) -> Revision:
    about = loaded.job.job
    number = entry.number + 1
    revision = Revision(
        job=entry,
        number=number,
        text=loaded.text,
        sha256=loaded.sha256,
        kind=change.kind,
        what=change.what[:300],
        why=change.why[:500],
        made_by=change.who,
        program_version=__version__,
        stands_at=change.stands_at or number,
        before=last.stands_at if last is not None else None,
    )
    revision.save()
    entry.number, entry.changed_at = number, timezone.now()
    entry.code, entry.title = about.id[:120], about.title[:300] or about.id[:120]
    entry.customer, entry.vehicle = about.customer[:300], loaded.job.vehicle.description[:300]
    entry.save()
    return revision


def log(who: str, what: str, *, address: str, detail: str = "") -> None:
    """Add a line to the log of who did what."""
    Event.objects.create(who=who[:60], what=what, address=address, detail=detail[:300])
