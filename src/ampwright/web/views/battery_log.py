"""A log of the finished vehicle's battery against its job; nothing of it is kept."""

from __future__ import annotations

import math
from typing import Any

from django.core.files.uploadedfile import UploadedFile
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils.translation import gettext, gettext_noop
from django.views.decorators.http import require_http_methods

from ampwright.documents.quantity_text import UNIT_SPACE
from ampwright.errors import AmpwrightError, JobError
from ampwright.fieldwork.log_file import COLUMNS
from ampwright.fieldwork.log_study import LogLine, LogStudy, Reading
from ampwright.records import record
from ampwright.web.app import the_desk
from ampwright.web.kept_files import FILE_BYTES
from ampwright.web.models import JobEntry
from ampwright.web.reading import job_text
from ampwright.web.reckoning import log_study_of_job
from ampwright.web.store import last_revision
from ampwright.web.views.job import job_words
from ampwright.web.words.reader import reader_words

__all__ = ["battery_log"]

HEADINGS = {
    "time": gettext_noop("Heading of the time"),
    "battery_v": gettext_noop("of the voltage"),
    "battery_a": gettext_noop("of the current"),
    "soc_percent": gettext_noop("of the state of charge, where there is one"),
}
READINGS: dict[Reading, tuple[str, str]] = {
    "agrees": ("good", gettext_noop("agrees")),
    "more": ("condition", gettext_noop("more")),
    "less": ("condition", gettext_noop("less")),
    "not told": ("open", gettext_noop("not told")),
}


@record
class ShownLine:
    """One figure as the page prints it."""

    what: str
    """What it is."""
    log: str
    """Of the log."""
    job: str
    """Of the job."""
    within: str
    """Range that agrees."""
    sign: str
    """Shape beside the word."""
    word: str
    """How the log stands to the job."""
    causes: tuple[str, ...]
    """What a difference may come from."""
    field: str
    """Field of the job that the figure replaces."""
    line: str
    """The line to write there."""


@require_http_methods(["GET", "HEAD", "POST"])
def battery_log(request: HttpRequest, job_id: int) -> HttpResponse:
    """Ask for a log, and show what it says."""
    entry = get_object_or_404(JobEntry, pk=job_id)
    revision = last_revision(entry)
    typed = {name: request.POST.get(name, "").strip()[:100] for name in COLUMNS}
    is_turned = request.POST.get("turned") == "yes"
    found: dict[str, Any] = {}
    if request.method == "POST":
        found = _found(request, job_text(revision.text, job_id=job_id), typed, is_turned=is_turned)
    words = {
        **job_words(entry, revision, tab="battery-log"),
        "headings": [(name, label, typed[name]) for name, label in HEADINGS.items()],
        "is_turned": is_turned,
        **found,
    }
    return render(request, "web/battery_log.html", words, status=422 if "complaint" in found else 200)


def _found(request: HttpRequest, job: Any, typed: dict[str, str], *, is_turned: bool) -> dict[str, Any]:
    """Return what the page shows of the log sent, or the complaint."""
    upload = request.FILES.get("file")
    if not isinstance(upload, UploadedFile) or not upload.name:
        return {"complaint": gettext("choose a file first")}
    content = upload.read(FILE_BYTES + 1)
    if len(content) > FILE_BYTES:
        most = FILE_BYTES // 1_000_000
        return {"complaint": gettext("larger than {most} MB; split it, or log less often").format(most=most)}
    names = {name: heading for name, heading in typed.items() if heading}
    try:
        study: LogStudy = the_desk().ask(log_study_of_job, job, content, upload.name, names, is_turned)
    except JobError as error:
        return {"complaint": "; ".join(str(each) for each in error.problems[:3])}
    except AmpwrightError as error:
        return {"complaint": str(error)}
    words = reader_words()
    return {
        "file": upload.name,
        "covered": words.quantity(study.facts.covered_h, "h"),
        "gap": words.quantity(study.facts.gap_h, "h") if study.facts.gap_h >= 1.0 else "",
        "lines": [_shown(line) for line in study.lines],
        "is_different": bool(study.differing),
    }


def _shown(line: LogLine) -> ShownLine:
    words = reader_words()
    sign, word = READINGS[line.reading]
    low, high = _figure(line.low), _figure(line.high)
    within = gettext("from {low}").format(low=low) if line.is_open else f"{low} – {high}"
    return ShownLine(
        what=words.said(line.what),
        log=_with_unit(line.measured, line.unit),
        job=_with_unit(line.expected, line.unit),
        within=within,
        sign=sign,
        word=word,
        causes=tuple(words.said(each) for each in line.causes),
        field=line.field,
        line=line.line,
    )


def _figure(value: float) -> str:
    return reader_words().number(value) if math.isfinite(value) else "–"


def _with_unit(value: float, unit: str) -> str:
    return f"{_figure(value)}{UNIT_SPACE}{unit}" if math.isfinite(value) else _figure(value)
