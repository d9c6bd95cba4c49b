"""Files that come in and go out: a job's own text, and the files it names beside it."""

from __future__ import annotations

import os
import re
from pathlib import Path

from django.core.files.uploadedfile import UploadedFile
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_GET

from ampwright.errors import JobError
from ampwright.job.load import JOB_FILE_BYTES
from ampwright.toml_positions import text_of
from ampwright.web.guards import account_of, address_of, changing
from ampwright.web.models import JobEntry
from ampwright.web.reading import folder_of
from ampwright.web.roles import may_change
from ampwright.web.store import Change, change_job, last_revision, log, new_job
from ampwright.web.views.job import job_words

__all__ = ["export", "files_page", "import_job", "one_file"]

FILE_BYTES = 12_000_000
"""Largest file kept with a job; ten years of hours are about 5 MB (our own choice)."""
FILES_OF_A_JOB = 20
"""Most files kept with a job (our own choice)."""
GOOD_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9 ._-]{0,79}")
GOOD_ENDINGS = (".toml", ".csv", ".json", ".epw", ".tm3", ".tmy3")
TAKEN_NAME = "job.toml"


@changing
def import_job(request: HttpRequest) -> HttpResponse:
    """Take a job file and make a job of it."""
    upload = request.FILES.get("file")
    if request.method != "POST" or not isinstance(upload, UploadedFile):
        return render(request, "web/import.html", {"problems": ()})
    try:
        text = text_of(
            upload.read(JOB_FILE_BYTES + 1), Path(upload.name or "job.toml"), max_bytes=JOB_FILE_BYTES
        )
        entry = new_job(
            text,
            Change(
                who=account_of(request).name, what=gettext("imported from {name}").format(name=upload.name)
            ),
        )
    except JobError as error:
        return render(
            request, "web/import.html", {"problems": error.problems, "file": upload.name}, status=422
        )
    return redirect("answer", entry.pk)


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
    name = re.sub(r"[^A-Za-z0-9_-]", "-", entry.code) or "job"
    response.headers["Content-Disposition"] = f'attachment; filename="{name}.toml"'
    return response


def files_page(request: HttpRequest, job_id: int) -> HttpResponse:
    """List the files kept with a job, and take another one."""
    entry = get_object_or_404(JobEntry, pk=job_id)
    complaint = ""
    if request.method == "POST" and may_change(account_of(request)):
        complaint = _taken(request, job_id)
        if not complaint:
            return redirect("files", job_id)
    names = sorted(path.name for path in folder_of(job_id).glob("*") if path.is_file())
    words = {**job_words(entry, last_revision(entry), tab="files"), "files": names, "complaint": complaint}
    return render(request, "web/files.html", words, status=422 if complaint else 200)


def _taken(request: HttpRequest, job_id: int) -> str:
    """Keep an uploaded file; return why it cannot be kept, or nothing."""
    upload = request.FILES.get("file")
    if not isinstance(upload, UploadedFile) or not upload.name:
        return gettext("choose a file first")
    name, folder = upload.name, folder_of(job_id)
    if not GOOD_NAME.fullmatch(name) or not name.lower().endswith(GOOD_ENDINGS) or name == TAKEN_NAME:
        wanted = gettext("'{name}': take letters, digits, dashes and dots, ending in {endings}")
        return wanted.format(name=name[:60], endings=", ".join(GOOD_ENDINGS))
    content = upload.read(FILE_BYTES + 1)
    if len(content) > FILE_BYTES:
        return gettext("{name}: larger than {size} MB").format(name=name, size=f"{FILE_BYTES / 1e6:g}")
    folder.mkdir(parents=True, exist_ok=True)
    if not (folder / name).exists() and len(list(folder.iterdir())) >= FILES_OF_A_JOB:
        most = gettext("a job keeps at most {count} files; ask for another way to bring in more")
        return most.format(count=FILES_OF_A_JOB)
    fresh = folder / f".{name}.new"
    fresh.write_bytes(content)
    os.replace(fresh, folder / name)  # noqa: PTH105 - Path.replace says the same; this is atomic by contract
    change_job(
        job_id,
        lambda last: last.text,
        Change(who=account_of(request).name, what=gettext("file {name} added").format(name=name)),
        is_file=True,
    )
    return ""


@require_GET
def one_file(request: HttpRequest, job_id: int, name: str) -> HttpResponse:  # noqa: ARG001 - as Django calls it
    """Give one file kept with a job."""
    path = folder_of(job_id) / name
    if not GOOD_NAME.fullmatch(name) or not path.is_file():
        raise Http404
    response = HttpResponse(path.read_bytes(), content_type="application/octet-stream")
    response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return response
