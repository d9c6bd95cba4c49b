"""Pieces of a first job's text: a figure with where it comes from, a table, a list of tables."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ampwright.job.toml_values import toml_lines, toml_value

__all__ = ["amount", "block", "commented", "figure"]

Range = tuple[float, float, float]
ASSUMED = "assumed"


def figure(value: float) -> float | int:
    """Return a number as a job file writes it: whole where it is whole.

    Examples
    --------
    >>> figure(4.0), figure(0.123456)
    (4, 0.123)
    """
    near = round(value, 3)
    return int(near) if near == int(near) else near


def amount(known: float | None, usual: Range, ask: str, *, factor: float = 1.0) -> Any:
    """Return a figure that the customer knows, or the usual range with the question that settles it.

    Examples
    --------
    >>> amount(90.0, (80.0, 100.0, 150.0), "read the label")
    90
    >>> amount(None, (80.0, 100.0, 150.0), "read the label")["unknown"]
    [80, 150]
    """
    if known is not None:
        return figure(known * factor)
    low, likely, high = (figure(each * factor) for each in usual)
    return {"unknown": [low, high], "likely": likely, "ask": ask}


def block(head: str, table: Mapping[str, Any], *, note: str = "") -> str:
    """Return one table of a job file under its comment."""
    return f"{commented(note)}{head}\n{toml_lines(table)}"


def commented(note: str) -> str:
    """Return a comment, nothing where there is none."""
    return "".join(f"# {line}\n" for line in note.splitlines())


def assumed(key: str, value: Any) -> str:
    """Return one line whose value nobody said."""
    return f"{key} = {toml_value(value)}   # {ASSUMED}\n"
