"""Where in a TOML text each table, key and list element stands, as spans of bytes."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from ampwright.records import record
from ampwright.toml_positions import key_parts

if TYPE_CHECKING:
    from tree_sitter import Node

__all__ = ["KeyPath", "Places", "Span", "text_places"]

KeyPath = tuple[str | int, ...]
Span = tuple[int, int]


@record
class Places:
    """Spans of bytes in one text."""

    pairs: dict[KeyPath, Span]
    """Of "key = value", by the path of the value."""
    values: dict[KeyPath, Span]
    """Of each value, list elements too."""
    tables: dict[KeyPath, Span]
    """Of each headed table: from its head to the end of its last own key."""
    kinds: dict[KeyPath, str]
    """What each value is in the grammar, e.g. "inline_table" or "array"."""


def text_places(content: bytes) -> Places:
    """Return where everything stands in a TOML text that was read without complaint."""
    import tree_sitter_toml  # noqa: PLC0415 - only where a text is changed
    from tree_sitter import Language, Parser  # noqa: PLC0415

    tree = Parser(Language(tree_sitter_toml.language())).parse(content)
    places = Places(pairs={}, values={}, tables={}, kinds={})
    last_index: dict[KeyPath, int] = {}
    for node in tree.root_node.named_children:
        if node.type == "pair":
            _note_pair(node, (), places)
        elif node.type in ("table", "table_array_element"):
            _note_table(node, places, last_index)
    return places


def _note_table(node: Node, places: Places, last_index: dict[KeyPath, int]) -> None:
    head, *rest = node.named_children
    path: KeyPath = ()
    parts = key_parts(head)
    for number, part in enumerate(parts, start=1):
        path = (*path, part)
        if number == len(parts) and node.type == "table_array_element":
            last_index[path] = last_index.get(path, -1) + 1
        if path in last_index:
            path = (*path, last_index[path])
    pairs = [child for child in rest if child.type == "pair"]
    end = pairs[-1].end_byte if pairs else head.end_byte + (1 if node.type == "table" else 2)
    places.tables[path] = (node.start_byte, end)
    for pair in pairs:
        _note_pair(pair, path, places)


def _note_pair(node: Node, base: KeyPath, places: Places) -> None:
    """Note a key and, without recursion, every inline table and list below it."""
    waiting: list[tuple[Node, KeyPath]] = [(node, base)]
    while waiting:
        at, path = waiting.pop()
        if at.type == "pair":
            key, value = at.named_children[:2]
            path = (*path, *key_parts(key))
            places.pairs[path] = (at.start_byte, at.end_byte)
        else:
            value = at
        places.values[path] = (value.start_byte, value.end_byte)
        places.kinds[path] = value.type
        waiting.extend(_below(value, path))


def _below(value: Node, path: KeyPath) -> Iterator[tuple[Node, KeyPath]]:
    children = [child for child in value.named_children if child.type != "comment"]
    if value.type == "inline_table":
        yield from ((child, path) for child in children)
    elif value.type == "array":
        yield from ((child, (*path, index)) for index, child in enumerate(children))
