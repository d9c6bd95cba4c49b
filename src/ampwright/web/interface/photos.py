"""Photos of a job's vehicle and circuits, for other programs."""

from __future__ import annotations

from ampwright.errors import FileError
from ampwright.web.interface.jobs import clean, entry_of
from ampwright.web.interface.operation import Call, Reply
from ampwright.web.interface.own_records import Removed
from ampwright.web.interface.records import PhotoLine, PhotoList
from ampwright.web.interface.trouble import RefusalError
from ampwright.web.models import Photo
from ampwright.web.photos import (
    keep_photo,
    may_remove,
    photo_path,
    photos_of,
    remove_photo,
    subjects_of,
)
from ampwright.web.store import last_revision, log

__all__ = ["add_photo", "one_photo", "photo_list", "take_away"]


def photo_list(call: Call) -> Reply:
    """List the photos of a job, or of one thing in it."""
    entry = entry_of(call)
    subject = None if call.query.subject is None else clean(call.query.subject, "subject")
    lines = tuple(_line(photo) for photo in photos_of(entry.pk, subject))
    return Reply(value=PhotoList(job=entry.pk, photos=lines))


def add_photo(call: Call) -> Reply:
    """Keep a photo of the vehicle, or of a run, load or part of the job."""
    entry = entry_of(call)
    subject, caption = clean(call.query.subject, "subject"), clean(call.query.caption, "caption").strip()
    known = {name for names in subjects_of(last_revision(entry)).values() for name in names}
    if subject and subject not in known:
        detail = f"the job has no run, load or part '{subject[:60]}'"
        raise RefusalError(422, detail, "give an id of the job's last text, or none for the vehicle")
    try:
        photo = keep_photo(entry, call.body, subject=subject, caption=caption, who=call.account.name)
    except FileError as error:
        raise RefusalError(422, str(error), "send one JPEG, PNG or WebP file as it came") from None
    _logged(call, "photo added", photo)
    address = f"/api/v1/jobs/{entry.pk}/photos/{photo.pk}"
    return Reply(value=_line(photo), status=201, location=address)


def one_photo(call: Call) -> Reply:
    """Give one photo."""
    photo = _photo(call)
    path = photo_path(photo, is_small=False)
    if not path.is_file():
        raise _no_photo()
    return Reply(content=path.read_bytes(), file=f"photo-{photo.pk}.jpg")


def take_away(call: Call) -> Reply:
    """Show a photo no more; its file and its row stay."""
    photo = _photo(call)
    if not may_remove(photo, call.account):
        mend = "ask whoever added it, or whoever may change the job"
        raise RefusalError(403, f"the role {call.account.role} takes away its own photos only", mend)
    remove_photo(photo, call.account.name)
    _logged(call, "photo taken away", photo)
    return Reply(value=Removed(removed=f"photo {photo.pk}"))


def _photo(call: Call) -> Photo:
    found = photos_of(entry_of(call).pk).filter(pk=call.path["photo"]).first()
    if found is None:
        raise _no_photo()
    return found


def _no_photo() -> RefusalError:
    return RefusalError(404, "the job has no such photo", "look at the list of its photos")


def _line(photo: Photo) -> PhotoLine:
    return PhotoLine(
        id=photo.pk,
        subject=photo.subject,
        caption=photo.caption,
        width_px=photo.width_px,
        height_px=photo.height_px,
        size_bytes=photo.size_bytes,
        sha256=photo.sha256,
        made_at=photo.made_at,
        made_by=photo.made_by,
    )


def _logged(call: Call, what: str, photo: Photo) -> None:
    detail = f"{photo.job.title}: {photo.subject} {photo.caption}, by a program"
    log(call.account.name, what, address=call.address, detail=detail)
