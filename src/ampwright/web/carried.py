"""What a job names of the workshop's own things: to be handed on with it, since elsewhere nobody has them."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping

from ampwright.job.module import ModuleDefinition
from ampwright.job.substitute import parts_named
from ampwright.job.toml_values import toml_lines
from ampwright.parts.catalogue import shipped_catalogue
from ampwright.records import record
from ampwright.web.app import the_stock
from ampwright.web.keeping import raw_of
from ampwright.web.models import Revision
from ampwright.web.usage import module_parts

__all__ = ["Carried", "carried_by", "parts_text"]


@record
class Carried:
    """What a revision names that only this workshop has."""

    part_ids: tuple[str, ...]
    """Own parts, those inside its module too."""
    module: ModuleDefinition | None
    """The revision of a module that the workshop keeps."""


def carried_by(revision: Revision) -> Carried:
    """Return what a revision names of the workshop's own."""
    raw, workshop = tomllib.loads(revision.text), the_stock().workshop
    use = raw.get("module")
    module = None
    if isinstance(use, Mapping) and not use.get("definition_file"):
        named = (use.get("definition"), use.get("revision"))
        module = next((each for each in workshop.definitions if (each.id, each.revision) == named), None)
    names = parts_named(raw) | (module_parts(module) if module is not None else frozenset())
    return Carried(part_ids=tuple(sorted(names & workshop.own_ids)), module=module)


def parts_text(carried: Carried) -> str:
    """Return the own parts a job names as a file of parts; those in the place of shipped ones say so again."""
    parts, shipped = the_stock().workshop.catalogue.parts, shipped_catalogue().parts
    head = ["overrides = true\n"] if any(name in shipped for name in carried.part_ids) else []
    rows = [f"[[part]]\n{toml_lines(raw_of(parts[name]))}" for name in carried.part_ids]
    return "\n".join([*head, *rows])
