"""Own parts of the workshop are kept, changed and taken away here: one file for each, checked whole before it is kept."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from ampwright.errors import FileError, JobError, Problem
from ampwright.job.toml_values import toml_lines
from ampwright.job.workshop import PARTS
from ampwright.parts.catalogue import SHIPPED, Catalogue, shipped_catalogue
from ampwright.parts.kinds import Part
from ampwright.parts.own_files import parts_file_of
from ampwright.parts.tables import id_text
from ampwright.records import record
from ampwright.web.app import the_stock, workshop_folder
from ampwright.web.shelf import write_whole

__all__ = [
    "Arrival",
    "Preview",
    "changed_fields",
    "file_of",
    "is_override",
    "is_own_file",
    "keep",
    "part_from_table",
    "preview",
    "raw_of",
    "remove",
]


@record
class Arrival:
    """One part of a file that may be kept."""

    part: Part
    """The part."""
    state: str
    """New, changed, or same as kept."""
    changes: tuple[str, ...]
    """What differs from what is kept."""
    raw: Mapping[str, Any]
    """Its table as written."""
    overrides: bool
    """True where it takes the place of a shipped part."""


@record
class Preview:
    """What a file would bring, and everything that is wrong in it."""

    name: str
    """Name of the file."""
    arrivals: tuple[Arrival, ...]
    """Its valid parts."""
    problems: tuple[Problem, ...]
    """Everything wrong; nothing is kept while there is anything."""


def file_of(part_id: str) -> Path:
    """Return the file of one own part; its id has been checked."""
    return workshop_folder() / PARTS / f"{part_id}.toml"


def is_own_file(catalogue: Catalogue, part_id: str) -> bool:
    """Say whether a part lies in its own file, as the app keeps it, not in one that was put there by hand."""
    return catalogue.origin.get(part_id) == str(file_of(part_id))


def is_override(part_id: str) -> bool:
    """Say whether a part of this id comes with the program."""
    return part_id in shipped_catalogue().parts


def raw_of(part: Part) -> dict[str, Any]:
    """Return the table of a part: everything that is not its default."""
    raw: dict[str, Any] = {}
    for field in dataclasses.fields(part):
        value = getattr(part, field.name)
        if field.default is dataclasses.MISSING or value != field.default or field.name == "kind":
            raw[field.name] = _plain(value)
    return raw


def _plain(value: Any) -> Any:
    if isinstance(value, tuple):
        return [_plain(each) for each in value]
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {
            field.name: _plain(getattr(value, field.name))
            for field in dataclasses.fields(value)
            if getattr(value, field.name) is not None
        }
    return value


def part_from_table(raw: Mapping[str, Any], *, overrides: bool = False) -> Arrival:
    """Return what one typed table would bring.

    Raises
    ------
    JobError
        With everything that is wrong in it.
    """
    text = _text(raw, overrides=overrides)
    found = preview(text.encode(), "part.toml")
    if found.problems:
        raise JobError("part", found.problems)
    return found.arrivals[0]


def preview(content: bytes, name: str) -> Preview:
    """Return what a file would bring; nothing is kept."""
    own = parts_file_of(content, Path(Path(name).name or "parts.toml"))
    stock, problems = the_stock(), list(own.problems)
    tables = {id_text(table.raw): table for table in own.tables}
    arrivals = []
    for part in own.parts:
        taken = _taken(stock.workshop.catalogue, part.id, is_meant=part.id in own.override_ids)
        table = tables[part.id]
        if taken:
            problems.append(Problem(path=f"part '{part.id}' > id", message=taken, line=table.line))
            continue
        raw = table.raw if isinstance(table.raw, dict) else {}
        arrivals.append(_arrival(part, raw, overrides=part.id in own.override_ids))
    return Preview(name=name, arrivals=tuple(arrivals), problems=tuple(problems))


def _taken(catalogue: Catalogue, part_id: str, *, is_meant: bool) -> str:
    """Return why an id cannot be used; empty where it can."""
    origin = catalogue.origin.get(part_id)
    if origin is None or is_own_file(catalogue, part_id):
        return ""
    if origin == SHIPPED:
        return (
            ""
            if is_meant
            else "a shipped part has this id; choose another, or write overrides = true to take its place"
        )
    return f"this id stands in {Path(origin).name}, which was put there by hand; take it out there first"


def _arrival(part: Part, raw: Mapping[str, Any], *, overrides: bool) -> Arrival:
    catalogue = the_stock().workshop.catalogue
    kept = catalogue.parts.get(part.id) if is_own_file(catalogue, part.id) else None
    changes = () if kept is None else tuple(changed_fields(kept, part))
    state = "new" if kept is None else "changed" if changes else "same"
    return Arrival(part=part, state=state, changes=changes, raw=raw, overrides=overrides)


def changed_fields(before: Part, after: Part) -> Iterator[str]:
    """Yield what differs between two parts, as "rating_a 100 to 200"."""
    old, new = raw_of(before), raw_of(after)
    for name in dict.fromkeys((*old, *new)):
        if old.get(name) != new.get(name):
            yield f"{name} {_said(old.get(name))} to {_said(new.get(name))}"


def _said(value: Any) -> str:
    if isinstance(value, float):
        return f"{value:.10g}"
    return "not said" if value is None else str(value)


def keep(arrivals: tuple[Arrival, ...]) -> None:
    """Keep parts, each in a file of its own."""
    for each in arrivals:
        if each.state != "same":
            write_whole(file_of(each.part.id), _text(each.raw, overrides=each.overrides))


def _text(raw: Mapping[str, Any], *, overrides: bool) -> str:
    head = "overrides = true\n\n" if overrides else ""
    return f"{head}[[part]]\n{toml_lines(raw)}"


def remove(part_id: str) -> None:
    """Take an own part away; whoever asks has looked that nothing names it."""
    if not is_own_file(the_stock().workshop.catalogue, part_id):
        raise FileError(f"'{part_id}' is no part that the workshop keeps in a file of its own")
    file_of(part_id).unlink(missing_ok=True)
