"""The workshop's own parts, modules and places, read and changed by other programs.

Nothing that any revision of a job needs is taken away here: what was asked of a job once can be asked again.
"""

from __future__ import annotations

import hashlib
import threading
from collections.abc import Iterator
from typing import Any

from ampwright.errors import JobError
from ampwright.job.module import ModuleDefinition
from ampwright.parts.kinds import Part
from ampwright.web.app import the_stock
from ampwright.web.interface.jobs import clean
from ampwright.web.interface.operation import Call, Reply
from ampwright.web.interface.own_records import (
    ModuleLine,
    ModuleList,
    ModuleText,
    PartNow,
    PlaceNow,
    Removed,
)
from ampwright.web.interface.trouble import RefusalError, told
from ampwright.web.keeping import is_override, is_own_file, part_from_table, raw_of, remove
from ampwright.web.modules import (
    arriving_module,
    definition_named,
    file_of_module,
    keep_module,
    known_definitions,
    known_revisions,
)
from ampwright.web.own_parts import keep_part
from ampwright.web.places import (
    checked_site,
    keep_place,
    own_places,
    place_named,
    remove_place,
    site_raw,
)
from ampwright.web.sheet import was_text
from ampwright.web.store import log
from ampwright.web.usage import (
    jobs_naming,
    jobs_with_module,
    modules_naming,
    older_count,
    revisions_with_module,
)

__all__ = [
    "away_place",
    "module_list",
    "one_module",
    "one_part",
    "one_place",
    "put_module",
    "put_part",
    "put_place",
    "remove_module",
    "remove_part",
]

ONE_AT_A_TIME = threading.Lock()
"""A thing is compared with its stamp and written before another request may do the same."""
READ_AGAIN = "read it again, make the change anew and send it with the new stamp"
STILL_USED = "put another one for it in each job; jobs at work, archived ones and earlier revisions count"


def one_part(call: Call) -> Reply:
    """Give one part with its stamp."""
    return Reply(value=_part_now(_part(str(call.path["part"]))))


def put_part(call: Call) -> Reply:
    """Keep an own part, new or changed."""
    part_id, asked = str(call.path["part"]), call.body
    _same_id(part_id, asked.part.id)
    raw = raw_of(asked.part)
    for text in _texts(raw):
        clean(text, "part")
    with ONE_AT_A_TIME:
        kept = the_stock().workshop.catalogue.parts.get(part_id)
        if kept is not None and not is_own_file(the_stock().workshop.catalogue, part_id):
            raise _not_own("part")
        _same_stamp(asked.stamp, None if kept is None else raw_of(kept))
        try:
            arrival = part_from_table(raw, overrides=is_override(part_id))
        except JobError as error:
            raise _not_taken("part", error) from None
        who, why = call.account.name, clean(asked.why, "why")
        keep_part(arrival, who=who, why=why, address=call.address)
    return Reply(value=_part_now(_part(part_id)))


def remove_part(call: Call) -> Reply:
    """Take an own part away that no revision of any job and no module names."""
    part_id = _part(str(call.path["part"])).id
    if not is_own_file(the_stock().workshop.catalogue, part_id):
        raise _not_own("part")
    used = len(jobs_naming(part_id)) or older_count(part_id)
    if used or modules_naming(part_id):
        raise RefusalError(409, f"{used} jobs, or modules, name the part", STILL_USED)
    remove(part_id)
    return _removed(call, "part taken away", part_id)


def module_list(call: Call) -> Reply:  # noqa: ARG001 - every operation is called with it
    """List the revisions of power modules."""
    uses = {name: jobs_with_module(name) for name in known_revisions()}
    lines = (
        _module_line(each, sum(use.places == (f"revision {each.revision}",) for use in uses[each.id]))
        for each in known_definitions()
    )
    return Reply(value=ModuleList(modules=tuple(lines)))


def one_module(call: Call) -> Reply:
    """Give one revision of a power module with its text."""
    return Reply(value=_module_text(_module(call)))


def put_module(call: Call) -> Reply:
    """Keep a new revision of a power module; a kept one is never changed."""
    text = clean(call.body.text, "text").replace("\r\n", "\n")
    try:
        found, text = arriving_module(text.encode(), "module.toml")
    except JobError as error:
        if definition_named(str(call.path["module"]), str(call.path["letter"])) is not None:
            raise RefusalError(
                409, "this revision is kept and never changed", "give the next revision"
            ) from None
        raise _not_taken("text", error) from None
    _same_id(str(call.path["module"]), found.id)
    _same_id(str(call.path["letter"]), found.revision)
    keep_module(found, text)
    detail = f"{found.id}, revision {found.revision}, by a program"
    log(call.account.name, "module kept", address=call.address, detail=detail)
    return Reply(value=_module_text(found), status=201)


def remove_module(call: Call) -> Reply:
    """Take a kept revision away that no revision of any job includes."""
    found = _module(call)
    if not file_of_module(found).is_file():
        raise _not_own("revision of a module")
    used = revisions_with_module(found.id, found.revision)
    if used:
        raise RefusalError(409, f"{used} jobs include this revision, or did once", STILL_USED)
    file_of_module(found).unlink(missing_ok=True)
    return _removed(call, "module taken away", f"{found.id}, revision {found.revision}")


def one_place(call: Call) -> Reply:
    """Give one place with its monthly figures and its stamp."""
    return Reply(value=_place_now(str(call.path["place"])))


def put_place(call: Call) -> Reply:
    """Keep an own place, new or changed; jobs keep the copies they have of its figures."""
    place_id, asked = str(call.path["place"]), call.body
    _same_id(place_id, asked.place.id)
    raw = site_raw(asked.place)
    for text in _texts(raw):
        clean(text, "place")
    try:
        site = checked_site(raw)
    except JobError as error:
        raise _not_taken("place", error) from None
    with ONE_AT_A_TIME:
        kept = own_places().get(place_id)
        _same_stamp(asked.stamp, None if kept is None else site_raw(kept.site))
        keep_place(site, None)
    detail = f"{site.id}: {site.source}, by a program"
    log(call.account.name, "place kept", address=call.address, detail=detail)
    return Reply(value=_place_now(place_id))


def away_place(call: Call) -> Reply:
    """Take an own place away; jobs keep the copies they have of its figures."""
    place_id = str(call.path["place"])
    if place_id not in own_places():
        _place_now(place_id)
        raise _not_own("place")
    remove_place(place_id)
    return _removed(call, "place taken away", place_id)


def _part(part_id: str) -> Part:
    found = the_stock().workshop.catalogue.parts.get(part_id)
    if found is None:
        raise RefusalError(404, "there is no such part", "look at the list of parts for its id")
    return found


def _part_now(part: Part) -> PartNow:
    workshop = the_stock().workshop
    return PartNow(
        part=part,
        is_own=part.id in workshop.own_ids,
        is_editable=is_own_file(workshop.catalogue, part.id),
        stamp=_stamp(raw_of(part)),
    )


def _module(call: Call) -> ModuleDefinition:
    found = definition_named(str(call.path["module"]), str(call.path["letter"]))
    if found is None:
        raise RefusalError(404, "there is no such revision of a module", "look at the list of modules")
    return found


def _module_line(found: ModuleDefinition, job_count: int) -> ModuleLine:
    is_own = file_of_module(found).is_file()
    return ModuleLine(
        id=found.id, revision=found.revision, name=found.name, is_own=is_own, job_count=job_count
    )


def _module_text(found: ModuleDefinition) -> ModuleText:
    line = _module_line(found, len(jobs_with_module(found.id, found.revision)))
    text = file_of_module(found).read_text(encoding="utf-8") if line.is_own else ""
    return ModuleText(line=line, text=text)


def _place_now(place_id: str) -> PlaceNow:
    found = place_named(place_id)
    if found is None:
        raise RefusalError(404, "there is no such place", "look at the list of places for its id")
    return PlaceNow(
        place=found.site,
        is_own=place_id in own_places(),
        has_weather_file=found.weather is not None,
        stamp=_stamp(site_raw(found.site)),
    )


def _stamp(raw: dict[str, Any]) -> str:
    return hashlib.sha256(was_text(raw).encode()).hexdigest()


def _same_stamp(said: str | None, kept: dict[str, Any] | None) -> None:
    """Refuse a change of what was changed meanwhile, or a new thing where there is one."""
    if said == (None if kept is None else _stamp(kept)):
        return
    what = "there is one of this id already" if said is None else "it was changed or taken away meanwhile"
    raise RefusalError(409, what, READ_AGAIN)


def _same_id(address: str, said: str) -> None:
    if address != said:
        detail = f"the address names '{address[:60]}', what was sent '{said[:60]}'"
        raise RefusalError(422, detail, "let both name the same")


def _texts(value: Any) -> Iterator[str]:
    """Yield every text in a table."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        yield from _texts(list(value.values()))
    elif isinstance(value, list):
        for each in value:
            yield from _texts(each)


def _not_taken(what: str, error: JobError) -> RefusalError:
    mend = "mend each of the problems at its place and send it again"
    return RefusalError(422, f"the {what} cannot be taken", mend, problems=told(error.problems))


def _not_own(what: str) -> RefusalError:
    mend = "only what the workshop keeps in a file of its own is changed here"
    return RefusalError(409, f"the {what} comes with the program or was put there by hand", mend)


def _removed(call: Call, what: str, name: str) -> Reply:
    log(call.account.name, what, address=call.address, detail=f"{name}, by a program")
    return Reply(value=Removed(removed=name))
