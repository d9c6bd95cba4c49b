# ruff: noqa: SLF001 - Django names a model's columns by `_meta`
"""Rows of the app's tables as lines of JSON, in a form that belongs to no database, and back.

Going back they become rows of the tables as they were when the backup was made; then the usual migrations bring
them up to date, so that an older backup is read as if the program had been updated.
"""

from __future__ import annotations

import datetime as dt
import hashlib
import json
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import Any

from django.apps import apps
from django.core.management.color import no_style
from django.db import connection, models, transaction
from django.db.migrations.executor import MigrationExecutor
from django.db.migrations.recorder import MigrationRecorder

from ampwright.errors import FileError

__all__ = [
    "add_rows",
    "exclusive",
    "is_empty",
    "knows_change",
    "last_change",
    "lines_of",
    "rows_of",
    "snapshot",
    "table_models",
    "tables_at",
    "wrong_revisions",
]

LEFT_OUT = frozenset({"Token"})
"""Tokens let programs in; a restored one could have been revoked since."""
LOCK = 1_095_587_415
"""Number of the lock for exchanging all rows (our own choice)."""
LINE_BYTES = 64_000_000
"""Longest line read: a text of 2 MB and a large answer stay far below (our own choice)."""


def table_models() -> tuple[type[models.Model], ...]:
    """Return the app's models whose rows are kept, each after those it refers to."""
    waiting = [model for model in apps.get_app_config("web").get_models() if model.__name__ not in LEFT_OUT]
    found: list[type[models.Model]] = []
    while waiting:
        ready = [model for model in waiting if not _parents(model) & (set(waiting) - {model})]
        found += ready
        waiting = [model for model in waiting if model not in ready]
    return tuple(found)


def _parents(model: type[models.Model]) -> set[Any]:
    return {field.related_model for field in model._meta.concrete_fields if field.is_relation}


@contextmanager
def snapshot() -> Iterator[None]:
    """See the tables as they are at one moment, while others go on writing."""
    usual = getattr(connection, "transaction_mode", None)
    if connection.vendor == "sqlite":
        connection.transaction_mode = "DEFERRED"  # type: ignore[attr-defined] # reads alone: keeps nobody from writing
    try:
        with transaction.atomic(durable=True):
            if connection.vendor == "postgresql":
                with connection.cursor() as cursor:
                    cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")
            yield
    finally:
        if connection.vendor == "sqlite":
            connection.transaction_mode = usual  # type: ignore[attr-defined]


@contextmanager
def exclusive() -> Iterator[None]:
    """Change the tables while nobody else does so in this way; a file lets one writer in, a server is asked."""
    with transaction.atomic(durable=True):
        if connection.vendor == "postgresql":
            with connection.cursor() as cursor:
                cursor.execute("SELECT pg_advisory_xact_lock(%s)", [LOCK])
        yield


def rows_of(model: type[models.Model]) -> Iterator[bytes]:
    """Yield each row as a line of JSON."""
    names = [field.attname for field in model._meta.concrete_fields]
    for row in model._default_manager.order_by("pk").values(*names).iterator(chunk_size=200):
        yield json.dumps(row, ensure_ascii=False, default=_plain).encode() + b"\n"


def _plain(value: object) -> str:
    """Return a value as text that `to_python` of its field reads, to the last digit."""
    if isinstance(value, (dt.datetime, dt.date)):
        return value.isoformat()
    raise TypeError(f"a {type(value).__name__} has no form in a backup")


def last_change() -> str:
    """Return the name of the last change of the tables that was made."""
    done = MigrationRecorder(connection).applied_migrations()
    return max(name for app, name in done if app == "web")


def knows_change(change: str) -> bool:
    """Say whether this program knows a change of the tables."""
    return ("web", change) in MigrationExecutor(connection).loader.disk_migrations


def tables_at(change: str) -> Any:
    """Bring empty tables to where a change left them; return their models as of then.

    Raises
    ------
    FileError
        Where this program does not know the change.
    """
    executor = MigrationExecutor(connection)
    if ("web", change) not in executor.loader.disk_migrations:
        raise FileError(
            f"it was made by a newer program, whose tables ('{change[:60]}') this one does not know; "
            "bring this program up to date first"
        )
    executor.migrate([("web", change)])
    return MigrationExecutor(connection).loader.project_state([("web", change)]).apps


def is_empty() -> bool:
    """Say whether the app's tables in the database, where there are any, hold no row."""
    with connection.cursor() as cursor:
        for name in connection.introspection.table_names(cursor):
            if name.startswith("web_"):
                cursor.execute(f"SELECT 1 FROM {connection.ops.quote_name(name)} LIMIT 1")  # noqa: S608 - a name of the database itself
                if cursor.fetchone() is not None:
                    return False
    return True


def add_rows(model: type[models.Model], lines: Iterable[bytes]) -> int:
    """Add rows as they were written; return how many."""
    fields = {field.attname: field for field in model._meta.concrete_fields}
    count = 0
    for line in lines:
        raw = json.loads(line)
        if set(raw) != set(fields):
            raise FileError(f"a row of {model.__name__} in it does not have the table's columns")
        values = {name: _value(fields[name], value) for name, value in raw.items()}
        model(**values).save_base(raw=True, force_insert=True)  # times and numbers stay as they were
        count += 1
    with connection.cursor() as cursor:
        for statement in connection.ops.sequence_reset_sql(no_style(), [model]):
            cursor.execute(statement)
    return count


def _value(field: models.Field[Any, Any], value: Any) -> Any:
    is_raw = value is None or isinstance(field, (models.JSONField, models.ForeignKey))
    return value if is_raw else field.to_python(value)


def lines_of(chunks: Iterable[bytes]) -> Iterator[bytes]:
    """Yield the lines of a part that comes in pieces."""
    rest = b""
    for chunk in chunks:
        *whole, rest = (rest + chunk).split(b"\n")
        if len(rest) > LINE_BYTES:
            raise FileError("a row in it is longer than any this program writes")
        yield from whole
    if rest:
        raise FileError("its last row is cut off")


def wrong_revisions(model: type[models.Model]) -> tuple[int, list[str]]:
    """Return how many revisions there are, and those whose text is not what its hash says."""
    count, wrong = 0, []
    rows = model._default_manager.values_list("job_id", "number", "text", "sha256")
    for job_id, number, text, sha256 in rows.iterator(chunk_size=100):
        count += 1
        if hashlib.sha256(text.encode()).hexdigest() != sha256:
            wrong.append(f"job {job_id} revision {number}")
    return count, wrong
