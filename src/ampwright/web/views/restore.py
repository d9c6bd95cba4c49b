"""Back from a backup: what is in it is shown first, a word is typed, and everything is exchanged or nothing is."""

from __future__ import annotations

import logging
import shutil
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.files.uploadedfile import UploadedFile
from django.db import DatabaseError
from django.http import FileResponse, Http404, HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_GET, require_POST

from ampwright.errors import FileError
from ampwright.web.app import the_desk
from ampwright.web.backup.replace import (
    Seen,
    build,
    file_named,
    kept_backups,
    looked_at,
    replace_by,
    seen_backup,
)
from ampwright.web.gate import StillPassingError, the_gate
from ampwright.web.guards import account_of, address_of, managing
from ampwright.web.models import Account, JobEntry, Photo, Revision
from ampwright.web.store import log

__all__ = ["kept_backup", "look_at_backup", "restore_now"]


@managing
def look_at_backup(request: HttpRequest) -> HttpResponse:
    """Read a backup whole and show what is in it beside what is here now; nothing is changed."""
    if request.method != "POST":
        return redirect("backup")
    data, upload = _data(), request.FILES.get("file")
    name = request.POST.get("kept", "")
    if isinstance(upload, UploadedFile):
        name = looked_at(data, upload.chunks())
    file = file_named(data, name)
    if file is None:
        return _refused(request, gettext("choose a file first"))
    try:
        seen = seen_backup(file, data)
    except FileError as error:
        if isinstance(upload, UploadedFile):
            file.unlink(missing_ok=True)
        return _refused(request, str(error))
    return _shown(request, name, seen)


def _shown(request: HttpRequest, name: str, seen: Seen, complaint: str = "") -> HttpResponse:
    is_closed = settings.AMPWRIGHT_PLACE.is_lan and not seen.admins
    words: dict[str, Any] = {
        "seen": seen,
        "name": name,
        "rows": _rows(seen),
        "word": _word(),
        "complaint": complaint,
        "locks_out": is_closed,
    }
    return render(request, "web/restore.html", words, status=422 if complaint else 200)


def _rows(seen: Seen) -> list[tuple[str, int, int]]:
    """Return what is in it and what is here, by kind."""
    kinds = ((gettext("Jobs"), JobEntry), (gettext("Revisions"), Revision), (gettext("Photos"), Photo))
    more = (gettext("Accounts"), Account)
    return [
        (title, seen.counts.get(kind.__name__, 0), kind.objects.count()) for title, kind in (*kinds, more)
    ]


def _word() -> str:
    return gettext("restore")


@managing
@require_POST
def restore_now(request: HttpRequest) -> HttpResponse:
    """Put the workshop of a backup in place of this one."""
    data, name = _data(), request.POST.get("name", "")
    file = file_named(data, name)
    if file is None:
        return _refused(request, gettext("the file was looked at too long ago; choose it again"))
    try:
        seen = seen_backup(file, data)
        if request.POST.get("sha256") != seen.sha256:
            return _shown(request, name, seen, gettext("the file is another one now; look at it again"))
        if request.POST.get("word", "").strip().casefold() != _word():
            typed = gettext("Not restored: type the word {word} as it stands there.").format(word=_word())
            return _shown(request, name, seen, typed)
        if settings.AMPWRIGHT_PLACE.is_lan and not seen.admins:
            return _shown(
                request, name, seen, gettext("Not restored: nobody could manage the accounts afterwards.")
            )
        before = _exchanged(request, file, seen)
    except FileError as error:
        return _refused(request, str(error))
    words = {"seen": seen, "before": before, "is_done": True, "is_lan": settings.AMPWRIGHT_PLACE.is_lan}
    return render(request, "web/restore.html", words)


def _exchanged(request: HttpRequest, file: Path, seen: Seen) -> Path:
    """Build beside while others go on, then exchange while nobody else is at work."""
    data, who, address = _data(), account_of(request).name, address_of(request)
    log(who, "restore begun", address=address, detail=f"backup of {seen.manifest.made_at}")
    built = build(file, data)
    about = f"backup of {seen.manifest.made_at}, {seen.sha256[:16]}"
    try:
        with the_gate().closed():
            the_desk().forget()
            before = replace_by(built, data, who=who, address=address, about=about)
            the_desk().forget()
    except StillPassingError:
        raise FileError(gettext("others are still at work; try again in a minute")) from None
    except (DatabaseError, OSError) as error:
        logging.getLogger("django").exception("restore")
        wrong = gettext("nothing was changed: {why}").format(why=f"{type(error).__name__}: {error}"[:200])
        raise FileError(wrong) from None
    finally:
        shutil.rmtree(built[1].parent, ignore_errors=True)
    return before


@managing
@require_GET
def kept_backup(request: HttpRequest, name: str) -> HttpResponseBase:
    """Give a backup that is kept on this machine."""
    file = file_named(_data(), name)
    if file is None or file not in kept_backups(_data()):
        raise Http404
    log(account_of(request).name, "backup fetched", address=address_of(request), detail=name)
    return FileResponse(file.open("rb"), as_attachment=True, filename=name, content_type="application/zip")


def _data() -> Path:
    return Path(settings.AMPWRIGHT_PLACE.data)


def _refused(request: HttpRequest, why: str) -> HttpResponse:
    words = {"refusal": why, "kept": kept_backups(_data())}
    return render(request, "web/restore.html", words, status=422)
