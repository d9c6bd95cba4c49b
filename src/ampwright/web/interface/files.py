"""Files kept with a job, and the lists of parts and places, for other programs."""

from __future__ import annotations

from ampwright.climate.sources import shipped_sites
from ampwright.errors import FileError, JobError
from ampwright.web.app import the_stock
from ampwright.web.interface.answers import file_line
from ampwright.web.interface.jobs import clean, entry_of, line_of
from ampwright.web.interface.operation import Call, Reply
from ampwright.web.interface.records import FileList, PartList, PlaceList
from ampwright.web.interface.trouble import RefusalError, refused_job
from ampwright.web.kept_files import keep_file, kept_file, kept_files
from ampwright.web.places import own_places

__all__ = ["file_list", "one_file", "part_list", "place_list", "put_file"]


def file_list(call: Call) -> Reply:
    """List the files kept with a job."""
    entry = entry_of(call)
    lines = tuple(file_line(path.name, path.read_bytes()) for path in kept_files(entry.pk))
    return Reply(value=FileList(job=entry.pk, files=lines))


def one_file(call: Call) -> Reply:
    """Give one file kept with a job."""
    entry = entry_of(call)
    path = kept_file(entry.pk, str(call.path["file"]))
    if path is None:
        raise RefusalError(404, "the job has no such file", "look at the list of its files")
    return Reply(content=path.read_bytes(), file=path.name)


def put_file(call: Call) -> Reply:
    """Keep a file with a job, or replace it."""
    entry = entry_of(call)
    try:
        revision = keep_file(entry.pk, str(call.path["file"]), call.body, who=call.account.name)
    except FileError as error:
        raise RefusalError(422, str(error), "choose another name, or fewer files") from None
    except JobError as error:
        raise refused_job(error) from None
    return Reply(value=line_of(revision), revision=revision.number)


def part_list(call: Call) -> Reply:
    """List the parts that come with the program, and the workshop's own."""
    word = clean(call.query.word, "word").casefold()
    found = (
        part
        for part in the_stock().workshop.catalogue.parts.values()
        if word in f"{part.id} {part.kind} {part.name}".casefold()
    )
    return Reply(value=PartList(parts=tuple(found)))


def place_list(call: Call) -> Reply:
    """List the places that come with the program, and the workshop's own."""
    word = clean(call.query.word, "word").casefold()
    sites = {**shipped_sites(), **{name: place.site for name, place in own_places().items()}}
    found = (site for site in sites.values() if word in f"{site.id} {site.name} {site.country}".casefold())
    return Reply(value=PlaceList(places=tuple(found)))
