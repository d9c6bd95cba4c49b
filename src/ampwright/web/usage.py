"""Which jobs, and which of the workshop's modules, name a part or a revision of a module."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from typing import Any

from django.db.models import F, Q

from ampwright.job.module import ModuleDefinition, ModuleOption
from ampwright.job.substitute import part_places, place_words
from ampwright.records import record
from ampwright.web.app import the_stock
from ampwright.web.models import JobEntry, Revision

__all__ = [
    "Use",
    "jobs_naming",
    "jobs_with_module",
    "module_parts",
    "modules_naming",
    "older_count",
    "revisions_with_module",
]


@record
class Use:
    """One job that names a thing in its last revision."""

    job_id: int
    """Which job."""
    title: str
    """Its title."""
    state: str
    """How far it has come."""
    is_archived: bool
    """True for a job in the archive."""
    number: int
    """Its last revision."""
    places: tuple[str, ...]
    """Where, in words."""


def _last_revisions(word: str) -> Iterator[tuple[JobEntry, dict[str, Any]]]:
    """Yield each job whose last text holds a word, with its tables."""
    found = Revision.objects.filter(job__number=F("number"), text__contains=word).select_related("job")
    for revision in found.order_by("job__title", "pk"):
        yield revision.job, tomllib.loads(revision.text)


def jobs_naming(part_id: str) -> tuple[Use, ...]:
    """Return the jobs that build a part in, by their own text or inside a module."""
    found = {entry.pk: _use(entry, places) for entry, places in _own_places(part_id)}
    for definition in modules_naming(part_id):
        for use in jobs_with_module(definition.id, definition.revision):
            before = found[use.job_id].places if use.job_id in found else ()
            inside = f"inside {definition.id}, revision {definition.revision}"
            found[use.job_id] = _with_places(use, (*before, inside))
    return tuple(found.values())


def _own_places(part_id: str) -> Iterator[tuple[JobEntry, tuple[str, ...]]]:
    for entry, raw in _last_revisions(part_id):
        places = tuple(place_words(raw, path) for path in part_places(raw, part_id))
        if places:
            yield entry, places


def modules_naming(part_id: str) -> tuple[ModuleDefinition, ...]:
    """Return the workshop's revisions of modules that have a part inside."""
    return tuple(each for each in the_stock().workshop.definitions if part_id in module_parts(each))


def module_parts(definition: ModuleDefinition) -> frozenset[str]:
    """Return the ids of all parts inside a module, with every option."""
    names: set[str] = set()
    pieces: tuple[ModuleDefinition | ModuleOption, ...] = (definition, *definition.option)
    for piece in pieces:
        for part in piece.part:
            names |= {part.part, part.string_device}
            if part.string_links is not None:
                names.add(part.string_links.cable)
        for run in piece.run:
            names |= {run.cable, run.back_cable, *run.plugs, *(device.part for device in run.device)}
    return frozenset(names - {""})


def jobs_with_module(definition: str, revision: str | None = None) -> tuple[Use, ...]:
    """Return the jobs that include a module, of one revision or of any; those with a file of their own not."""
    found = []
    for entry, raw in _last_revisions("module"):
        use = raw.get("module")
        if not isinstance(use, Mapping) or use.get("definition_file") or use.get("definition") != definition:
            continue
        if revision is None or use.get("revision") == revision:
            found.append(_use(entry, (f"revision {use.get('revision')}",)))
    return tuple(found)


def older_count(part_id: str) -> int:
    """Return how many jobs name a part in some earlier revision, the last one or not."""
    named = Revision.objects.filter(Q(text__contains=f'"{part_id}"') | Q(text__contains=f"'{part_id}'"))
    return named.values("job").distinct().count()


def revisions_with_module(definition: str, revision: str) -> int:
    """Return how many jobs included a revision of a module at any time."""
    found = set()
    rows = Revision.objects.filter(text__contains=definition).values_list("job_id", "text")
    for job_id, text in rows.iterator(chunk_size=100):
        use = tomllib.loads(text).get("module")
        if isinstance(use, Mapping) and not use.get("definition_file"):
            named = (use.get("definition"), use.get("revision"))
            found |= {job_id} if named == (definition, revision) else set()
    return len(found)


def _use(entry: JobEntry, places: tuple[str, ...]) -> Use:
    return Use(
        job_id=entry.pk,
        title=entry.title,
        state=entry.state,
        is_archived=entry.is_archived,
        number=entry.number,
        places=places,
    )


def _with_places(use: Use, places: tuple[str, ...]) -> Use:
    return Use(
        job_id=use.job_id,
        title=use.title,
        state=use.state,
        is_archived=use.is_archived,
        number=use.number,
        places=places,
    )
