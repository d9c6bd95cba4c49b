"""Verdicts and documents of a job's last revision, for other programs: always with revision and stage."""

from __future__ import annotations

import hashlib
import io
import zipfile
from typing import Any

from ampwright import __version__
from ampwright.documents.pack.documents import DOCUMENTS
from ampwright.documents.plain import plain_answer, plain_quick
from ampwright.errors import AmpwrightError, Problem
from ampwright.sizing.result import Answer
from ampwright.web.answers import Live, live_of, task_of
from ampwright.web.app import the_desk, the_stock
from ampwright.web.interface.jobs import entry_of
from ampwright.web.interface.operation import Call, Reply
from ampwright.web.interface.records import (
    AnswerNow,
    DocumentFiles,
    DocumentLine,
    DocumentList,
    FileLine,
    QuickNow,
)
from ampwright.web.interface.trouble import RefusalError, told
from ampwright.web.making import document_files, document_pack, pack_files
from ampwright.web.models import Result, Revision
from ampwright.web.reading import today
from ampwright.web.store import last_revision, log

__all__ = ["document_list", "file_line", "full", "of_document", "one_file", "quick", "whole_pack"]

ASK_AGAIN_S = 2
"""When to ask again for an answer that is being reckoned (our own choice)."""
ZIP_TIME = (1980, 1, 1, 0, 0, 0)
"""The same pack gives the same bytes."""


def quick(call: Call) -> Reply:
    """Give both verdicts at the likely values."""
    revision = last_revision(entry_of(call))
    found = the_desk().quick(task_of(revision))
    value = QuickNow(
        job=revision.job_id,
        revision=revision.number,
        stage="problems" if found.assessment is None else "quick",
        quick=None if found.assessment is None else plain_quick(found.assessment),
        problems=told(found.problems),
    )
    return Reply(value=value, revision=revision.number)


def full(call: Call) -> Reply:
    """Give the full answer, or say how far it is."""
    revision = last_revision(entry_of(call))
    kept = Result.objects.filter(
        revision=revision, program_version=__version__, on=today(), workshop=the_stock().stamp
    ).first()
    if kept is not None:
        value = _now(revision, stage="full", answer=kept.answer)
        return Reply(value=value, revision=revision.number)
    live = live_of(revision)
    if live.answer is not None:
        value = _now(revision, stage="full", answer=plain_answer(live.answer))
        return Reply(value=value, revision=revision.number)
    if live.stage == "problems" or live.failed:
        return Reply(value=_without(revision, live), revision=revision.number)
    value = _now(revision, stage="quick", done_count=live.done_count, step_count=live.step_count)
    return Reply(value=value, status=202, revision=revision.number, retry_after_s=ASK_AGAIN_S)


def _now(revision: Revision, **known: Any) -> AnswerNow:
    nothing = {"done_count": 0, "step_count": 0, "answer": None, "problems": ()}
    return AnswerNow(job=revision.job_id, revision=revision.number, **{**nothing, **known})


def _without(revision: Revision, live: Live) -> AnswerNow:
    """Return why there will be no full answer."""
    problems = live.problems or (Problem(path="", message=live.failed),)
    return _now(revision, stage="failed" if live.failed else "problems", problems=told(problems))


def document_list(call: Call) -> Reply:
    """List the documents that can be made."""
    revision = last_revision(entry_of(call))
    lines = tuple(DocumentLine(name=each.name, title=each.title) for each in DOCUMENTS)
    value = DocumentList(job=revision.job_id, revision=revision.number, documents=lines)
    return Reply(value=value, revision=revision.number)


def of_document(call: Call) -> Reply:
    """List the files of one document, or say that the answer is not there yet."""
    revision, name = last_revision(entry_of(call)), _document_name(call)
    live = live_of(revision)
    if live.answer is None:
        stage = "failed" if live.failed else live.stage
        wait_s = ASK_AGAIN_S if stage == "quick" else None
        value = _files(revision, stage=stage, left_out=live.failed)
        return Reply(value=value, status=200 if wait_s is None else 202, retry_after_s=wait_s)
    try:
        pack = document_pack(live.answer, revision, name)
    except AmpwrightError as error:
        return Reply(value=_files(revision, stage="full", left_out=str(error)))
    lines = tuple(file_line(file.name, file.content) for file in pack.files[:-1])
    left_out = "; ".join(why for _, why in pack.left_out)
    return Reply(value=_files(revision, stage="full", files=lines, left_out=left_out))


def _files(revision: Revision, **known: Any) -> DocumentFiles:
    return DocumentFiles(job=revision.job_id, revision=revision.number, **{"files": (), **known})


def one_file(call: Call) -> Reply:
    """Give one file of a document."""
    revision, name = last_revision(entry_of(call)), _document_name(call)
    answer = _answer(revision)
    try:
        files = document_files(answer, revision, name)
    except AmpwrightError:
        files = ()
    found = next((file for file in files if file.name == call.path["file"]), None)
    if found is None:
        raise RefusalError(404, "the document has no such file", "look at the list of its files")
    return Reply(content=found.content, file=found.name, revision=revision.number)


def whole_pack(call: Call) -> Reply:
    """Give all documents as one file."""
    entry = entry_of(call)
    revision = last_revision(entry)
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        for file in pack_files(_answer(revision), revision):
            archive.writestr(zipfile.ZipInfo(file.name, ZIP_TIME), file.content)
    log(call.account.name, "documents fetched", address=call.address, detail=f"{entry.title}, by a program")
    return Reply(content=stream.getvalue(), file="documents.zip", revision=revision.number)


def file_line(name: str, content: bytes) -> FileLine:
    """Return a file as a list has it."""
    return FileLine(name=name, size_bytes=len(content), sha256=hashlib.sha256(content).hexdigest())


def _document_name(call: Call) -> str:
    name = str(call.path["name"])
    if all(each.name != name for each in DOCUMENTS):
        raise RefusalError(404, "there is no such document", "look at the list of documents for its name")
    return name


def _answer(revision: Revision) -> Answer:
    found = live_of(revision).answer
    if found is None:
        mend = "ask for the answer of the job until its stage is full; then ask again"
        raise RefusalError(409, "the full answer that documents are made of is not there", mend)
    return found
