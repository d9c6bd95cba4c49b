"""Parts: those shipped and the workshop's own, one page each; own ones are written, changed and taken away."""

from __future__ import annotations

from typing import Any

from django.core.exceptions import PermissionDenied
from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_GET, require_POST

from ampwright.errors import JobError, Problem
from ampwright.parts.kinds import Part
from ampwright.parts.tables import kinds
from ampwright.web.app import the_stock
from ampwright.web.guards import account_of, address_of, changing
from ampwright.web.keeping import Arrival, is_override, is_own_file, part_from_table, raw_of, remove
from ampwright.web.own_parts import keep_part
from ampwright.web.part_sheet import part_cells, part_line, raw_from
from ampwright.web.sheet import was_text
from ampwright.web.store import log
from ampwright.web.usage import jobs_naming, modules_naming, older_count

__all__ = ["edit_part", "new_part", "one_part", "part_list", "remove_part"]

SHOWN = 100
"""Parts on one page (our own choice)."""


@require_GET
def part_list(request: HttpRequest) -> HttpResponse:
    """Show the parts of a kind, or those with some words."""
    stock = the_stock()
    word, kind = request.GET.get("word", "").strip(), request.GET.get("kind", "")
    only_own = request.GET.get("own") == "yes"
    own = stock.workshop.own_ids
    found = [
        part
        for part in sorted(stock.workshop.catalogue.parts.values(), key=_order)
        if kind in ("", part.kind) and (part.id in own or not only_own) and _fits(part, word)
    ]
    page = Paginator(found, SHOWN).get_page(request.GET.get("page"))
    words = {
        "lines": [part_line(part, is_own=part.id in own) for part in page],
        "page": page,
        "kinds": sorted(kinds()),
        "kind": kind,
        "word": word,
        "only_own": only_own,
        "stock_error": stock.error,
    }
    return render(request, "web/parts.html", words)


def _order(part: Part) -> tuple[str, str]:
    return part.kind, part.id


def _fits(part: Part, word: str) -> bool:
    text = f"{part.id} {part.name} {part.kind} {part.source}".casefold()
    return all(each in text for each in word.casefold().split())


@require_GET
def one_part(request: HttpRequest, part_id: str) -> HttpResponse:
    """Show a part with all its fields, and which jobs build it in."""
    return render(request, "web/part.html", _part_words(part_id))


def _part_words(part_id: str) -> dict[str, Any]:
    part, workshop = _part(part_id), the_stock().workshop
    cells = part_cells(part.kind, raw_of(part))
    return {
        "part": part,
        "said": [cell for cell in cells if cell.is_said],
        "unsaid": [cell for cell in cells if not cell.is_said],
        "is_own": part_id in workshop.own_ids,
        "is_editable": is_own_file(workshop.catalogue, part_id),
        "uses": jobs_naming(part_id),
        "modules": modules_naming(part_id),
    }


def _part(part_id: str) -> Part:
    part = the_stock().workshop.catalogue.parts.get(part_id)
    if part is None:
        raise Http404
    return part


@changing
def new_part(request: HttpRequest) -> HttpResponse:
    """Take a new own part, begun from nothing or from another part."""
    kind, source = request.GET.get("kind", ""), request.GET.get("from", "")
    if source:
        part = _part(source)
        kind, raw = part.kind, {**raw_of(part), "id": f"{part.id}-own"[:60]}
    else:
        raw = {}
    if kind not in kinds():
        return render(request, "web/part_kind.html", {"kinds": sorted(kinds())})
    return _form(request, kind, raw, part_id=None)


@changing
def edit_part(request: HttpRequest, part_id: str) -> HttpResponse:
    """Change an own part."""
    part = _part(part_id)
    if not is_own_file(the_stock().workshop.catalogue, part_id):
        raise PermissionDenied
    return _form(request, part.kind, raw_of(part), part_id=part_id)


def _form(request: HttpRequest, kind: str, raw: dict[str, Any], *, part_id: str | None) -> HttpResponse:
    """Show the fields of a part, or keep what was typed; what is wrong stands beside its field."""
    problems: tuple[Problem, ...] = ()
    if request.method == "POST":
        raw = {**{name[2:]: str(value) for name, value in request.POST.items() if name.startswith("f-")}}
        try:
            _check_unchanged(request, part_id)
            typed = raw_from(kind, {name: str(value) for name, value in request.POST.items()})
            arrival = _arrived(typed, part_id)
            return _kept(request, arrival)
        except JobError as error:
            problems = error.problems
    cells = part_cells(kind, raw, problems=problems)
    words = {
        "kind": kind,
        "part_id": part_id,
        "needed": [cell for cell in cells if cell.field.is_needed],
        "further": [cell for cell in cells if not cell.field.is_needed],
        "has_further": any(cell.is_said or cell.problem for cell in cells if not cell.field.is_needed),
        "problems": problems,
        "uses": jobs_naming(part_id) if part_id else (),
        "was": request.POST.get("was", "") or _was(part_id),
    }
    return render(request, "web/part_form.html", words, status=422 if problems else 200)


def _was(part_id: str | None) -> str:
    """Return what tells one state of a part from another."""
    return "" if part_id is None else was_text(raw_of(_part(part_id)))


def _check_unchanged(request: HttpRequest, part_id: str | None) -> None:
    """Refuse what was typed over a part that another person changed meanwhile."""
    if request.POST.get("was", "") != _was(part_id):
        message = gettext("this part was changed meanwhile; open it anew and type it again")
        raise JobError("part", (Problem(path="", message=message),))


def _arrived(typed: dict[str, Any], part_id: str | None) -> Arrival:
    """Return the part that was typed; an id is neither changed nor taken from another part."""
    catalogue = the_stock().workshop.catalogue
    if part_id is not None:
        typed = {**typed, "id": part_id}
    elif typed.get("id") in catalogue.parts:
        message = gettext("there is a part with this id; choose another")
        raise JobError("part", (Problem(path="id", message=message),))
    return part_from_table(typed, overrides=part_id is not None and is_override(part_id))


def _kept(request: HttpRequest, arrival: Arrival) -> HttpResponse:
    who, why = account_of(request).name, request.POST.get("why", "").strip()
    keep_part(arrival, who=who, why=why, address=address_of(request))
    return redirect("part", arrival.part.id)


@changing
@require_POST
def remove_part(request: HttpRequest, part_id: str) -> HttpResponse:
    """Take an own part away; refused while a job or a module names it."""
    part = _part(part_id)
    words = _part_words(part_id)
    if not words["is_editable"]:
        raise PermissionDenied
    if words["uses"] or words["modules"]:
        complaint = gettext(
            "Not taken away: jobs or modules still build it in. Put another part for it first."
        )
        return render(request, "web/part.html", {**words, "complaint": complaint}, status=409)
    remove(part.id)
    older = older_count(part_id)
    detail = f"{part.id}; earlier revisions of {older} jobs name it" if older else part.id
    log(account_of(request).name, "part taken away", address=address_of(request), detail=detail)
    return redirect("parts")
