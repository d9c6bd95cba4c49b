"""Where a number comes from: document, edition and the place in it."""

from __future__ import annotations

from ampwright.records import record

__all__ = ["COMMON_PRACTICE", "Source", "own_choice"]


@record
class Source:
    """A published document, or a page of this project's own choices."""

    document: str
    """Name of the document, e.g. "33 CFR 183.425"."""
    edition: str = ""
    """Edition or year."""
    place: str = ""
    """Clause, table or page in it."""
    standing: str = "read"
    """How the figure was obtained: "read", "second hand", "from memory", "derived", "common practice"."""

    def __str__(self) -> str:
        """Text for reports: document, edition, place and, unless it was read, the standing."""
        text = ", ".join(part for part in (self.document, self.edition, self.place) if part)
        return text if self.standing == "read" else f"{text} ({self.standing})"


COMMON_PRACTICE = Source(document="common practice, no source", standing="read")


def own_choice(anchor: str) -> Source:
    """Return the source of a figure this project chose itself, explained in docs/choices.md."""
    return Source(document="Ampwright docs/choices.md", place=anchor)
