"""One operation of the interface: from this record both its address and its description are made."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Any, Literal

from ampwright.records import record
from ampwright.web.kept_files import FILE_BYTES
from ampwright.web.models import Account

__all__ = ["NUMBERS", "Call", "Operation", "Reply", "names_in"]

Method = Literal["GET", "POST", "PUT", "DELETE"]
Needs = Literal["look", "change", "move", "photograph"]
NUMBERS = frozenset({"job", "number", "photo"})
"""Names in an address that stand for numbers; all others stand for words."""


@record
class Call:
    """What was asked, checked against the operation's records."""

    account: Account
    """Who asks, with the role of the token."""
    address: str
    """Where from."""
    path: Mapping[str, Any]
    """Values of the names in the address."""
    query: Any
    """The operation's query record."""
    body: Any
    """The operation's body record, or bytes, or None."""
    if_match: str
    """The header If-Match; empty = none."""


@record
class Reply:
    """What is answered."""

    value: Any = None
    """The record; None = `content` is sent."""
    content: bytes = b""
    """A file's content."""
    file: str = ""
    """Name of that file."""
    status: int = 200
    """Status."""
    revision: int | None = None
    """Revision, sent as the header ETag."""
    location: str = ""
    """Address of what was made."""
    retry_after_s: int | None = None
    """When to ask again."""


@record
class Operation:
    """One thing the interface can do."""

    method: Method
    """Method."""
    path: str
    """Address below /api/v1/, names in braces."""
    name: str
    """Its name in programs made from the description."""
    summary: str
    """What it does, in one sentence."""
    act: Callable[[Call], Reply]
    """Does it."""
    gives: type | None
    """Record of its answer; None = a file."""
    takes: type | None = None
    """Record of its body; bytes = a file."""
    query: type | None = None
    """Record of what stands behind the address; None = nothing does."""
    most_bytes: int = FILE_BYTES
    """Largest file taken as the body."""
    needs: Needs = "look"
    """What the role must allow."""
    statuses: tuple[int, ...] = (200,)
    """Statuses where it is done."""
    troubles: tuple[int, ...] = ()
    """Statuses of troubles beyond those that every operation of its form knows."""


def names_in(path: str) -> tuple[str, ...]:
    """Return the names in an address."""
    return tuple(re.findall(r"\{(\w+)\}", path))
