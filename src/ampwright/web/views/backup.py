"""The backup of the workshop, made and fetched by whoever manages it."""

from __future__ import annotations

import tempfile

from django.conf import settings
from django.http import FileResponse, HttpRequest, HttpResponseBase
from django.shortcuts import render
from django.utils import timezone

from ampwright.errors import FileError
from ampwright.web.backup.make import write_backup_to
from ampwright.web.backup.records import Manifest
from ampwright.web.backup.replace import kept_backups
from ampwright.web.guards import account_of, address_of, managing
from ampwright.web.store import log

__all__ = ["backup_page"]

COMMANDS = """ampwright restore ampwright-2026-12-01-1800.zip --data new-folder
ampwright serve --data new-folder"""
"""The same in every language."""


@managing
def backup_page(request: HttpRequest) -> HttpResponseBase:
    """Say what a backup holds, and make one."""
    data = settings.AMPWRIGHT_PLACE.data
    words = {"commands": COMMANDS, "kept": kept_backups(data)}
    if request.method != "POST":
        return render(request, "web/backup.html", words)
    stream = tempfile.TemporaryFile(dir=data, prefix=".backup-")  # noqa: SIM115 - the response closes it
    try:
        manifest = write_backup_to(stream, data)
    except FileError as error:
        stream.close()
        return render(request, "web/backup.html", {**words, "complaint": str(error)}, status=500)
    log(account_of(request).name, "backup made", address=address_of(request), detail=_counts(manifest))
    stream.seek(0)
    name = f"ampwright-{timezone.now():%Y-%m-%d-%H%M}.zip"
    return FileResponse(stream, as_attachment=True, filename=name, content_type="application/zip")


def _counts(manifest: Manifest) -> str:
    return ", ".join(f"{table.name} {table.row_count}" for table in manifest.tables)
