"""A comparison as plain dictionaries and lists, the same for the command line and any other program."""

from __future__ import annotations

import dataclasses
import math
from typing import Any

from ampwright.documents.comparison.records import Comparison

__all__ = ["plain_comparison"]


def plain_comparison(found: Comparison) -> dict[str, Any]:
    """Return a comparison; numbers that are not known are null."""
    plain: dict[str, Any] = _plain(dataclasses.asdict(found))
    return {**plain, "is_same_answer": found.is_same_answer}


def _plain(value: Any) -> Any:
    if isinstance(value, dict):
        return {name: _plain(each) for name, each in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(each) for each in value]
    if isinstance(value, float):
        return value if math.isfinite(value) else None
    return value if value is None or isinstance(value, bool | int) else str(value)
