"""Chunks of an atlas as Parquet files: written whole or not at all, known again by their hash."""

from __future__ import annotations

import os
from collections.abc import Iterable
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Any, get_type_hints

from ampwright.atlas.records import ROW_FIELDS, Chunk, Row
from ampwright.errors import FileError

if TYPE_CHECKING:
    import pyarrow as pa

__all__ = ["check_folder", "has_chunk", "read_rows", "write_chunk"]

HASH_KEY = b"ampwright_chunk"
PATTERN = "chunk-*.parquet"


def check_folder(folder: Path, chunks: Iterable[Chunk]) -> None:
    """Make the folder, and refuse one that holds another atlas.

    Raises
    ------
    FileError
        Where a chunk in it belongs to other jobs, places, months or another version.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise FileError(f"{folder}: cannot be made ({error.strerror}); choose another place") from error
    known = {_path(folder, chunk).name: chunk for chunk in chunks}
    for path in sorted(folder.glob(PATTERN)):
        if path.name not in known or _hash_in(path) not in {None, known[path.name].sha256}:
            raise FileError(
                f"{folder} holds another atlas ({path.name} is of other jobs, places, months or another "
                "version); choose an empty folder"
            )


def has_chunk(folder: Path, chunk: Chunk) -> bool:
    """Return whether a chunk lies there, whole and of these very cases."""
    path = _path(folder, chunk)
    return path.exists() and _hash_in(path) == chunk.sha256


def write_chunk(folder: Path, chunk: Chunk, rows: Iterable[Row]) -> Path:
    """Write the rows of a chunk and return the file; whoever is interrupted leaves no half file under its name."""
    import pyarrow as pa  # noqa: PLC0415 - an extra
    from pyarrow import parquet  # noqa: PLC0415 - an extra

    path = _path(folder, chunk)
    schema = _schema().with_metadata({HASH_KEY: chunk.sha256.encode()})
    table = pa.Table.from_pylist([asdict(row) for row in rows], schema=schema)
    half = path.with_suffix(f".{os.getpid()}.half")
    parquet.write_table(table, half)
    half.replace(path)
    return path


def read_rows(folder: Path) -> tuple[Row, ...]:
    """Return all rows of an atlas, in the order of its chunks."""
    from pyarrow import parquet  # noqa: PLC0415 - an extra

    found: list[Row] = []
    for path in sorted(folder.glob(PATTERN)):
        found += [Row(**row) for row in parquet.read_table(path).to_pylist()]
    return tuple(found)


def _path(folder: Path, chunk: Chunk) -> Path:
    return folder / f"chunk-{chunk.number:05d}.parquet"


def _hash_in(path: Path) -> str | None:
    """Return the hash a file was written for; None where it is no whole Parquet file."""
    import pyarrow as pa  # noqa: PLC0415 - an extra
    from pyarrow import parquet  # noqa: PLC0415 - an extra

    try:
        said = parquet.read_schema(path).metadata or {}
    except (pa.ArrowInvalid, OSError):
        return None
    return str(said.get(HASH_KEY, b""), "ascii")


def _schema() -> pa.Schema:
    import pyarrow as pa  # noqa: PLC0415 - an extra

    kinds: dict[Any, pa.DataType] = {str: pa.string(), int: pa.int64(), float: pa.float64()}
    hints = get_type_hints(Row)
    return pa.schema([(name, kinds[hints[name]]) for name in ROW_FIELDS])
