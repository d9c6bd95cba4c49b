"""Photos of a job: taken with the phone, shown at what they are of and all together as it was built."""

from __future__ import annotations

from itertools import groupby
from typing import Any

from django.core.exceptions import PermissionDenied
from django.core.files.uploadedfile import UploadedFile
from django.http import FileResponse, Http404, HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_GET, require_POST

from ampwright.errors import FileError
from ampwright.web.guards import account_of, address_of
from ampwright.web.models import JobEntry, Photo
from ampwright.web.photos import keep_photo, may_remove, photo_path, photos_of, remove_photo, subjects_of
from ampwright.web.pictures import PHOTO_BYTES
from ampwright.web.roles import may_photograph
from ampwright.web.store import last_revision, log
from ampwright.web.views.job import job_words

__all__ = ["one_photo", "photo_page", "take_away"]


def photo_page(request: HttpRequest, job_id: int) -> HttpResponse:
    """Show the photos by what they are of, and take another one."""
    entry, account = get_object_or_404(JobEntry, pk=job_id), account_of(request)
    revision, complaint = last_revision(entry), ""
    if request.method == "POST":
        if not may_photograph(account):
            raise PermissionDenied
        complaint = _taken(request, entry)
        if not complaint:
            return redirect("photos", job_id)
    photos = list(photos_of(job_id))
    words: dict[str, Any] = {
        **job_words(entry, revision, tab="photos"),
        "groups": [(name, list(group)) for name, group in groupby(photos, key=lambda photo: photo.subject)],
        "subjects": subjects_of(revision),
        "wanted": request.GET.get("of", request.POST.get("subject", "")),
        "may_photograph": may_photograph(account),
        "removable": {photo.pk for photo in photos if may_remove(photo, account)},
        "complaint": complaint,
    }
    return render(request, "web/photos.html", words, status=422 if complaint else 200)


def _taken(request: HttpRequest, entry: JobEntry) -> str:
    """Keep a photo that was sent; return why it cannot be kept, or nothing."""
    sent = [file for name in ("camera", "file") if isinstance(file := request.FILES.get(name), UploadedFile)]
    if not sent:
        return gettext("take or choose a photo first")
    subject, caption = request.POST.get("subject", ""), request.POST.get("caption", "").strip()
    known = {name for names in subjects_of(last_revision(entry)).values() for name in names}
    if subject and subject not in known:
        return gettext("the job has nothing of this name any more; load the page anew")
    try:
        content, who = sent[0].read(PHOTO_BYTES + 1), account_of(request).name
        keep_photo(entry, content, subject=subject, caption=caption.replace("\0", ""), who=who)
    except FileError as error:
        return str(error)
    log(who, "photo added", address=address_of(request), detail=f"{entry.title}: {subject} {caption}")
    return ""


@require_GET
def one_photo(request: HttpRequest, job_id: int, photo_id: int) -> HttpResponseBase:
    """Give one photo; the small one where it is asked for."""
    photo = get_object_or_404(Photo, pk=photo_id, job_id=job_id, removed_at=None)
    path = photo_path(photo, is_small="small" in request.GET)
    if not path.is_file():
        raise Http404
    response = FileResponse(path.open("rb"), content_type="image/jpeg")
    response.headers["Content-Disposition"] = f'inline; filename="photo-{photo.pk}.jpg"'
    response.headers["Content-Security-Policy"] = "default-src 'none'; sandbox"
    response.headers["Cache-Control"] = "private, no-cache"
    return response


@require_POST
def take_away(request: HttpRequest, job_id: int, photo_id: int) -> HttpResponse:
    """Show a photo no more."""
    photo = get_object_or_404(Photo, pk=photo_id, job_id=job_id, removed_at=None)
    account = account_of(request)
    if not may_remove(photo, account) or not may_photograph(account):
        raise PermissionDenied
    remove_photo(photo, account.name)
    detail = f"{photo.job.title}: {photo.subject} {photo.caption}"
    log(account.name, "photo taken away", address=address_of(request), detail=detail)
    return redirect("photos", job_id)
