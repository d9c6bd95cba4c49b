"""Power modules: their revisions, which jobs include which, and new revisions from a file."""

from __future__ import annotations

from typing import Any

from django.core.exceptions import PermissionDenied
from django.core.files.uploadedfile import UploadedFile
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_GET, require_POST

from ampwright.errors import JobError
from ampwright.job.definition_file import DEFINITION_FILE_BYTES
from ampwright.job.module import ModuleDefinition
from ampwright.web.guards import account_of, address_of, changing
from ampwright.web.modules import (
    arriving_module,
    definition_named,
    file_of_module,
    keep_module,
    known_definitions,
    known_revisions,
)
from ampwright.web.store import log
from ampwright.web.usage import jobs_with_module

__all__ = ["import_module", "module_list", "one_module", "remove_module"]


@require_GET
def module_list(request: HttpRequest) -> HttpResponse:
    """List the modules with their revisions and the jobs that include them."""
    uses = {name: jobs_with_module(name) for name in known_revisions()}
    rows = [
        (each, [use for use in uses[each.id] if use.places == (f"revision {each.revision}",)])
        for each in known_definitions()
    ]
    return render(request, "web/modules.html", {"rows": rows})


@require_GET
def one_module(request: HttpRequest, name: str, revision: str) -> HttpResponse:
    """Show one revision: parts, ports, options, and the jobs that include it."""
    return render(request, "web/module.html", _words(name, revision))


def _words(name: str, revision: str) -> dict[str, Any]:
    found = definition_named(name, revision)
    if found is None:
        raise Http404
    return {
        "module": found,
        "uses": jobs_with_module(name, revision),
        "others": [use for use in jobs_with_module(name) if use.places != (f"revision {revision}",)],
        "revisions": known_revisions()[name],
        "is_own": file_of_module(found).is_file(),
    }


@changing
def import_module(request: HttpRequest) -> HttpResponse:
    """Show what a new revision is and everything wrong in it; keep it when it is sent a second time."""
    if request.method != "POST":
        return render(request, "web/module_import.html", {})
    upload = request.FILES.get("file")
    if isinstance(upload, UploadedFile):
        name, content = upload.name or "module.toml", upload.read(DEFINITION_FILE_BYTES + 1)
    else:
        name, content = request.POST.get("name", "module.toml"), request.POST.get("content", "").encode()
    try:
        found, text = arriving_module(content, name)
    except JobError as error:
        return render(request, "web/module_import.html", {"problems": error.problems}, status=422)
    if "keep" in request.POST:
        return _kept(request, found, text)
    words = {"module": found, "text": text, "name": name, "others": jobs_with_module(found.id)}
    return render(request, "web/module_import.html", words)


def _kept(request: HttpRequest, found: ModuleDefinition, text: str) -> HttpResponse:
    keep_module(found, text)
    detail = f"{found.id}, revision {found.revision}"
    log(account_of(request).name, "module kept", address=address_of(request), detail=detail)
    return redirect("module", found.id, found.revision)


@changing
@require_POST
def remove_module(request: HttpRequest, name: str, revision: str) -> HttpResponse:
    """Take a kept revision away; refused while a job includes it."""
    words = _words(name, revision)
    if words["uses"]:
        complaint = gettext("Not taken away: jobs still include this revision.")
        return render(request, "web/module.html", {**words, "complaint": complaint}, status=409)
    if not words["is_own"]:
        raise PermissionDenied
    file_of_module(words["module"]).unlink(missing_ok=True)
    detail = f"{name}, revision {revision}"
    log(account_of(request).name, "module taken away", address=address_of(request), detail=detail)
    return redirect("modules")
