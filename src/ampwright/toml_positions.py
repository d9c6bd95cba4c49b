"""Reading TOML that strangers wrote, and finding the line of any key in it.

Answers: is this file readable TOML of sane size and shape, and in which line stands the value at a
path such as ("load", 2, "power_w")? What the keys mean is checked by whoever asked for the file.
"""

from __future__ import annotations

import re
import tomllib
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ampwright.errors import JobError, Problem

if TYPE_CHECKING:
    from tree_sitter import Node

__all__ = ["decoded_text", "key_parts", "line_of", "read_bytes", "read_toml", "text_of", "toml_tables"]

KeyPath = tuple[str | int, ...]

MAX_DEPTH_COUNT = 40
"""Deepest nesting of brackets read; a job needs four (our own choice)."""
MAX_DOT_COUNT = 20
"""Most dots in one key; the parser's time grows with their square (our own choice)."""

# Atomic groups, not possessive ones: Python 3.11.2 matches (?:...)*+ wrongly.
_TOKEN = re.compile(
    r"""
    (?P<text>\"{3}(?>(?:[^\"\\]++|\\[\s\S]|\"(?!\"\"))*)(?:\"{3,5}|\Z)
        |'{3}(?>(?:[^']++|'(?!''))*)(?:'{3,5}|\Z))
    |(?P<key>(?:[\w-]++|\"(?>(?:[^\"\\\n]++|\\.)*)(?:\"|(?=\n)|\Z)|'[^'\n]*+(?:'|(?=\n)|\Z))
        (?>(?:[ \t]*+\.[ \t]*+(?:[\w-]++|\"(?>(?:[^\"\\\n]++|\\.)*)\"|'[^'\n]*+'))*))
    |(?P<comment>\#[^\n]*+)
    |(?P<open>[\[{])
    |(?P<close>[\]}])
    """,
    re.VERBOSE,
)
_KEY_PART = re.compile(r"[\w-]++|\"(?>(?:[^\"\\\n]++|\\.)*)\"|'[^'\n]*+'")
_AT_LINE = re.compile(r" \(at (?:line (\d+), column \d+|end of document)\)$")
_TABLE_HEAD = re.compile(r"[ \t]*\[\[?([\w.-]+)\]")
_LONG_NUMBER = re.compile(r"[\d_]{4000,}")
_DECIMAL_COMMA = re.compile(r"=\s*[+-]?\d+(?:\.\d{3})*,\d+\s*(?:#.*)?$")
_WORDS_BY_PARSER_TEXT = (
    ("Cannot overwrite a value", "this key has a value already further up; keep one of the two"),
    ("Cannot declare", "this table stands already further up; keep one, or write [[...]] for a list"),
    ("Cannot mutate immutable namespace", "this table is closed already; write all its keys in one place"),
    ("Invalid value", "this is no TOML value; text needs quotes, a number uses a decimal point"),
    ("Expected '=' after a key", "a key must be followed by ="),
    ("Expected newline or end of document", "unexpected text after the value; one key per line"),
    ("Unclosed array", "a [ is not closed"),
    ("Unclosed inline table", "a { is not closed"),
    ('Expected "\'"', "a text is not closed by its quote"),
    ("Exceeds the limit", "a number has thousands of digits"),
    ("Unterminated string", "a text is not closed by its quote"),
    ("Illegal character", "a text is not closed by its quote, or holds a control character"),
)


def read_toml(path: Path, *, max_bytes: int) -> tuple[dict[str, Any], str]:
    """Return the tables of a TOML file and its text, lines ended by a plain line feed.

    Raises
    ------
    JobError
        With one problem: no such file, too large, not UTF-8, nested too deeply, or not TOML.
    """
    text = decoded_text(path, max_bytes=max_bytes)
    return toml_tables(text, path), text


def toml_tables(text: str, path: Path) -> dict[str, Any]:
    """Return the tables of a TOML text; `path` is what complaints call it.

    Raises
    ------
    JobError
        With one problem: nested too deeply, or not TOML.
    """
    shape = _shape_problem(text)
    if shape is not None:
        raise JobError(str(path), (shape,))
    try:
        return tomllib.loads(text)
    except RecursionError:
        problem = Problem(path="", message="nested too deeply to be read; write flat tables")
    except ValueError as error:  # also a number of thousands of digits
        problem = _syntax_problem(str(error), text)
    raise JobError(str(path), (problem,))


def decoded_text(path: Path, *, max_bytes: int) -> str:
    """Return a file's text from UTF-8, with or without a byte-order mark, lines ended by a line feed."""
    return text_of(read_bytes(path, max_bytes=max_bytes), path, max_bytes=max_bytes)


def text_of(raw: bytes, path: Path, *, max_bytes: int) -> str:
    """Return the text of bytes that came as a file, as `decoded_text` does; `path` is what complaints call it."""
    if len(raw) > max_bytes:
        raise _refused(path, _too_large(max_bytes))
    if raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
        raise _refused(path, "saved as UTF-16; save it again as UTF-8")
    at_nul = raw.find(b"\0")
    if at_nul >= 0:
        line = raw.count(b"\n", 0, at_nul) + 1
        raise _refused(path, "holds a zero byte, so it is no text; save it again as UTF-8 text", line)
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise _refused(path, "not UTF-8; save the file again with encoding UTF-8", line) from None
    return text.replace("\r\n", "\n")


def read_bytes(path: Path, *, max_bytes: int) -> bytes:
    """Return a file's bytes, never reading more than one byte past the limit."""
    if "\0" in str(path):
        raise _refused(path, "a file name cannot hold a zero byte")
    try:
        if path.is_dir():
            raise _refused(path, "is a directory; name a file")
        if path.exists() and not path.is_file():
            raise _refused(path, "is a device or pipe; name an ordinary file")
        with path.open("rb") as file:
            raw = file.read(max_bytes + 1)
    except FileNotFoundError:
        raise _refused(path, "no such file; look at its name and folder") from None
    except OSError as error:
        raise _refused(path, f"cannot be read: {error.strerror or error}") from None
    if len(raw) > max_bytes:
        raise _refused(path, _too_large(max_bytes))
    return raw


def line_of(text: str, path: KeyPath) -> int | None:
    r"""Return the line, from 1, of the value at `path`, or of the nearest table around it.

    Examples
    --------
    >>> line_of('[[load]]\nid = "fan"\n[[load]]\npower_w = 3', ("load", 1, "power_w"))
    4
    >>> line_of('[[load]]\nid = "fan"', ("load", 0, "power_w"))
    1
    >>> line_of("a = 1", ("b",)) is None
    True
    """
    line_by_path = _line_by_path(text)
    for length in range(len(path), 0, -1):
        if path[:length] in line_by_path:
            return line_by_path[path[:length]]
    return None


def _too_large(max_bytes: int) -> str:
    return f"larger than {max_bytes / 1e6:g} MB, the limit for such a file; is it the right one?"


def _refused(path: Path, message: str, line: int | None = None) -> JobError:
    return JobError(str(path), (Problem(path="", message=message, line=line),))


def _shape_problem(text: str) -> Problem | None:
    """Return the first place nested too deeply or with too many dots, in one linear pass."""
    depth_count = 0
    for token in _TOKEN.finditer(text):
        if token.lastgroup == "open":
            depth_count += 1
            if depth_count > MAX_DEPTH_COUNT:
                return _shape(text, token.start(), f"more than {MAX_DEPTH_COUNT} brackets nested")
        elif token.lastgroup == "close":
            depth_count = max(0, depth_count - 1)
        elif token.lastgroup == "key" and token.group().count(".") > MAX_DOT_COUNT:
            dot_count = sum(1 for _ in _KEY_PART.finditer(token.group())) - 1
            if dot_count > MAX_DOT_COUNT:
                return _shape(text, token.start(), f"a key with more than {MAX_DOT_COUNT} dots")
    return None


def _shape(text: str, at: int, what: str) -> Problem:
    return Problem(path="", message=f"{what}; write flat tables", line=text.count("\n", 0, at) + 1)


def _syntax_problem(parser_text: str, text: str) -> Problem:
    found = _AT_LINE.search(parser_text)
    lines = text.split("\n")
    line = None
    if found:
        line = int(found[1]) if found[1] else max(1, len(text.rstrip().split("\n")))
    elif (number := _LONG_NUMBER.search(text)) is not None:
        line = text.count("\n", 0, number.start()) + 1
    said = _AT_LINE.sub("", parser_text)
    plain = next((words for start, words in _WORDS_BY_PARSER_TEXT if said.startswith(start)), said)
    if line is not None and line <= len(lines) and _DECIMAL_COMMA.search(lines[line - 1]):
        plain = "a number uses a decimal point, not a comma, and no thousands separator"
    if said.startswith(("Cannot overwrite", "Cannot declare")) and line is not None:
        plain = _several_words(lines[line - 1], text) or plain
    return Problem(path="", message=f"not valid TOML: {plain}", line=line)


def _several_words(line: str, text: str) -> str:
    """Return how a table of which there are several is headed; empty where a line heads none such."""
    head = _TABLE_HEAD.match(line)
    if head is None or f"[[{head[1]}]]" not in text:
        return ""
    single = re.search(rf"^[ \t]*\[{re.escape(head[1])}\]", text, re.MULTILINE)
    where = f" in line {text.count(chr(10), 0, single.start()) + 1}" if single else ""
    return f"write [[{head[1]}]] with two brackets{where}: there may be several"


@lru_cache(maxsize=4)
def _line_by_path(text: str) -> dict[KeyPath, int]:
    """Return the line of every key, table and list element (a memo: same text, same answer)."""
    import tree_sitter_toml  # noqa: PLC0415 - only needed once something is wrong
    from tree_sitter import Language, Parser  # noqa: PLC0415

    tree = Parser(Language(tree_sitter_toml.language())).parse(text.encode("utf-8", "surrogatepass"))
    lines: dict[KeyPath, int] = {}
    last_index: dict[KeyPath, int] = {}
    for node in tree.root_node.named_children:
        if node.type == "pair":
            _note_value(node, (), lines)
        elif node.type in ("table", "table_array_element"):
            _note_table(node, lines, last_index)
    return lines


def _note_table(node: Node, lines: dict[KeyPath, int], last_index: dict[KeyPath, int]) -> None:
    """Note a [table] or an element of [[tables]] and all inside it."""
    children = node.named_children
    parts = key_parts(children[0]) if children else ()
    path: KeyPath = ()
    for number, part in enumerate(parts, start=1):
        path = (*path, part)
        lines.setdefault(path, node.start_point[0] + 1)
        if number == len(parts) and node.type == "table_array_element":
            last_index[path] = last_index.get(path, -1) + 1
        if path in last_index:
            path = (*path, last_index[path])
            lines.setdefault(path, node.start_point[0] + 1)
    for child in children[1:]:
        if child.type == "pair":
            _note_value(child, path, lines)


def _note_value(node: Node, base: KeyPath, lines: dict[KeyPath, int]) -> None:
    """Note a key and, without recursion, every inline table and list below it."""
    waiting: list[tuple[Node, KeyPath]] = [(node, base)]
    while waiting:
        at, path = waiting.pop()
        line = at.start_point[0] + 1
        children = [child for child in at.named_children if child.type != "comment"]
        if at.type == "pair" and children:
            for part in key_parts(children[0]):
                path = (*path, part)
                lines.setdefault(path, line)
            waiting.extend((child, path) for child in children[1:])
        elif at.type == "inline_table":
            waiting.extend((child, path) for child in reversed(children))
        elif at.type == "array":
            for index, child in enumerate(children):
                lines.setdefault((*path, index), child.start_point[0] + 1)
                waiting.append((child, (*path, index)))


def key_parts(node: Node) -> tuple[str, ...]:
    """Return the parts of a bare, quoted or dotted key."""
    parts: list[str] = []
    waiting = [node]
    while waiting:
        at = waiting.pop()
        if at.type == "dotted_key":
            waiting.extend(at.named_children)  # the last one pushed is popped first
        elif at.text is not None:
            parts.append(_plain_key(at.text.decode("utf-8", "surrogatepass")))
    return tuple(reversed(parts))


def _plain_key(key: str) -> str:
    if not key.startswith(('"', "'")):
        return key
    try:
        return next(iter(tomllib.loads(f"{key} = 0")))
    except tomllib.TOMLDecodeError:
        return key[1:-1]
