"""From records to JSON text and back, checked at this edge alone."""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import lru_cache
from typing import Any, get_args

from pydantic import TypeAdapter, ValidationError

from ampwright.field_types import field_hints
from ampwright.validation import problems_from, validated
from ampwright.web.interface.trouble import RefusalError, told

__all__ = ["adapter", "body_record", "json_text", "query_record"]


@lru_cache(maxsize=128)
def adapter(kind: Any) -> TypeAdapter[Any]:
    """Return the machine for one record (a memo: a record does not change)."""
    return TypeAdapter(kind)


def json_text(value: object) -> bytes:
    """Return a record as JSON; numbers that are none are null."""
    kind: Any = type(value)
    return adapter(kind).dump_json(value)


def body_record(kind: type, content: bytes) -> Any:
    """Return the record that was sent.

    Raises
    ------
    RefusalError
        Where it is no JSON, or not this record.
    """
    try:
        raw = json.loads(content, parse_constant=_no_number)
    except (ValueError, RecursionError) as error:
        raise RefusalError(400, f"the body is no JSON: {error}"[:200], "send one JSON object") from None
    return _checked(kind, raw, "the body")


def query_record(kind: type | None, words: Mapping[str, list[str]]) -> Any:
    """Return the record of what stands behind an address."""
    if kind is None:
        if words:
            raise RefusalError(422, "nothing may stand behind this address", "leave it out")
        return None
    hints = field_hints(kind)
    raw: dict[str, Any] = {}
    for name, values in words.items():
        if len(values) > 1:
            raise RefusalError(422, f"{name[:60]} stands behind the address twice", "give it once")
        raw[name] = _typed(hints.get(name), values[0])
    return _checked(kind, raw, "what stands behind the address")


def _checked(kind: type, raw: object, place: str) -> Any:
    try:
        return validated(kind, raw)
    except (ValidationError, UnicodeEncodeError) as error:
        if isinstance(error, UnicodeEncodeError):
            raise RefusalError(422, f"{place} has signs that are no text", "leave them out") from None
        problems = told(tuple(problems_from(error, raw, kind=kind)))
        mend = "compare it with /api/v1/openapi.json"
        raise RefusalError(422, f"{place} is not what is taken here", mend, problems=problems) from None


def _typed(hint: Any, text: str) -> Any:
    """Return a word as the number or truth it is meant to be; else the word, for the validator to refuse."""
    kinds = (hint, *get_args(hint))
    if bool in kinds and text in ("true", "false"):
        return text == "true"
    if int in kinds and text.isascii() and text.isdigit() and len(text) < 19:
        return int(text)
    return text


def _no_number(text: str) -> float:
    raise ValueError(f"{text} is no number")
