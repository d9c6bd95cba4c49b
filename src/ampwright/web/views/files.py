"""Files that come in and go out: a job's own text, and the files it names beside it."""

from __future__ import annotations

import re
import tempfile
from pathlib import Path

from django.conf import settings
from django.core.exceptions import PermissionDenied
from django.core.files.uploadedfile import UploadedFile
from django.http import FileResponse, Http404, HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_GET

from ampwright.errors import AmpwrightError, FileError, JobError, Problem
from ampwright.job.intake.answers import story_from_text
from ampwright.job.load import JOB_FILE_BYTES
from ampwright.toml_positions import text_of
from ampwright.web.carried import carried_by
from ampwright.web.guards import account_of, address_of, changing
from ampwright.web.kept_files import FILE_BYTES, keep_file, kept_file, kept_files
from ampwright.web.models import JobEntry
from ampwright.web.parcel import take_parcel, write_parcel
from ampwright.web.roles import may_change
from ampwright.web.store import Change, last_revision, log, new_job
from ampwright.web.views.intake import job_of_story
from ampwright.web.views.job import job_words

__all__ = ["export", "export_all", "files_page", "import_job", "one_file"]


@changing
def import_job(request: HttpRequest) -> HttpResponse:
    """Take a job file, or a customer's answers as a file or as pasted text, and make a job of it."""
    upload, pasted = request.FILES.get("file"), request.POST.get("answers", "").strip()
    name = upload.name or "job.toml" if isinstance(upload, UploadedFile) else gettext("pasted answers")
    if request.method != "POST" or not (isinstance(upload, UploadedFile) or pasted):
        return render(request, "web/import.html", {"problems": ()})
    try:
        text = pasted
        if isinstance(upload, UploadedFile):
            if _is_zip(upload):
                return redirect("answer", _parcel_taken(request, upload).pk)
            text = text_of(upload.read(JOB_FILE_BYTES + 1), Path(name), max_bytes=JOB_FILE_BYTES)
        if text.lstrip().startswith("{"):
            entry = job_of_story(request, story_from_text(text, name=name))
        else:
            what = gettext("imported from {name}").format(name=name)
            entry = new_job(text, Change(who=account_of(request).name, what=what))
    except AmpwrightError as error:
        problems = error.problems if isinstance(error, JobError) else (Problem(path="", message=str(error)),)
        words = {"problems": problems, "file": name, "answers": pasted}
        return render(request, "web/import.html", words, status=422)
    return redirect("answer", entry.pk)


def _is_zip(upload: UploadedFile[bytes]) -> bool:
    start = upload.read(2)
    upload.seek(0)
    return bool(start == b"PK")


def _parcel_taken(request: HttpRequest, upload: UploadedFile[bytes]) -> JobEntry:
    stream = upload.file
    if stream is None:
        raise FileError(gettext("choose a file first"))
    entry = take_parcel(stream, who=account_of(request).name)
    log(account_of(request).name, "imported", address=address_of(request), detail=entry.title)
    return entry


@require_GET
def export_all(request: HttpRequest, job_id: int) -> HttpResponseBase:
    """Give the last revision with its files and photos as one file."""
    entry = get_object_or_404(JobEntry, pk=job_id)
    stream = tempfile.TemporaryFile(dir=settings.AMPWRIGHT_PLACE.data, prefix=".export-")  # noqa: SIM115 - the response closes it
    write_parcel(stream, entry)
    stream.seek(0)
    log(
        account_of(request).name,
        "exported",
        address=address_of(request),
        detail=f"{entry.title}, {entry.number}",
    )
    name = f"{_plain_name(entry)}.zip"
    return FileResponse(stream, as_attachment=True, filename=name, content_type="application/zip")


def _plain_name(entry: JobEntry) -> str:
    return re.sub(r"[^A-Za-z0-9_-]", "-", entry.code) or "job"


@require_GET
def export(request: HttpRequest, job_id: int) -> HttpResponse:
    """Give the text of the last revision as a file."""
    entry = get_object_or_404(JobEntry, pk=job_id)
    revision = last_revision(entry)
    log(
        account_of(request).name,
        "exported",
        address=address_of(request),
        detail=f"{entry.title}, {revision.number}",
    )
    response = HttpResponse(revision.text, content_type="application/toml; charset=utf-8")
    response.headers["Content-Disposition"] = f'attachment; filename="{_plain_name(entry)}.toml"'
    return response


def files_page(request: HttpRequest, job_id: int) -> HttpResponse:
    """List the files kept with a job, and take another one."""
    entry = get_object_or_404(JobEntry, pk=job_id)
    complaint = ""
    if request.method == "POST":
        if not may_change(account_of(request)):
            raise PermissionDenied
        complaint = _taken(request, job_id)
        if not complaint:
            return redirect("files", job_id)
    names = [path.name for path in kept_files(job_id)]
    revision = last_revision(entry)
    known = {"files": names, "complaint": complaint, "carried": carried_by(revision)}
    words = {**job_words(entry, revision, tab="files"), **known}
    return render(request, "web/files.html", words, status=422 if complaint else 200)


def _taken(request: HttpRequest, job_id: int) -> str:
    """Keep an uploaded file; return why it cannot be kept, or nothing."""
    upload = request.FILES.get("file")
    if not isinstance(upload, UploadedFile) or not upload.name:
        return gettext("choose a file first")
    try:
        keep_file(job_id, upload.name, upload.read(FILE_BYTES + 1), who=account_of(request).name)
    except FileError as error:
        return str(error)
    return ""


@require_GET
def one_file(request: HttpRequest, job_id: int, name: str) -> HttpResponse:  # noqa: ARG001 - as Django calls it
    """Give one file kept with a job."""
    path = kept_file(job_id, name)
    if path is None:
        raise Http404
    response = HttpResponse(path.read_bytes(), content_type="application/octet-stream")
    response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return response
