"""The interface described for other programs (OpenAPI 3.1), made from the list of operations and their records."""

from __future__ import annotations

import json
from collections.abc import Iterator
from functools import lru_cache
from typing import Any, Literal

from pydantic import TypeAdapter

from ampwright import __version__
from ampwright.job.schema import WithMeanings
from ampwright.web.interface.operation import NUMBERS, Operation, names_in
from ampwright.web.interface.routes import ROUTES
from ampwright.web.interface.trouble import MEDIA_TYPE, TITLES, Trouble

__all__ = ["described", "description"]

Mode = Literal["serialization", "validation"]
Refs = dict[Any, dict[str, Any]]
ABOUT = (
    "Jobs, verdicts and documents of one workshop, on the same records as its pages. Every verdict carries "
    "its revision and stage: `quick` is never the whole verdict. A calculation, no certificate: the local code "
    "and licensed practice decide."
)
ALWAYS = (401, 403, 422, 429)
"""Troubles that every operation knows."""
SUCCESSES = {200: "Done", 201: "Made", 202: "Not there yet; ask again"}
IF_MATCH = {
    "name": "If-Match",
    "in": "header",
    "description": "ETag of the text it was made from, in place of `before`.",
    "schema": {"type": "string"},
}
MEANINGS = {
    "job": "Number of the job.",
    "number": "Number of the revision.",
    "photo": "Number of the photo.",
    "name": "Name of the document.",
    "file": "Name of the file.",
    "part": "Id of the part.",
    "module": "Id of the module's type.",
    "letter": "Revision of the module.",
    "place": "Id of the place.",
}


@lru_cache(maxsize=1)
def description() -> bytes:
    """Return the description as JSON (a memo: the program does not change while it runs)."""
    return json.dumps(described(), ensure_ascii=False, indent=1).encode()


def described() -> dict[str, Any]:
    """Return the description."""
    refs, schemas = _schemas()
    paths: dict[str, dict[str, Any]] = {}
    for operation in ROUTES:
        paths.setdefault(f"/api/v1/{operation.path}", {})[operation.method.lower()] = _operation(
            operation, refs
        )
    token = {"type": "http", "scheme": "bearer", "description": "Made on the page Tokens."}
    return {
        "openapi": "3.1.0",
        "info": {"title": "Ampwright", "version": __version__, "description": ABOUT},
        "servers": [{"url": "/"}],
        "security": [{"token": []}],
        "paths": paths,
        "components": {"schemas": schemas, "securitySchemes": {"token": token}},
    }


def _schemas() -> tuple[Refs, dict[str, Any]]:
    """Return where the schema of each record stands, and all of them."""
    given = {each.gives for each in ROUTES if each.gives is not None} | {Trouble}
    taken = {each.takes for each in ROUTES if each.takes not in (None, bytes)}
    kinds: list[tuple[Any, Mode]] = [(kind, "serialization") for kind in given]
    kinds += [(kind, "validation") for kind in taken]
    kinds.sort(key=lambda each: each[0].__name__)
    refs, whole = TypeAdapter.json_schemas(
        [(kind, mode, TypeAdapter(kind)) for kind, mode in kinds],
        ref_template="#/components/schemas/{model}",
        schema_generator=WithMeanings,
    )
    schemas = whole["$defs"]
    for kind, mode in kinds:  # a record that no other names stands by itself
        if "$ref" not in refs[kind, mode]:
            schemas[kind.__name__] = refs[kind, mode]
    return {kind: {"$ref": f"#/components/schemas/{kind.__name__}"} for kind, _ in kinds}, schemas


def _operation(operation: Operation, refs: Refs) -> dict[str, Any]:
    made: dict[str, Any] = {
        "operationId": operation.name,
        "summary": operation.summary,
        "parameters": [*_names(operation), *_query(operation.query)],
        "responses": {**_successes(operation, refs), **_troubles(operation, refs)},
    }
    if operation.name == "put_text":
        made["parameters"].append(IF_MATCH)
    if operation.takes is bytes:
        made["requestBody"] = {"required": True, "content": {"application/octet-stream": {}}}
    elif operation.takes is not None:
        content = {"application/json": {"schema": refs[operation.takes]}}
        made["requestBody"] = {"required": True, "content": content}
    return made


def _names(operation: Operation) -> Iterator[dict[str, Any]]:
    """Yield what the names in an address stand for."""
    for name in names_in(operation.path):
        number = {"type": "integer", "minimum": 1, "maximum": 2_000_000_000}
        schema = number if name in NUMBERS else {"type": "string", "minLength": 1}
        yield {
            "name": name,
            "in": "path",
            "required": True,
            "description": MEANINGS[name],
            "schema": schema,
        }


def _query(kind: type | None) -> Iterator[dict[str, Any]]:
    """Yield what may stand behind an address."""
    if kind is None:
        return
    schema = TypeAdapter(kind).json_schema(schema_generator=WithMeanings)
    for name, field in schema.get("properties", {}).items():
        plain = {key: value for key, value in field.items() if key not in ("title", "description")}
        if "anyOf" in plain:  # absent says it; there is no null behind an address
            plain = next(each for each in plain["anyOf"] if each.get("type") != "null")
        yield {"name": name, "in": "query", "description": field["description"], "schema": plain}


def _successes(operation: Operation, refs: Refs) -> dict[str, Any]:
    file = {"application/octet-stream": {"schema": {"type": "string", "format": "binary"}}}
    content = file if operation.gives is None else {"application/json": {"schema": refs[operation.gives]}}
    return {
        str(status): {"description": SUCCESSES[status], "content": content} for status in operation.statuses
    }


def _troubles(operation: Operation, refs: Refs) -> dict[str, Any]:
    statuses = {*ALWAYS, *operation.troubles}
    if names_in(operation.path):
        statuses.add(404)
    if operation.takes is not None:
        statuses |= {413, 415} if operation.takes is bytes else {400, 413, 415}
    content = {MEDIA_TYPE: {"schema": refs[Trouble]}}
    return {
        str(status): {"description": TITLES[status][1], "content": content} for status in sorted(statuses)
    }
