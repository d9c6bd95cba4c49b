"""What the interface for other programs takes and gives: records from which its description is made."""

from __future__ import annotations

import datetime as dt
from typing import Annotated, Literal

from annotated_types import Ge, Le, MaxLen

from ampwright.climate.site import Site
from ampwright.documents.plain_types import PlainAnswer, PlainQuick
from ampwright.parts.kinds import Part
from ampwright.records import record

__all__ = [
    "AnswerNow",
    "DocumentFiles",
    "DocumentLine",
    "DocumentList",
    "FileLine",
    "FileList",
    "Hello",
    "HistoryPage",
    "JobLine",
    "JobPage",
    "JobQuery",
    "JobText",
    "NewJob",
    "NewState",
    "NewText",
    "PageQuery",
    "PartList",
    "PhotoLine",
    "PhotoList",
    "PlaceList",
    "QuickNow",
    "Reason",
    "RevisionLine",
    "RevisionText",
    "Start",
    "StartList",
    "StateName",
    "Text",
    "Told",
    "WordQuery",
    "Words",
]

StateName = Literal["asked", "quoted", "ordered", "built", "tested", "delivered", "supported"]
Stage = Literal["problems", "quick", "full", "failed"]
Words = Annotated[str, MaxLen(300)]
Reason = Annotated[str, MaxLen(500)]
Text = Annotated[str, MaxLen(2_000_000)]
Number = Annotated[int, Ge(1), Le(2_000_000_000)]
PageSize = Annotated[int, Ge(1), Le(500)]


@record
class Hello:
    """Who asks, and what answers."""

    program_version: str
    """Version of the program."""
    account: str
    """Name of the account."""
    role: str
    """What it may do here."""


@record
class WordQuery:
    """What to look for."""

    word: Words = ""
    """Only what has this word in its id, kind or name."""


@record
class PageQuery:
    """Which part of a long list."""

    below: Number = 2_000_000_000
    """Only numbers below this one: the `next_below` of the part before."""
    limit: PageSize = 100
    """Most entries in one answer."""


@record
class JobQuery:
    """Which jobs."""

    word: Words = ""
    """Only jobs that have each of these words in title, id, customer or vehicle."""
    state: StateName | None = None
    """Only jobs in this state."""
    is_archived: bool = False
    """The archive in place of the jobs at work."""
    below: Number = 2_000_000_000
    """Only job numbers below this one: the `next_below` of the part before."""
    limit: PageSize = 100
    """Most entries in one answer."""


@record
class JobLine:
    """One job as the list has it."""

    id: int
    """Number of the job in this workshop."""
    code: str
    """The job file's own id."""
    title: str
    """Title."""
    customer: str
    """Whose job it is."""
    vehicle: str
    """Which vehicle."""
    state: StateName
    """How far it has come."""
    is_archived: bool
    """True for a job in the archive."""
    revision: int
    """Number of the last revision."""
    changed_at: dt.datetime
    """When the last revision was saved."""


@record
class JobPage:
    """A part of the list of jobs, newest first."""

    jobs: tuple[JobLine, ...]
    """The jobs."""
    next_below: int | None
    """Ask for more with `below` of this; None = there are no more."""


@record
class RevisionLine:
    """One revision of a job without its text."""

    number: int
    """Number in the job."""
    kind: str
    """Edit, undo, redo or restore."""
    what: str
    """What was changed."""
    why: str
    """The reason somebody gave."""
    made_at: dt.datetime
    """When."""
    made_by: str
    """Who."""
    program_version: str
    """With which version of the program."""
    sha256: str
    """Hash of its text."""


@record
class RevisionText:
    """One revision of a job with its text."""

    line: RevisionLine
    """Who, when, why."""
    text: str
    """The job file (TOML)."""


@record
class HistoryPage:
    """A part of a job's revisions, newest first."""

    revisions: tuple[RevisionLine, ...]
    """The revisions."""
    next_below: int | None
    """Ask for more with `below` of this; None = there are no more."""


@record
class JobText:
    """The text of a job's last revision."""

    job: int
    """Number of the job."""
    revision: int
    """Number of the revision; hand it back as `before` with a changed text."""
    sha256: str
    """Hash of the text."""
    text: str
    """The job file (TOML)."""


@record
class NewJob:
    """A job to be made."""

    text: Text
    """The job file (TOML)."""
    why: Reason = ""
    """The reason, for the history."""


@record
class NewText:
    """A new text of a job."""

    text: Text
    """The whole job file (TOML)."""
    before: Number | None = None
    """Number of the revision it was made from; or give it as the header If-Match."""
    why: Reason = ""
    """The reason, for the history."""


@record
class NewState:
    """How far a job has come."""

    state: StateName
    """The state."""


@record
class Start:
    """A job one may begin with."""

    name: str
    """Its name."""
    title: str
    """Its title."""
    text: str
    """The job file (TOML), to be changed and sent as a new job."""


@record
class StartList:
    """The jobs one may begin with."""

    starts: tuple[Start, ...]
    """The jobs."""


@record
class Told:
    """One thing that is wrong, where it stands, and how to mend it."""

    where: str
    """Place in what was sent, e.g. "load[2].power_w"; empty = as a whole."""
    what: str
    """What is wrong and what would be right."""
    line: int | None = None
    """Line in the text, from 1; None where none can be told."""


@record
class QuickNow:
    """Both verdicts at the likely values: all rules, no search, no runs of weather and doubt."""

    job: int
    """Number of the job."""
    revision: int
    """Revision they belong to."""
    stage: Stage
    """Quick, or problems where the job cannot be built."""
    quick: PlainQuick | None
    """The verdicts and findings; None where the job cannot be built."""
    problems: tuple[Told, ...]
    """Why it cannot be built."""


@record
class AnswerNow:
    """The full answer as far as it is known."""

    job: int
    """Number of the job."""
    revision: int
    """Revision it belongs to."""
    stage: Stage
    """Full; quick while it is being reckoned; problems or failed where there will be none."""
    done_count: int
    """Steps of the calculation that are done."""
    step_count: int
    """Steps in all; 0 = it waits for another one."""
    answer: PlainAnswer | None
    """The answer as `ampwright check --json` prints it."""
    problems: tuple[Told, ...]
    """Why the job cannot be built, or why the calculation failed."""


@record
class DocumentLine:
    """One document that can be made of a job."""

    name: str
    """Its name in the address."""
    title: str
    """What it is."""


@record
class DocumentList:
    """The documents that can be made of a job."""

    job: int
    """Number of the job."""
    revision: int
    """Revision they would be made of."""
    documents: tuple[DocumentLine, ...]
    """The documents."""


@record
class FileLine:
    """One file."""

    name: str
    """Its name."""
    size_bytes: int
    """Its size."""
    sha256: str
    """Hash of its content."""


@record
class DocumentFiles:
    """The files of one document, or how far the answer is that they are made of."""

    job: int
    """Number of the job."""
    revision: int
    """Revision they belong to."""
    stage: Stage
    """Full when they are there."""
    files: tuple[FileLine, ...]
    """The files; empty where the document does not apply to this job."""
    left_out: str
    """Why there are none; empty = there are, or the answer is not there yet."""


@record
class FileList:
    """The files kept with a job."""

    job: int
    """Number of the job."""
    files: tuple[FileLine, ...]
    """The files."""


@record
class PartList:
    """Parts of the catalogue."""

    parts: tuple[Part, ...]
    """The parts with all their figures."""


@record
class PlaceList:
    """Places whose sun and temperatures come with the program."""

    places: tuple[Site, ...]
    """The places."""


@record
class PhotoLine:
    """One photo."""

    id: int
    """Number of the photo."""
    subject: str
    """Id of the run, load or part it shows; empty = the vehicle."""
    caption: str
    """What somebody wrote to it."""
    width_px: int
    """Dots from left to right."""
    height_px: int
    """Dots from top to bottom."""
    size_bytes: int
    """Its size."""
    sha256: str
    """Hash of its content."""
    made_at: dt.datetime
    """When it came in."""
    made_by: str
    """Who added it."""


@record
class PhotoList:
    """The photos of a job (JPEG)."""

    job: int
    """Number of the job."""
    photos: tuple[PhotoLine, ...]
    """The photos."""
