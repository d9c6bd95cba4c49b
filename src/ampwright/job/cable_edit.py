"""Writes other cables into the text of a job file: only their names change, every comment stays."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from typing import Any

from ampwright.errors import FileError
from ampwright.job.loaded import LoadedJob
from ampwright.toml_positions import line_of

__all__ = ["relative_files", "with_cables"]


def with_cables(loaded: LoadedJob, cables: Mapping[str, str]) -> str:
    """Return the text of a job with other cables, out and back, by label of the run.

    Raises
    ------
    FileError
        Where a name cannot be exchanged in the text without touching anything else.
    """
    lines = loaded.text.split("\n")
    wanted = tomllib.loads(loaded.text)
    for index, run in enumerate(wanted.get("run", [])):
        for key in ("cable", "back_cable"):
            if run["id"] in cables and run.get(key):
                _exchange(lines, loaded, ("run", index, key), becomes=cables[run["id"]])
                run[key] = cables[run["id"]]
    text = "\n".join(lines)
    if tomllib.loads(text) != wanted:
        raise FileError(f"{loaded.file}: the cables cannot be exchanged in its text; change them by hand")
    return text


def _exchange(lines: list[str], loaded: LoadedJob, path: tuple[str, int, str], *, becomes: str) -> None:
    """Put another name in place of the one on the line where it is written."""
    _, index, key = path
    old = str(getattr(loaded.job.run[index], key))
    number = line_of(loaded.text, path) or 1
    found = re.compile(rf"(?<![\w-])([\"']?{key}[\"']?\s*=\s*)([\"']){re.escape(old)}\2")
    text, count = found.subn(rf"\g<1>\g<2>{becomes}\g<2>", lines[number - 1])
    if count != 1:
        raise FileError(
            f"{loaded.file}: line {number}: {key} of run '{loaded.job.run[index].id}' cannot be told apart there; "
            "give the run lines of its own, or change it by hand"
        )
    lines[number - 1] = text


def relative_files(raw: Mapping[str, Any]) -> Iterator[str]:
    """Yield the files a job names beside itself."""
    for key, value in raw.items():
        if isinstance(value, Mapping):
            yield from relative_files(value)
        elif key.endswith(("_file", "_files")):
            yield from value if isinstance(value, list) else [value]
