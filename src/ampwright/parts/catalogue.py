"""The catalogue: shipped parts, and a workshop's own from TOML or CSV files."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import is_dataclass, replace
from pathlib import Path
from typing import Any, TypeVar, get_args

from ampwright.errors import JobError, PartNotFound, Problem
from ampwright.field_types import field_hints, options
from ampwright.parts.kinds import Part
from ampwright.parts.own_files import PartsFile, parts_file
from ampwright.parts.shipped_tables import shipped_tables
from ampwright.parts.tables import id_text, kinds
from ampwright.records import record
from ampwright.toml_positions import line_of
from ampwright.validation import near_names

__all__ = ["SHIPPED", "Catalogue", "catalogue_plus", "catalogue_with", "load_parts", "shipped_catalogue"]

P = TypeVar("P")

SHIPPED = "shipped with ampwright"
"""Origin of the parts that come with the program."""


@record
class Catalogue:
    """Parts by id. Do not change the mappings; make a new catalogue."""

    parts: Mapping[str, Part]
    """Part by id, in the order of the files."""
    origin: Mapping[str, str]
    """Where each part was read, by id."""

    def find(self, part_id: str) -> Part:
        """Return a part by its id, or raise PartNotFound with the nearest names."""
        if part_id in self.parts:
            return self.parts[part_id]
        near = near_names(part_id, self.parts)
        near = "" if near.startswith("; known") else near
        raise PartNotFound(f"no part '{part_id}' in the catalogue{near}")

    def of_kind(self, kind: type[P]) -> tuple[P, ...]:
        """Return all parts of one record, e.g. `of_kind(Battery)`."""
        return tuple(part for part in self.parts.values() if isinstance(part, kind))


def shipped_catalogue() -> Catalogue:
    """Return the parts that come with the program.

    They are built without the validator, which would cost 0.2 s: the tests put every one through it.
    """
    parts: dict[str, Part] = {}
    tables = shipped_tables(sorted(kinds()))
    for kind, record_type in sorted(kinds().items()):
        for raw in tables[kind]:
            parts[raw["id"]] = _built(record_type, raw)
    return Catalogue(parts=parts, origin=dict.fromkeys(parts, SHIPPED))


def load_parts(paths: Iterable[Path]) -> Catalogue:
    """Return the parts of TOML and CSV files alone.

    Raises
    ------
    JobError
        With every problem of every file.
    """
    return catalogue_with(Catalogue(parts={}, origin={}), paths)


def catalogue_with(base: Catalogue, paths: Iterable[Path]) -> Catalogue:
    """Return a catalogue with the parts of files added; a taken id needs `overrides = true`.

    Raises
    ------
    JobError
        With every problem of every file.
    """
    named = [(str(path), path) for path in map(Path, paths)]
    catalogue = base
    problems: list[Problem] = []
    own_ids: set[str] = set()
    for name, path in named:
        own = parts_file(path)
        found = [*own.problems]
        catalogue, taken = catalogue_plus(
            catalogue, own.parts, origin=name, override_ids=own.override_ids - own_ids
        )
        found.extend(_with_line(each, own) for each in taken)
        own_ids |= {part.id for part in own.parts}
        problems.extend(_in_file(each, name) if len(named) > 1 else each for each in found)
    if problems:
        raise JobError(", ".join(name for name, _ in named), tuple(problems))
    return catalogue


def catalogue_plus(
    base: Catalogue, parts: Iterable[Part], *, origin: str, override_ids: Collection[str] = ()
) -> tuple[Catalogue, list[Problem]]:
    """Return a catalogue with parts added, and a problem for each id taken without leave."""
    merged = dict(base.parts)
    origins = dict(base.origin)
    problems: list[Problem] = []
    for part in parts:
        if part.id in merged and part.id not in override_ids:
            message = (
                f"this id is taken ({origins[part.id]}); choose another, "
                "or write overrides = true to replace a shipped part"
            )
            problems.append(Problem(path=f"part '{part.id}' > id", message=message))
            continue
        merged[part.id] = part
        origins[part.id] = origin
    return Catalogue(parts=merged, origin=origins), problems


def _with_line(problem: Problem, own: PartsFile) -> Problem:
    """Add the line to a complaint about a taken id."""
    table = next(each for each in own.tables if f"part '{id_text(each.raw)}' > id" == problem.path)
    line = table.line if own.text is None else line_of(own.text, (*table.place, "id"))
    return replace(problem, line=line)


def _in_file(problem: Problem, name: str) -> Problem:
    return replace(problem, path=f"{name}: {problem.path}" if problem.path else name)


def _built(kind: type[P], raw: Mapping[str, Any]) -> P:
    """Return a record of trusted figures: lists become tuples, tables in them records."""
    hints = field_hints(kind)
    return kind(**{name: _frozen(value, hints[name]) for name, value in raw.items()})


def _frozen(value: object, hint: object) -> object:
    if isinstance(value, dict):
        (table,) = (each for each in options(hint) if isinstance(each, type) and is_dataclass(each))
        return _built(table, value)
    if not isinstance(value, list):
        return value
    inner = get_args(options(hint)[0])[0]
    return tuple(_built(inner, item) if isinstance(item, dict) else item for item in value)
