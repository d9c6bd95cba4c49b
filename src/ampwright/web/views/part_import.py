"""A file of parts comes in: looked at first, kept only when nothing in it is wrong."""

from __future__ import annotations

from typing import Any

from django.core.files.uploadedfile import UploadedFile
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext

from ampwright.parts.own_files import PARTS_FILE_BYTES
from ampwright.web.guards import account_of, address_of, changing
from ampwright.web.keeping import Preview, keep, preview
from ampwright.web.own_parts import note_change
from ampwright.web.part_sheet import part_line
from ampwright.web.store import log

__all__ = ["import_parts"]

GOOD_ENDINGS = (".toml", ".csv")


@changing
def import_parts(request: HttpRequest) -> HttpResponse:
    """Show what a file would bring and everything wrong in it; keep it when it is sent a second time."""
    words: dict[str, Any] = {"complaint": ""}
    if request.method != "POST":
        return render(request, "web/part_import.html", words)
    name, content, complaint = _arrived(request)
    if complaint:
        return render(request, "web/part_import.html", {"complaint": complaint}, status=422)
    found = preview(content, name)
    if "keep" in request.POST and not found.problems:
        return _kept(request, found)
    words |= {
        "found": found,
        "rows": [(each, part_line(each.part, is_own=True)) for each in found.arrivals],
        "problems": [_split(each) for each in found.problems],
        "content": content.decode("utf-8", "replace") if not found.problems else "",
        "fresh_count": sum(each.state != "same" for each in found.arrivals),
    }
    return render(request, "web/part_import.html", words, status=422 if found.problems else 200)


def _arrived(request: HttpRequest) -> tuple[str, bytes, str]:
    """Return name and content of what was sent, or why it is not taken."""
    upload = request.FILES.get("file")
    if isinstance(upload, UploadedFile):
        name, content = upload.name or "", upload.read(PARTS_FILE_BYTES + 1)
    else:
        name, content = request.POST.get("name", ""), request.POST.get("content", "").encode()
    if not name:
        return "", b"", gettext("choose a file first")
    if not name.lower().endswith(GOOD_ENDINGS):
        return "", b"", gettext("a file of parts ends in .toml or .csv")
    return name[-120:], content, ""


def _split(problem: Any) -> dict[str, Any]:
    """Return a problem as a row: line, part, field, what is wrong and how to mend it."""
    part, _, field = problem.path.partition(" > ")
    return {"line": problem.line, "part": part, "field": field, "message": problem.message}


def _kept(request: HttpRequest, found: Preview) -> HttpResponse:
    keep(found.arrivals)
    who = account_of(request).name
    for each in found.arrivals:
        note_change(each, who, request.POST.get("why", "").strip())
    ids = ", ".join(each.part.id for each in found.arrivals if each.state != "same")
    log(who, "parts imported", address=address_of(request), detail=f"{found.name}: {ids}")
    return redirect("parts")
