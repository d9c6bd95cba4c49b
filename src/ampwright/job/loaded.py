"""A job together with the text it was read from, so that messages can name lines."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from ampwright.job.own_tables import OwnTables
from ampwright.job.records import Job
from ampwright.job.workshop import Workshop
from ampwright.records import record

__all__ = ["LoadedJob"]


@record
class LoadedJob:
    """A job with the text it was read from."""

    job: Job
    """The job."""
    file: Path
    """Where it was read."""
    text: str
    """Its text, for messages with lines."""
    raw: dict[str, Any]
    """Its tables before validation."""
    sha256: str
    """Hash of the text."""
    tables: OwnTables = OwnTables()
    """Its own tables, read."""
    workshop: Workshop | None = None
    """What else it may name; None = only what is shipped and its own files."""
