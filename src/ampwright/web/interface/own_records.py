"""What the interface takes and gives of photos and of the workshop's own parts, modules and places."""

from __future__ import annotations

from typing import Annotated

from annotated_types import MaxLen
from pydantic import Field

from ampwright.climate.site import Site
from ampwright.parts.kinds import Part
from ampwright.records import record
from ampwright.web.interface.records import Reason, Text, Words

__all__ = [
    "ModuleLine",
    "ModuleList",
    "ModuleText",
    "NewArchived",
    "NewModule",
    "NewPart",
    "NewPhotoQuery",
    "NewPlace",
    "PartNow",
    "PhotoQuery",
    "PlaceNow",
    "Removed",
]

Stamp = Annotated[str, MaxLen(64)]


@record
class NewArchived:
    """Whether a job lies in the archive."""

    is_archived: bool
    """True = in the archive; false = among the jobs at work."""


@record
class PhotoQuery:
    """Which photos of a job."""

    subject: Words | None = None
    """Only photos of this run, load or part; empty = of the vehicle."""


@record
class NewPhotoQuery:
    """What a photo that is sent shows."""

    subject: Words = ""
    """Id of the run, load or part in the job; empty = the vehicle."""
    caption: Words = ""
    """Words to it."""


@record
class PartNow:
    """One part as it stands."""

    part: Part
    """The part with all its figures."""
    is_own: bool
    """True for one of the workshop's own."""
    is_editable: bool
    """True where it may be changed and taken away here: an own part in a file of its own."""
    stamp: str
    """Tells this state from any other; a change says which one it was made from."""


@record
class NewPart:
    """An own part to be kept, new or changed."""

    part: Annotated[Part, Field(discriminator="kind")]
    """The whole part; its id is that of the address."""
    stamp: Stamp | None = None
    """The `stamp` it was changed from; absent = the part is new."""
    why: Reason = ""
    """The reason, for the history of each job that builds it in."""


@record
class PlaceNow:
    """One place as it stands."""

    place: Site
    """The place with its monthly figures."""
    is_own: bool
    """True for one of the workshop's own."""
    has_weather_file: bool
    """True where the file is kept from which its figures came."""
    stamp: str
    """Tells this state from any other; a change says which one it was made from."""


@record
class NewPlace:
    """An own place to be kept, new or changed."""

    place: Site
    """The whole place; its id is that of the address."""
    stamp: Stamp | None = None
    """The `stamp` it was changed from; absent = the place is new."""


@record
class ModuleLine:
    """One revision of a power module."""

    id: str
    """Name of the module's type."""
    revision: str
    """Revision letter or number."""
    name: str
    """Plain description."""
    is_own: bool
    """True for one that the workshop keeps."""
    job_count: int
    """Jobs whose last revision includes it."""


@record
class ModuleList:
    """The revisions of power modules, shipped ones first."""

    modules: tuple[ModuleLine, ...]
    """The revisions."""


@record
class ModuleText:
    """One kept revision of a power module with its text."""

    line: ModuleLine
    """Which one."""
    text: str
    """Its file (TOML); empty for one that comes with the program."""


@record
class NewModule:
    """A new revision of a power module."""

    text: Text
    """Its file (TOML); id and revision in it are those of the address."""


@record
class Removed:
    """What was taken away."""

    removed: str
    """What it was."""
