"""Places: browsed, brought in from weather files or typed, and taken over by a job."""

from __future__ import annotations

import dataclasses
import re
from pathlib import Path
from typing import Any

from django.core.exceptions import PermissionDenied
from django.core.files.uploadedfile import UploadedFile
from django.core.paginator import Paginator
from django.db.models import F
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_GET, require_POST

from ampwright.climate.orbit import MONTH_NAMES
from ampwright.climate.site import Site
from ampwright.climate.sources import shipped_sites
from ampwright.errors import AmpwrightError, JobError, Problem
from ampwright.web.app import the_desk
from ampwright.web.comparing import assessed_signs, shown_findings, shown_rows
from ampwright.web.edit import refusal
from ampwright.web.guards import account_of, address_of, changing
from ampwright.web.kept_files import FILE_BYTES, keep_file
from ampwright.web.models import JobEntry, Revision
from ampwright.web.places import (
    ENDINGS,
    checked_site,
    keep_place,
    own_places,
    place_named,
    place_table,
    remove_place,
    site_raw,
    staged,
    staged_file,
    with_place,
)
from ampwright.web.proposals import Proposal, adopt, trial_of
from ampwright.web.roles import may_change
from ampwright.web.store import Change, change_job, last_revision, log
from ampwright.web.weather_seen import WeatherSeen, weather_seen

__all__ = ["import_place", "new_place", "one_place", "place_list", "remove", "use_place"]

SHOWN = 60
OFFERED = 500
MONTHS = ("ghi_kwh_m2_day", "max_degc", "min_degc")
NUMBERS = ("latitude_deg", "longitude_deg", "elevation_m", "utc_offset_h")
WORDS = ("id", "name", "country", "source")


@require_GET
def place_list(request: HttpRequest) -> HttpResponse:
    """Show the places, the workshop's own first."""
    word = request.GET.get("word", "").strip()[:200]
    own = own_places()
    sites = [each.site for each in own.values()] + list(shipped_sites().values())
    found = [site for site in sites if word.casefold() in f"{site.id} {site.name} {site.country}".casefold()]
    page = Paginator(found, SHOWN).get_page(request.GET.get("page"))
    words = {"page": page, "own_ids": set(own), "word": word}
    return render(request, "web/places.html", words)


@require_GET
def one_place(request: HttpRequest, place_id: str) -> HttpResponse:
    """Show a place with its monthly means; a job to try it on is chosen here."""
    found = place_named(place_id)
    if found is None:
        raise Http404
    words = {
        "site": found.site,
        "months": months_of(found.site),
        "weather": found.weather,
        "is_own": place_id in own_places(),
        "jobs": JobEntry.objects.filter(is_archived=False)[:OFFERED],
        "users": JobEntry.objects.filter(pk__in=_users(place_id)),
    }
    return render(request, "web/place.html", words)


def _users(place_id: str) -> list[int]:
    """Return the jobs whose last revision names a shipped place, or has a copy of an own one."""
    words = f'site = "{place_id}"' if place_id in shipped_sites() else f"(place {place_id} of the workshop)"
    return list(
        Revision.objects.filter(job__number=F("number"), text__contains=words).values_list(
            "job_id", flat=True
        )
    )


def months_of(site: Site) -> list[tuple[str, tuple[float, float, float]]]:
    """Return the monthly figures as rows."""
    rows = zip(site.ghi_kwh_m2_day, site.max_degc, site.min_degc, strict=True)
    return list(zip(MONTH_NAMES, rows, strict=True))


@changing
def new_place(request: HttpRequest) -> HttpResponse:
    """Take a place whose figures are typed; what is wrong is told at once."""
    typed = {name: str(value).strip() for name, value in request.POST.items()}
    problems: tuple[Problem, ...] = ()
    if request.method == "POST":
        try:
            return _kept(request, checked_site(_raw(typed)), None)
        except JobError as error:
            problems = error.problems
    rows = [(name, [typed.get(f"{name}-{at}", "") for at in range(12)]) for name in MONTHS]
    words = {"typed": typed, "rows": rows, "month_names": MONTH_NAMES, "problems": problems}
    return render(request, "web/place_form.html", words, status=422 if problems else 200)


def _raw(typed: dict[str, str]) -> dict[str, Any]:
    """Return a place as typed; what is no number stays text, so that it is told as wrong."""
    raw: dict[str, Any] = {name: typed.get(name, "") for name in WORDS}
    for name in NUMBERS:
        if typed.get(name):
            raw[name] = _number(typed[name])
    for name in MONTHS:
        raw[name] = [_number(typed.get(f"{name}-{at}", "")) for at in range(12)]
    return raw


def _number(text: str) -> Any:
    try:
        return float(text.replace(",", ".").replace("−", "-"))
    except ValueError:
        return text


@changing
def import_place(request: HttpRequest) -> HttpResponse:
    """Show what a weather file says, gaps and monthly means; keep its place when it is sent a second time."""
    if request.method != "POST":
        return render(request, "web/place_import.html", {"endings": ", ".join(ENDINGS)})
    token, name, complaint = _looked_at(request)
    path = staged_file(token)
    if complaint or path is None:
        said = complaint or gettext("choose a file first")
        return render(request, "web/place_import.html", {"complaint": said}, status=422)
    spot = tuple(_number(request.POST.get(each, "")) for each in ("latitude_deg", "longitude_deg"))
    is_said = all(isinstance(each, float) for each in spot)
    seen = _as_named(the_desk().ask(weather_seen, path, spot if is_said else None), path.name, name)
    problems = seen.problems
    if seen.site is not None and "keep" in request.POST:
        try:
            return _kept(request, _named(seen.site, request), path)
        except JobError as error:
            problems = error.problems
    words = {
        "seen": seen,
        "token": token,
        "name": name,
        "problems": problems,
        "months": months_of(seen.site) if seen.site is not None else (),
        "typed": {key: str(value) for key, value in request.POST.items()},
    }
    return render(request, "web/place_import.html", words, status=422 if problems else 200)


def _as_named(seen: WeatherSeen, kept_as: str, name: str) -> WeatherSeen:
    """Return what was seen with the file called as it came, not as it is kept for a while."""
    return dataclasses.replace(
        seen,
        notes=tuple(note.replace(kept_as, name) for note in seen.notes),
        problems=tuple(
            dataclasses.replace(
                each, path=each.path.replace(kept_as, name), message=each.message.replace(kept_as, name)
            )
            for each in seen.problems
        ),
    )


def _looked_at(request: HttpRequest) -> tuple[str, str, str]:
    """Return the name under which a file is kept for a while, its own name, and why it is not taken."""
    upload = request.FILES.get("file")
    if not isinstance(upload, UploadedFile):
        return request.POST.get("token", ""), request.POST.get("name", "")[:120], ""
    name = Path(upload.name or "").name[:120]
    ending = Path(name).suffix.lower()
    if ending not in ENDINGS:
        return (
            "",
            name,
            gettext("a weather file ends in one of: {endings}").format(endings=", ".join(ENDINGS)),
        )
    content = upload.read(FILE_BYTES + 1)
    if len(content) > FILE_BYTES:
        size = f"{FILE_BYTES / 1e6:g}"
        return "", name, gettext("{name}: larger than {size} MB").format(name=name, size=size)
    return staged(content, ending), name, ""


def _named(site: Site, request: HttpRequest) -> Site:
    raw = site_raw(site)
    raw["id"] = request.POST.get("id", "").strip() or site.id
    raw["name"] = request.POST.get("place_name", "").strip() or site.name
    own = request.POST.get("name", "")
    raw["source"] = f"weather file {own}" if own else site.source
    return checked_site(raw)


def _kept(request: HttpRequest, site: Site, weather: Path | None) -> HttpResponse:
    keep_place(site, weather)
    log(
        account_of(request).name,
        "place kept",
        address=address_of(request),
        detail=f"{site.id}: {site.source}",
    )
    return redirect("place", site.id)


@changing
@require_POST
def remove(request: HttpRequest, place_id: str) -> HttpResponse:
    """Take an own place away; jobs keep their copies of its figures."""
    if place_id not in own_places():
        raise PermissionDenied
    remove_place(place_id)
    log(account_of(request).name, "place taken away", address=address_of(request), detail=place_id)
    return redirect("places")


def use_place(request: HttpRequest, place_id: str) -> HttpResponse:
    """Show what a place changes in one job; take it over with a reason."""
    found, asked = place_named(place_id), request.GET.get("job", "") or request.POST.get("job_id", "")
    if found is None or not re.fullmatch(r"[0-9]{1,9}", asked):
        raise Http404
    entry = get_object_or_404(JobEntry, pk=int(asked))
    complaint = ""
    if request.method == "POST":
        complaint = _taken_over(request, entry, place_id)
        if not complaint:
            return redirect("answer", entry.pk)
    trial = trial_of(Proposal(kind="place", old="", new=place_id), last_revision(entry))
    words: dict[str, Any] = {
        "site": found.site,
        "weather": found.weather,
        "job": entry,
        "trial": trial,
        "complaint": complaint,
    }
    if trial.comparison is not None:
        rows = shown_rows(trial.comparison)["figures"]
        words |= {
            "comparison": trial.comparison,
            "pairs": assessed_signs(trial.comparison),
            "figures": [row for row in rows if row[2] != row[3]],
            **shown_findings(trial.comparison),
        }
    return render(request, "web/place_use.html", words, status=422 if complaint else 200)


def _taken_over(request: HttpRequest, entry: JobEntry, place_id: str) -> str:
    """Take a place over; return why it cannot be done."""
    if not may_change(account_of(request)):
        raise PermissionDenied
    why, number = request.POST.get("why", "").strip()[:500], request.POST.get("number", "")
    if not why or not re.fullmatch(r"[0-9]{1,9}", number):
        return gettext("Not adopted: give a reason; it stands in the history of each job.")
    who = account_of(request).name
    try:
        if "file" in request.POST:
            _with_file(entry, place_id, who, why)
        else:
            adopt(Proposal(kind="place", old="", new=place_id), entry.pk, int(number), who=who, why=why)
    except AmpwrightError as error:
        return refusal(error)
    return ""


def _with_file(entry: JobEntry, place_id: str, who: str, why: str) -> None:
    """Copy the hours of a place into a job's folder and have the job name them."""
    found = place_named(place_id)
    if found is None or found.weather is None:
        raise Http404
    seen: WeatherSeen = the_desk().ask(
        weather_seen, found.weather, (found.site.latitude_deg, found.site.longitude_deg)
    )
    keep_file(entry.pk, found.weather.name, found.weather.read_bytes(), who=who)
    name = found.weather.name
    table: dict[str, Any] = {"weather_file": name}
    if seen.way == "year_files":
        table = {**place_table(found.site), "year_files": [name]}
    what = f"place {place_id}, with its hours"
    change_job(entry.pk, lambda last: with_place(last.text, table), Change(who=who, what=what, why=why))
