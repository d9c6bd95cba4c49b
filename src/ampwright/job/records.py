"""Job: everything a job file says, as written; names and part ids are not yet resolved."""

from __future__ import annotations

import datetime as dt
from typing import Annotated, Literal

from annotated_types import MaxLen

from ampwright.job.buttons import Button, Interlock
from ampwright.job.cabling import Cabling
from ampwright.job.consumer import Load
from ampwright.job.doubt import Doubt
from ampwright.job.mains import Mains
from ampwright.job.module import ModuleUse
from ampwright.job.override import Override
from ampwright.job.own_tables import Tables
from ampwright.job.place import Leg, Place, Season
from ampwright.job.plate import Plate
from ampwright.job.quote import Quote
from ampwright.job.use import DayPlan, Use
from ampwright.job.vehicle import Vehicle, Zone
from ampwright.job.wiring import Bond, Channel, LoadCutoff, PlacedPart, Run, Setting
from ampwright.records import Count, record
from ampwright.standards.regions.rules import RegionName

__all__ = ["About", "Job"]


@record
class About:
    """Title block of a job."""

    id: str
    """Short name: letters, digits, dashes and underscores, no space."""
    title: str
    """Title on the documents."""
    customer: str = ""
    """Who it is for."""
    author: str = ""
    """Who is responsible for it."""
    revision: Count = 1
    """Revision of the job."""
    date: dt.date
    """Date of the revision."""
    region: RegionName
    """Rule set of the region."""
    units: Literal["metric", "us"] = "metric"
    """Units on screen and paper: metric, or US customary beside AWG."""
    language: Literal["en", "de"] = "en"
    """Language of the documents (ISO 639-1)."""
    notes: str = ""
    """Anything else."""


@record
class Job:
    """A whole job file."""

    format: Literal[1]
    """Version of the job file format."""
    parts_files: tuple[str, ...] = ()
    """Own part files, paths relative to the job file."""
    tables: Tables | None = None
    """Own tables in place of the shipped ones."""
    job: About
    """Title block."""
    vehicle: Vehicle
    """The vehicle."""
    place: Place
    """Where."""
    season: Season
    """When."""
    use: Use
    """Sequence of days."""
    day: tuple[DayPlan, ...]
    """Day plans."""
    leg: Annotated[tuple[Leg, ...], MaxLen(20)] = ()
    """Further places of a use that moves on; [place] is where it begins."""
    zone: tuple[Zone, ...] = ()
    """Places in the vehicle."""
    module: ModuleUse | None = None
    """Included power module."""
    part: tuple[PlacedPart, ...] = ()
    """Parts placed."""
    run: tuple[Run, ...] = ()
    """Cable runs."""
    bond: tuple[Bond, ...] = ()
    """Ties between battery negative and metal."""
    load: tuple[Load, ...] = ()
    """Loads."""
    channel: tuple[Channel, ...] = ()
    """Output channels in use."""
    button: Annotated[tuple[Button, ...], MaxLen(500)] = ()
    """Buttons of panels and remotes, and what they do; empty = not said."""
    interlock: Annotated[tuple[Interlock, ...], MaxLen(100)] = ()
    """Output channels that stay off in some states of the vehicle."""
    setting: tuple[Setting, ...] = ()
    """Settings of devices."""
    load_cutoff: LoadCutoff | None = None
    """Low-voltage cut-off of the loads."""
    plate: tuple[Plate, ...] = ()
    """Gear plates and fronts that parts are mounted on."""
    cabling: Cabling = Cabling()
    """Colours, slack and rolls of its cables."""
    quote: Quote | None = None
    """Rates, hours and prices of the quote."""
    override: tuple[Override, ...] = ()
    """Findings that a named person takes on for a time."""
    mains: Mains | None = None
    """The mains side, as far as it is known."""
    doubt: Doubt = Doubt()
    """How far things may be from what is written."""
