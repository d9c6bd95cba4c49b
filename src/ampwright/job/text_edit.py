"""Changes one value, or adds or removes one row, in the text of a job; every comment stays.

What comes out is read again: where it does not say exactly what was wanted, nothing is changed.
"""

from __future__ import annotations

import copy
import re
import tomllib
from collections.abc import Mapping
from typing import Any

from ampwright.errors import FileError
from ampwright.job.text_places import KeyPath, Places, Span, text_places
from ampwright.job.toml_values import toml_key, toml_lines, toml_value

__all__ = ["value_at", "with_row", "with_value", "without_row"]

_REST_OF_LINE = re.compile(rb"[ \t]*(?:#[^\n]*)?(?=\n|\Z)")
_COMMA_AFTER = re.compile(rb"[ \t]*,[ \t]*")
_COMMA_BEFORE = re.compile(rb",\s*\Z")


def value_at(raw: Any, path: KeyPath) -> Any:
    """Return what stands at a path of the tables read; None where nothing does."""
    for step in path:
        if isinstance(raw, Mapping):
            raw = raw.get(str(step))
        elif isinstance(raw, list) and isinstance(step, int) and 0 <= step < len(raw):
            raw = raw[step]
        else:
            return None
    return raw


def with_value(text: str, path: KeyPath, value: Any) -> str:
    """Return the text with another value at a path; None takes the key, or the table, away.

    Raises
    ------
    FileError
        Where the text is written so that this cannot be changed without touching anything else.
    """
    wanted = tomllib.loads(text)
    if value is None and value_at(wanted, path) is None:
        return text
    _put(wanted, path, value)
    content = text.encode()
    places = text_places(content)
    if value is None:
        changed = _without(content, places, path)
    elif path in places.values:
        start, end = places.values[path]
        changed = content[:start] + toml_value(value).encode() + content[end:]
    else:
        changed = _added(content, places, path, value)
    return _proved(changed, wanted, path)


def with_row(text: str, path: KeyPath, row: Mapping[str, Any]) -> str:
    """Return the text with one row more at the end of the list at a path; errors as `with_value`."""
    wanted = tomllib.loads(text)
    rows = value_at(wanted, path)
    if rows is None:
        _put(wanted, path, [dict(row)])
    else:
        rows.append(dict(row))
    content = text.encode()
    places = text_places(content)
    count = len(rows or ()) - 1 if rows is not None else 0
    if path in places.values:
        changed = _with_item(content, places, path, toml_value(row).encode())
    elif (*path, count - 1) in places.tables:
        end = _end_of_table(content, places, (*path, count - 1))
        changed = _inserted(content, end, f"\n{_head(path, is_row=True)}{toml_lines(row)}")
    elif len(path) == 1:
        changed = _at_end(content, f"{_head(path, is_row=True)}{toml_lines(row)}")
    else:
        changed = _added(content, places, path, [row])
    return _proved(changed, wanted, path)


def without_row(text: str, path: KeyPath) -> str:
    """Return the text without the row at a path, which ends in its position; errors as `with_value`."""
    wanted = tomllib.loads(text)
    _put(wanted, path, None)
    content = text.encode()
    places = text_places(content)
    changed = _without(content, places, path)
    if not value_at(wanted, path[:-1]) and path not in places.values:  # the last headed row: its list is gone
        _put(wanted, path[:-1], None)
    return _proved(changed, wanted, path)


def _proved(content: bytes, wanted: Any, path: KeyPath) -> str:
    """Return the changed text once it says what is wanted."""
    text = content.decode()
    try:
        is_right = tomllib.loads(text) == wanted
    except ValueError:
        is_right = False
    if not is_right:
        place = ".".join(str(step) for step in path)
        raise FileError(
            f"{place}: cannot be changed in this text without touching more; change it in the text"
        )
    return text


def _put(raw: Any, path: KeyPath, value: Any) -> None:
    """Put a value into the tables; None takes it out; tables in between are made."""
    at = raw
    for step in path[:-1]:
        at = at.setdefault(step, {}) if isinstance(at, dict) else at[step]
    if value is not None:
        at[path[-1]] = copy.deepcopy(value)
    elif isinstance(at, list):
        del at[int(path[-1])]
    else:
        at.pop(path[-1], None)


def _head(path: KeyPath, *, is_row: bool) -> str:
    name = ".".join(toml_key(str(step)) for step in path)
    return f"[[{name}]]\n" if is_row else f"[{name}]\n"


def _added(content: bytes, places: Places, path: KeyPath, value: Any) -> bytes:
    """Add a key that is not there, in the table around it."""
    around, key = path[:-1], str(path[-1])
    line = f"{toml_key(key)} = {toml_value(value)}"
    if (
        isinstance(value, Mapping)
        and all(isinstance(step, str) for step in path)
        and around not in places.values
    ):
        return _at_end(content, f"{_head(path, is_row=False)}{toml_lines(value)}")
    if around in places.tables:
        return _inserted(content, places.tables[around][1], line + "\n")
    if around in places.values:
        return _with_item(content, places, around, line.encode())
    if not around:
        ends = [span[1] for path_, span in places.pairs.items() if _is_of_root(path_, places)]
        return _inserted(content, max(ends), line + "\n") if ends else line.encode() + b"\n" + content
    return _at_end(content, f"{_head(around, is_row=False)}{line}\n")


def _is_of_root(path: KeyPath, places: Places) -> bool:
    return all(path[:length] not in places.tables for length in range(1, len(path)))


def _at_end(content: bytes, addition: str) -> bytes:
    return content.rstrip() + b"\n\n" + addition.encode()


def _inserted(content: bytes, after: int, lines: str) -> bytes:
    """Insert whole lines below the line in which `after` lies."""
    end = content.find(b"\n", after)
    if end < 0:
        return content + b"\n" + lines.encode()
    return content[: end + 1] + lines.encode() + content[end + 1 :]


def _with_item(content: bytes, places: Places, path: KeyPath, item: bytes) -> bytes:
    """Add an item before the bracket that closes a list or inline table."""
    start, end = places.values[path]
    inside = [span[1] for each, span in _items(places, path)]
    if not inside:
        gap = b" " if places.kinds[path] == "inline_table" else b""
        return content[:start] + content[start : start + 1] + gap + item + gap + content[end - 1 :]
    last = max(inside)
    first = min(span[0] for _, span in _items(places, path))
    line_start = content.rfind(b"\n", 0, first) + 1
    glue = b", "
    if b"\n" in content[start:first] and not content[line_start:first].strip():
        glue = b",\n" + content[line_start:first]
    return content[:last] + glue + item + content[last:]


def _items(places: Places, path: KeyPath) -> list[tuple[KeyPath, Span]]:
    """Return the direct members of a list or inline table with their spans."""
    spans = places.pairs if places.kinds[path] == "inline_table" else places.values
    inside = [
        (each, span) for each, span in spans.items() if len(each) > len(path) and each[: len(path)] == path
    ]
    if places.kinds[path] == "array":
        return [entry for entry in inside if len(entry[0]) == len(path) + 1]
    starts = [span for _, span in inside]
    return [(each, span) for each, span in inside if not any(a < span[0] and span[1] < b for a, b in starts)]


def _without(content: bytes, places: Places, path: KeyPath) -> bytes:
    """Take away a key, a table or a row."""
    if path in places.tables:
        start = places.tables[path][0]
        end = _end_of_table(content, places, path)
        after = _REST_OF_LINE.match(content, end)
        end = after.end() if after else end
        return content[:start].rstrip(b" \t") + content[end:].lstrip(b"\n")
    span = places.pairs.get(path) or places.values.get(path)
    if span is None:
        return content
    return _cut(content, span, is_line=_is_line(places, path))


def _is_line(places: Places, path: KeyPath) -> bool:
    """Say whether a key stands in lines of its own: neither in an inline table nor in a list."""
    return not any(path[:length] in places.values for length in range(1, len(path)))


def _end_of_table(content: bytes, places: Places, path: KeyPath) -> int:
    """Return the end of the last key of a table and of the tables below it."""
    ends = [span[1] for each, span in places.tables.items() if each[: len(path)] == path]
    return min(max(ends), len(content))


def _cut(content: bytes, span: Span, *, is_line: bool) -> bytes:
    start, end = span
    if is_line:
        after = _REST_OF_LINE.match(content, end)
        line_end = (after.end() if after else end) + 1
        return content[: content.rfind(b"\n", 0, start) + 1] + content[line_end:]
    comma = _COMMA_AFTER.match(content, end)
    if comma:
        line_start = content.rfind(b"\n", 0, start) + 1
        if not content[line_start:start].strip() and content[comma.end() : comma.end() + 1] == b"\n":
            return content[:line_start] + content[comma.end() + 1 :]
        return content[:start] + content[comma.end() :]
    before = _COMMA_BEFORE.search(content, 0, start)
    return content[: before.start() if before else start] + content[end:]
