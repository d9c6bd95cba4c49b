"""The list of contents of a backup."""

from __future__ import annotations

from typing import Annotated

from annotated_types import Ge, Le, MaxLen

from ampwright.records import record

__all__ = ["BACKUP", "Content", "Form", "Manifest", "TableCount"]

Name = Annotated[str, MaxLen(400)]
Whole = Annotated[int, Ge(0), Le(10**15)]


@record
class Form:
    """One kind of file that is written part by part with a list of contents."""

    kind: str
    """Words in the list that tell it from any other file."""
    format: int
    """Grows where an older program could not read the file any more."""
    shape: type
    """Record of its list of contents."""
    tops: tuple[str, ...]
    """With what the name of each part begins."""
    called: str
    """What it is called."""


@record
class TableCount:
    """How many rows of one table are in it."""

    name: Name
    """Name of the table's record."""
    row_count: Whole
    """Rows."""


@record
class Content:
    """One part of the backup."""

    name: Name
    """Name in the file."""
    size_bytes: Whole
    """Its size."""
    sha256: Name
    """Hash of it."""


@record
class Manifest:
    """What a backup holds; it is the last part of the file."""

    kind: Name
    """Always the same words: they tell it from any other file."""
    format: Annotated[int, Ge(1), Le(10_000)]
    """Which form it has."""
    program_version: Name
    """Version of the program that made it."""
    made_at: Name
    """When (ISO 8601)."""
    tables_as_of: Name
    """Name of the last change of the tables that the program knew."""
    tables: tuple[TableCount, ...]
    """Rows by table."""
    contents: tuple[Content, ...]
    """Everything but this list."""


BACKUP = Form(
    kind="ampwright workshop backup",
    format=1,
    shape=Manifest,
    tops=("tables/", "files/"),
    called="backup of a workshop",
)
