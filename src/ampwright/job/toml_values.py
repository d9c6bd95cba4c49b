"""Values as TOML text: what stands to the right of an equals sign."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Mapping
from typing import Any

__all__ = ["toml_key", "toml_lines", "toml_value"]

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_ESCAPES = {'"': '\\"', "\\": "\\\\", "\n": "\\n", "\t": "\\t", "\r": "\\r", "\b": "\\b", "\f": "\\f"}


def toml_value(value: Any) -> str:
    r"""Return a value as TOML writes it, tables in one line.

    Examples
    --------
    >>> toml_value({"start": "09:00", "duty_frac": 0.5, "days": ["a\"b"], "is_on": True})
    '{ start = "09:00", duty_frac = 0.5, days = ["a\\"b"], is_on = true }'
    """
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return repr(value)
    if isinstance(value, dt.date):
        return value.isoformat()
    if isinstance(value, Mapping):
        inside = ", ".join(f"{toml_key(key)} = {toml_value(each)}" for key, each in value.items())
        return f"{{ {inside} }}" if inside else "{}"
    if isinstance(value, list | tuple):
        return f"[{', '.join(toml_value(each) for each in value)}]"
    return _text(str(value))


def toml_key(key: str) -> str:
    """Return a key, in quotes where it needs them."""
    return key if _BARE.fullmatch(key) else _text(key)


def toml_lines(table: Mapping[str, Any]) -> str:
    """Return a table as lines, one key each."""
    return "".join(f"{toml_key(key)} = {toml_value(value)}\n" for key, value in table.items())


def _text(text: str) -> str:
    return f'"{"".join(_escaped(sign) for sign in text)}"'


def _escaped(sign: str) -> str:
    if sign in _ESCAPES:
        return _ESCAPES[sign]
    return f"\\u{ord(sign):04x}" if ord(sign) < 0x20 or ord(sign) == 0x7F else sign
