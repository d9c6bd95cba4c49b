"""Photos of the vehicle and of its circuits, loads and parts: kept, found, taken away."""

from __future__ import annotations

import hashlib
import os
from pathlib import Path

from django.conf import settings
from django.db.models import QuerySet
from django.utils import timezone
from django.utils.translation import gettext

from ampwright.errors import FileError
from ampwright.toml_positions import toml_tables
from ampwright.web.models import Account, JobEntry, Photo, Revision
from ampwright.web.pictures import Picture, picture_of
from ampwright.web.roles import may_change
from ampwright.web.sheet import names_below

__all__ = [
    "SUBJECTS",
    "keep_photo",
    "keep_picture",
    "may_remove",
    "photo_path",
    "photos_of",
    "remove_photo",
    "subjects_of",
]

PHOTOS_OF_A_JOB = 200
"""Most photos of a job (our own choice): some 200 MB."""
SUBJECTS = ("run", "load", "part")


def subjects_of(revision: Revision) -> dict[str, tuple[str, ...]]:
    """Return what of a job a photo can be of, by kind: ids of runs, loads and parts."""
    raw = toml_tables(revision.text, Path("job.toml"))
    return {kind: tuple(names_below(raw, kind)) for kind in SUBJECTS}


def photos_of(job_id: int, subject: str | None = None) -> QuerySet[Photo]:
    """Return the photos of a job, or of one thing in it; empty = of the vehicle."""
    found = Photo.objects.filter(job_id=job_id, removed_at=None)
    return found if subject is None else found.filter(subject=subject)


def keep_photo(entry: JobEntry, content: bytes, *, subject: str, caption: str, who: str) -> Photo:
    """Keep a photo.

    Raises
    ------
    FileError
        Where it cannot be taken.
    """
    if photos_of(entry.pk).count() >= PHOTOS_OF_A_JOB:
        most = gettext("a job keeps at most {count} photos; take some away first")
        raise FileError(most.format(count=PHOTOS_OF_A_JOB))
    photo = Photo(job=entry, subject=subject[:120], caption=caption[:300], made_by=who[:60])
    return keep_picture(photo, picture_of(content))


def keep_picture(photo: Photo, picture: Picture) -> Photo:
    """Keep a photo whose picture was made: its files first, then its row."""
    photo.sha256 = hashlib.sha256(picture.content).hexdigest()
    photo.width_px, photo.height_px = picture.width_px, picture.height_px
    photo.size_bytes = len(picture.content)
    for is_small, content in ((False, picture.content), (True, picture.small)):
        path = photo_path(photo, is_small=is_small)
        path.parent.mkdir(parents=True, exist_ok=True)
        fresh = path.with_name(f".{path.name}.new")
        fresh.write_bytes(content)
        os.replace(fresh, path)  # noqa: PTH105 - atomic by contract
    photo.save()
    return photo


def photo_path(photo: Photo, *, is_small: bool) -> Path:
    """Return where a photo's file is; jobs that are copied do not take it along."""
    end = "-small.jpg" if is_small else ".jpg"
    return Path(settings.AMPWRIGHT_PLACE.data) / "photos" / str(photo.job_id) / f"{photo.sha256}{end}"


def may_remove(photo: Photo, account: Account) -> bool:
    """Say whether a person may take a photo away: one's own, or whoever may change the job."""
    return photo.made_by == account.name or may_change(account)


def remove_photo(photo: Photo, who: str) -> None:
    """Show a photo no more; its file stays, so that no backup finds a row without one."""
    Photo.objects.filter(pk=photo.pk).update(removed_at=timezone.now(), removed_by=who[:60])
