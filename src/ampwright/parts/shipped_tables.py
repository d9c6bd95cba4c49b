"""The raw tables of the shipped parts: read from TOML once, then from a copy that loads in a tenth of the time.

The copy lies with the cached days of the sun, named by what the TOML says, so that it can never be older than
that. See docs/decisions/008-copy-of-the-shipped-parts.md.
"""

from __future__ import annotations

import hashlib
import json
import tempfile
import tomllib
from collections.abc import Iterable
from importlib.resources import files
from pathlib import Path
from typing import Any

from ampwright.climate.sources import cache_directory

__all__ = ["shipped_tables"]

Tables = dict[str, list[dict[str, Any]]]


def shipped_tables(kind_names: Iterable[str]) -> Tables:
    """Return the raw tables of the shipped parts by kind.

    A damaged or unwritable copy costs time, never an error.
    """
    folder = files("ampwright.parts") / "data"
    texts = {name: (folder / f"{name}.toml").read_text(encoding="utf-8") for name in kind_names}
    digest = hashlib.sha256("\0".join((*texts, *texts.values())).encode()).hexdigest()[:32]
    copy = cache_directory() / f"parts-{digest}.json"
    try:
        stored: Tables = json.loads(copy.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        stored = {}
    if isinstance(stored, dict) and stored.keys() == texts.keys():
        return stored
    tables = {name: tomllib.loads(text)["part"] for name, text in texts.items()}
    _store(copy, tables)
    return tables


def _store(file: Path, tables: Tables) -> None:
    """Write the copy beside its final name and move it there, so that no reader sees half a file."""
    written: Path | None = None
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.NamedTemporaryFile(
            "w", encoding="utf-8", dir=file.parent, suffix=".part", delete=False
        ) as stream:
            written = Path(stream.name)
            json.dump(tables, stream)
        written.replace(file)
    except OSError:
        if written is not None:
            written.unlink(missing_ok=True)
