"""What the interface says where it cannot do what was asked: one record for every case (RFC 9457)."""

from __future__ import annotations

from ampwright.errors import AmpwrightError, JobError, Problem
from ampwright.records import record
from ampwright.web.interface.records import RevisionLine, Told

__all__ = ["MEDIA_TYPE", "TITLES", "RefusalError", "Trouble", "refused_job", "told"]

MEDIA_TYPE = "application/problem+json"
TITLES: dict[int, tuple[str, str]] = {
    400: ("not-readable", "What was sent cannot be read"),
    401: ("no-token", "Nobody is known by this token"),
    403: ("not-allowed", "The role does not allow this"),
    404: ("not-found", "There is no such thing"),
    405: ("method", "This address does not know this method"),
    409: ("conflict", "What was asked does not go with how things stand; nothing was changed"),
    413: ("too-large", "What was sent is too large"),
    415: ("media-type", "What was sent is of another kind than is taken here"),
    422: ("not-valid", "What was sent is not valid; nothing was saved"),
    428: ("say-which-revision", "Say which revision the change was made from"),
    429: ("too-many", "Too many wrong tokens"),
    500: ("fault", "A fault of the program"),
    503: ("one-moment", "The workshop is being restored"),
}
"""Name and title of each kind of trouble, by status."""


@record
class Trouble:
    """Why something was not done, and how to mend it (RFC 9457, section 3)."""

    type: str
    """Name of the kind of trouble."""
    title: str
    """The kind in words."""
    status: int
    """The status of the answer."""
    detail: str
    """What is wrong here."""
    mend: str
    """What to do about it."""
    instance: str
    """The address that was asked."""
    problems: tuple[Told, ...] = ()
    """Each thing that is wrong, with its place."""
    revision: int | None = None
    """Where the job was changed meanwhile: its last revision."""
    moved: tuple[RevisionLine, ...] = ()
    """Where the job was changed meanwhile: the revisions that came in between, oldest first."""


class RefusalError(AmpwrightError):
    """Something the interface does not do; the status says which kind."""

    def __init__(self, status: int, detail: str, mend: str, *, problems: tuple[Told, ...] = ()) -> None:
        """Keep what is told."""
        super().__init__(detail)
        self.status = status
        self.detail = detail
        self.mend = mend
        self.problems = problems
        self.revision: int | None = None
        self.moved: tuple[RevisionLine, ...] = ()

    def told_at(self, address: str) -> Trouble:
        """Return it as the record that is sent."""
        name, title = TITLES[self.status]
        return Trouble(
            type=f"urn:ampwright:trouble:{name}",
            title=title,
            status=self.status,
            detail=self.detail,
            mend=self.mend,
            instance=address,
            problems=self.problems,
            revision=self.revision,
            moved=self.moved,
        )


def told(problems: tuple[Problem, ...]) -> tuple[Told, ...]:
    """Return the problems of a job file as they are sent."""
    return tuple(Told(where=each.path, what=each.message, line=each.line) for each in problems)


def refused_job(error: JobError) -> RefusalError:
    """Return the refusal of a text that is no job."""
    count = len(error.problems)
    return RefusalError(
        422,
        f"the text is not a job file: {count} problem{'s' if count != 1 else ''}",
        "mend each of the problems at its place and send the text again",
        problems=told(error.problems),
    )
