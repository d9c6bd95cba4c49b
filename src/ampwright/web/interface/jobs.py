"""Jobs, their text and their revisions, for other programs."""

from __future__ import annotations

from django.db.models import Q

from ampwright import __version__
from ampwright.errors import JobError
from ampwright.job.load import JOB_FILE_BYTES
from ampwright.web.interface.operation import Call, Reply
from ampwright.web.interface.records import (
    Hello,
    HistoryPage,
    JobLine,
    JobPage,
    JobText,
    RevisionLine,
    RevisionText,
    Start,
    StartList,
    StateName,
)
from ampwright.web.interface.trouble import RefusalError, refused_job
from ampwright.web.models import JobEntry, Revision, State
from ampwright.web.store import Change, change_job, last_revision, log, new_job, starting_texts

__all__ = [
    "add_job",
    "archive",
    "clean",
    "entry_of",
    "hello",
    "history",
    "job_list",
    "line_of",
    "one_job",
    "one_revision",
    "put_archived",
    "put_state",
    "put_text",
    "read_text",
    "starts",
]


def hello(call: Call) -> Reply:
    """Say who asks."""
    return Reply(
        value=Hello(program_version=__version__, account=call.account.name, role=str(call.account.role))
    )


def starts(call: Call) -> Reply:  # noqa: ARG001 - every operation is called with it
    """Give the jobs one may begin with."""
    texts = starting_texts().items()
    return Reply(
        value=StartList(
            starts=tuple(Start(name=name, title=title, text=text) for name, (title, text) in texts)
        )
    )


def job_list(call: Call) -> Reply:
    """List jobs, newest first."""
    asked = call.query
    entries = JobEntry.objects.filter(is_archived=asked.is_archived, pk__lt=asked.below).order_by("-pk")
    for word in clean(asked.word, "word").split():
        entries = entries.filter(
            Q(title__icontains=word)
            | Q(code__icontains=word)
            | Q(customer__icontains=word)
            | Q(vehicle__icontains=word)
        )
    if asked.state is not None:
        entries = entries.filter(state=asked.state)
    found = [_job_line(entry) for entry in entries[: asked.limit]]
    more = found[-1].id if len(found) == asked.limit else None
    return Reply(value=JobPage(jobs=tuple(found), next_below=more))


def add_job(call: Call) -> Reply:
    """Make a job of a text."""
    change = Change(who=call.account.name, what="made by a program", why=clean(call.body.why, "why"))
    try:
        entry = new_job(_job_text(call.body.text), change)
    except JobError as error:
        raise refused_job(error) from None
    return Reply(
        value=_job_line(entry), status=201, revision=entry.number, location=f"/api/v1/jobs/{entry.pk}"
    )


def one_job(call: Call) -> Reply:
    """Give one job's line."""
    entry = entry_of(call)
    return Reply(value=_job_line(entry), revision=entry.number)


def put_state(call: Call) -> Reply:
    """Say how far a job has come."""
    entry, state = entry_of(call), call.body.state
    if state != entry.state:
        JobEntry.objects.filter(pk=entry.pk).update(state=state)
        detail = f"{entry.title}: {entry.state} to {state}, by a program"
        log(call.account.name, "state", address=call.address, detail=detail)
    return one_job(call)


def archive(call: Call) -> Reply:
    """Put a job into the archive: nothing of it is lost, and it can be fetched back."""
    return _archived(call, is_archived=True)


def put_archived(call: Call) -> Reply:
    """Put a job into the archive, or fetch it back."""
    return _archived(call, is_archived=call.body.is_archived)


def _archived(call: Call, *, is_archived: bool) -> Reply:
    entry = entry_of(call)
    if is_archived != entry.is_archived:
        JobEntry.objects.filter(pk=entry.pk).update(is_archived=is_archived)
        what = "archived" if is_archived else "fetched from archive"
        log(call.account.name, what, address=call.address, detail=f"{entry.title}, by a program")
    return one_job(call)


def read_text(call: Call) -> Reply:
    """Give the text of the last revision."""
    return _text_reply(last_revision(entry_of(call)))


def put_text(call: Call) -> Reply:
    """Take a new text, if the job is still as the writer knew it."""
    entry, before, text = entry_of(call), _before(call), _job_text(call.body.text)

    def edit(last: Revision) -> str:
        if last.number != before:
            raise _moved(last, before)
        return text

    change = Change(who=call.account.name, what="text changed by a program", why=clean(call.body.why, "why"))
    try:
        return _text_reply(change_job(entry.pk, edit, change))
    except JobError as error:
        raise refused_job(error) from None


def history(call: Call) -> Reply:
    """List a job's revisions, newest first."""
    below, limit = call.query.below, call.query.limit
    found = Revision.objects.filter(job=entry_of(call), number__lt=below).defer("text").order_by("-number")
    lines = tuple(line_of(revision) for revision in found[:limit])
    more = lines[-1].number if len(lines) == limit and lines[-1].number > 1 else None
    return Reply(value=HistoryPage(revisions=lines, next_below=more))


def one_revision(call: Call) -> Reply:
    """Give one revision with its text."""
    found = Revision.objects.filter(job=entry_of(call), number=call.path["number"]).first()
    if found is None:
        raise RefusalError(404, "the job has no such revision", "look at the list of its revisions")
    return Reply(value=RevisionText(line=line_of(found), text=found.text))


def entry_of(call: Call) -> JobEntry:
    """Return the job an address names."""
    found = JobEntry.objects.filter(pk=call.path["job"]).first()
    if found is None:
        raise RefusalError(404, "there is no such job", "look at the list of jobs for its number")
    return found


def line_of(revision: Revision) -> RevisionLine:
    """Return a revision as a list has it."""
    return RevisionLine(
        number=revision.number,
        kind=revision.kind,
        what=revision.what,
        why=revision.why,
        made_at=revision.made_at,
        made_by=revision.made_by,
        program_version=revision.program_version,
        sha256=revision.sha256,
    )


def clean(text: str, name: str) -> str:
    """Return a text that every database and file takes: no lone halves of signs, no sign zero."""
    if "\0" in text or (not text.isascii() and any("\ud800" <= sign <= "\udfff" for sign in text)):
        raise RefusalError(
            422,
            f"{name} has signs that are no text",
            "leave out U+0000 and lone surrogates (U+D800 to U+DFFF)",
        )
    return text


def _job_text(text: str) -> str:
    whole = clean(text, "text").replace("\r\n", "\n")
    if len(whole.encode()) > JOB_FILE_BYTES:
        mend = f"a job file has at most {JOB_FILE_BYTES / 1e6:g} MB"
        raise RefusalError(422, "the text is too long for a job file", mend)
    return whole


def _job_line(entry: JobEntry) -> JobLine:
    return JobLine(
        id=entry.pk,
        code=entry.code,
        title=entry.title,
        customer=entry.customer,
        vehicle=entry.vehicle,
        state=_state(entry),
        is_archived=entry.is_archived,
        revision=entry.number,
        changed_at=entry.changed_at,
    )


def _state(entry: JobEntry) -> StateName:
    return State(entry.state).value  # type: ignore[return-value] # the same words, as a test compares


def _text_reply(revision: Revision) -> Reply:
    value = JobText(job=revision.job_id, revision=revision.number, sha256=revision.sha256, text=revision.text)
    return Reply(value=value, revision=revision.number)


def _before(call: Call) -> int:
    """Return the revision a change was made from, as the body or the header says it."""
    said, header = call.body.before, call.if_match.strip()
    digits = header.removeprefix('"').removesuffix('"')
    if header and not (digits.isascii() and digits.isdigit() and len(digits) < 11):
        raise RefusalError(
            422, "the header If-Match is no revision", 'give the ETag of the text that was read, e.g. "7"'
        )
    known = {number for number in (said, int(digits) if header else None) if number is not None}
    if not known:
        mend = "read the text first, and send its revision as `before` or its ETag as the header If-Match"
        raise RefusalError(428, "neither `before` nor If-Match says what the text was made from", mend)
    if len(known) > 1:
        raise RefusalError(422, "`before` and If-Match name different revisions", "send one of the two")
    return known.pop()


def _moved(last: Revision, before: int) -> RefusalError:
    """Return the refusal of a text made from a revision that is not the last one."""
    refusal = RefusalError(
        409,
        f"the job stands at revision {last.number}, the text was made from revision {before}",
        "read the last text, look at what moved, make the change again and send it with the new revision",
    )
    refusal.revision = last.number
    between = Revision.objects.filter(job_id=last.job_id, number__gt=before).defer("text").order_by("number")
    refusal.moved = tuple(line_of(revision) for revision in between[:100])
    return refusal
