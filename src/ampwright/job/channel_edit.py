"""Writes other output channels into the text of a job file; every comment stays."""

from __future__ import annotations

import copy
from collections.abc import Iterator, Mapping
from typing import Any

from ampwright.job.loaded import LoadedJob
from ampwright.job.text_edit import with_value

__all__ = ["with_channels"]

Path = tuple[str | int, ...]


def with_channels(loaded: LoadedJob, moves: Mapping[str, str]) -> str:
    """Return the text of a job with circuits on other channels of their modules' nodes.

    Whatever names a channel moves with it: runs by the node "module.number", tables by `module` and `number`.

    Parameters
    ----------
    moves : new node by old node, e.g. {"outputs.5": "outputs.6", "outputs.6": "outputs.5"}

    Raises
    ------
    FileError
        Where the text is written so that it cannot be changed without touching more.
    """
    text = loaded.text
    for path, value in _changes(copy.deepcopy(loaded.raw), moves, ()):
        text = with_value(text, path, value)
    return text


def _changes(raw: Any, moves: Mapping[str, str], path: Path) -> Iterator[tuple[Path, Any]]:
    """Yield each value to be changed with its path; all are found before one is changed, so swaps are no trouble."""
    if isinstance(raw, dict):
        goal = moves.get(f"{raw['module']}.{raw['number']}") if {"module", "number"} <= raw.keys() else None
        if goal is not None:
            module, _, number = goal.rpartition(".")
            yield (*path, "module"), module
            yield (*path, "number"), int(number)
        for key, value in raw.items():
            if goal is None or key not in {"module", "number"}:
                yield from _changes(value, moves, (*path, key))
    elif isinstance(raw, list):
        for index, value in enumerate(raw):
            yield from _changes(value, moves, (*path, index))
    elif isinstance(raw, str) and raw in moves:
        yield path, moves[raw]
