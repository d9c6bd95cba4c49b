"""The documents of a job: looked at and fetched, made from the last revision."""

from __future__ import annotations

import io
import mimetypes
import zipfile

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.clickjacking import xframe_options_sameorigin
from django.views.decorators.http import require_GET

from ampwright.documents.pack.documents import DOCUMENTS
from ampwright.documents.pack.records import PackFile
from ampwright.errors import AmpwrightError
from ampwright.sizing.result import Answer
from ampwright.web.answers import live_of
from ampwright.web.guards import account_of, address_of
from ampwright.web.making import document_files, pack_files
from ampwright.web.models import JobEntry
from ampwright.web.store import last_revision, log
from ampwright.web.views.job import job_words
from ampwright.web.words.reader import reader_words

__all__ = ["all_files", "document_list", "one_document", "one_file"]

OWN_STYLE_POLICY = (
    "default-src 'none'; style-src 'unsafe-inline'; img-src data:; frame-ancestors 'self'; sandbox"
)
"""For pictures and pages that carry their own style: no script runs, nothing is loaded."""
ZIP_TIME = (1980, 1, 1, 0, 0, 0)
"""The same pack gives the same bytes."""


@require_GET
def document_list(request: HttpRequest, job_id: int) -> HttpResponse:
    """List the documents."""
    entry = get_object_or_404(JobEntry, pk=job_id)
    revision = last_revision(entry)
    words = {**job_words(entry, revision, tab="documents"), "documents": _titles(), "live": live_of(revision)}
    return render(request, "web/documents.html", words)


@require_GET
def one_document(request: HttpRequest, job_id: int, name: str) -> HttpResponse:
    """Show one document in the page."""
    entry = get_object_or_404(JobEntry, pk=job_id)
    document = next((each for each in DOCUMENTS if each.name == name), None)
    if document is None:
        raise Http404
    title = reader_words()(document.title)
    words = {**job_words(entry, last_revision(entry), tab="documents"), "document": document, "title": title}
    answer = _answer(entry)
    if answer is None:
        return redirect("documents", job_id)
    try:
        words |= {"files": [file.name for file in document_files(answer, last_revision(entry), name)]}
    except AmpwrightError as error:
        words |= {"files": [], "complaint": str(error)}
    return render(request, "web/document.html", words)


@require_GET
@xframe_options_sameorigin
def one_file(request: HttpRequest, job_id: int, name: str, file: str) -> HttpResponse:
    """Give one file of a document, to look at or to keep."""
    entry = get_object_or_404(JobEntry, pk=job_id)
    answer = _answer(entry)
    if answer is None or all(each.name != name for each in DOCUMENTS):
        raise Http404
    made = next(
        (each for each in document_files(answer, last_revision(entry), name) if each.name == file), None
    )
    if made is None:
        raise Http404
    how = "attachment" if "keep" in request.GET else "inline"
    return _sent(made, how)


@require_GET
def all_files(request: HttpRequest, job_id: int) -> HttpResponse:
    """Give the whole pack as one file."""
    entry = get_object_or_404(JobEntry, pk=job_id)
    answer = _answer(entry)
    if answer is None:
        return redirect("documents", job_id)
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        for file in pack_files(answer, last_revision(entry)):
            archive.writestr(zipfile.ZipInfo(file.name, ZIP_TIME), file.content)
    log(account_of(request).name, "documents fetched", address=address_of(request), detail=entry.title)
    return _sent(
        PackFile(name=f"{answer.assessment.design.job.job.id}.zip", content=stream.getvalue()), "attachment"
    )


def _titles() -> list[tuple[str, str]]:
    words = reader_words()
    return [(each.name, words(each.title)) for each in DOCUMENTS]


def _answer(entry: JobEntry) -> Answer | None:
    return live_of(last_revision(entry)).answer


def _sent(file: PackFile, how: str) -> HttpResponse:
    kind = mimetypes.guess_type(file.name)[0] or "application/octet-stream"
    response = HttpResponse(file.content, content_type=kind)
    response.headers["Content-Disposition"] = f'{how}; filename="{file.name}"'
    if kind in ("image/svg+xml", "text/html"):
        response.headers["Content-Security-Policy"] = OWN_STYLE_POLICY
    return response
