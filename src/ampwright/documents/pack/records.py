"""What a document is made from, what a document is, and the file it becomes."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from ampwright.assessment.result import Assessment, UseVerdict, WiringVerdict
from ampwright.documents.words.words import Words
from ampwright.job.design import Design
from ampwright.job.records import About
from ampwright.parts.catalogue import Catalogue
from ampwright.records import record
from ampwright.sizing.result import Answer

__all__ = ["Document", "Material", "Pack", "PackFile"]


@record
class Material:
    """Everything a document may print."""

    answer: Answer
    """Both verdicts with what they rest on."""
    catalogue: Catalogue
    """Shipped parts and the job's own."""
    words: Words
    """The reader's language."""

    @property
    def found(self) -> Assessment:
        """What was found at the likely values."""
        return self.answer.assessment

    @property
    def design(self) -> Design:
        """The design at the likely values."""
        return self.answer.assessment.design

    @property
    def about(self) -> About:
        """Title block of the job."""
        return self.design.job.job


@record
class PackFile:
    """One file of the pack."""

    name: str
    """Name in the folder."""
    content: bytes
    """Its bytes; the same job revision and program give the same."""


@record
class Document:
    """One document of the pack: the line that makes it known."""

    name: str
    """Short name, the start of its files' names."""
    title: str
    """What it is, in English."""
    make: Callable[[Material], Iterator[PackFile]]
    """Makes its files."""
    left_out: Callable[[Material], str] = lambda _: ""
    """Why this job has no such document, in English; empty = it has one."""


@record
class Pack:
    """Every file of a job's pack, and what was left out."""

    use_verdict: UseVerdict
    """First verdict of the job."""
    wiring_verdict: WiringVerdict
    """Second verdict of the job."""

    files: tuple[PackFile, ...]
    """In the order of the list of documents."""
    left_out: tuple[tuple[str, str], ...]
    """Name of each document that was not made, and why."""
