"""Errors a caller can catch.

AmpwrightError
├── JobError       every problem of an input file at once, each with path, line and remedy
├── PartNotFound   a part id that no catalogue holds
├── TableError     a look-up outside what a table holds
├── ClimateError   weather data that cannot be read or used
├── FileError      a file that cannot be read or written
└── BooksError     energy books that do not close: a fault of the program

Bad input raises; a design that breaks a rule never does (see `findings`).
"""

from __future__ import annotations

from ampwright.records import record

__all__ = [
    "AmpwrightError",
    "BooksError",
    "ClimateError",
    "FileError",
    "JobError",
    "PartNotFound",
    "Problem",
    "TableError",
]


class AmpwrightError(Exception):
    """Base of every error that is explained to the user in one sentence."""


class PartNotFound(AmpwrightError):  # noqa: N818 - reads as the fact it states
    """A part id is in no catalogue."""


class TableError(AmpwrightError):
    """A value was asked for outside the range of a table."""


class ClimateError(AmpwrightError):
    """Weather or site data cannot be used."""


class FileError(AmpwrightError):
    """A file cannot be read or written."""


class BooksError(AmpwrightError):
    """The energy books of a run do not close, so its answer cannot be trusted."""


@record
class Problem:
    """One thing wrong in an input file."""

    path: str
    """Place in the file, e.g. "load[2].power_w" or "part 'fridge' > zone"."""
    message: str
    """What is wrong and what would be right."""
    line: int | None = None
    """Line in the file, counted from 1; None if it cannot be told."""

    def __str__(self) -> str:
        """One line for the screen."""
        where = f"line {self.line}: " if self.line else ""
        return f"{where}{self.path}: {self.message}" if self.path else f"{where}{self.message}"


class JobError(AmpwrightError):
    """All problems found in one input file."""

    def __init__(self, file: str, problems: tuple[Problem, ...]) -> None:
        """Keep the file's name and its problems."""
        self.file = file
        self.problems = problems
        super().__init__(f"{file}: {len(problems)} problem(s)")

    def __reduce__(self) -> tuple[type[JobError], tuple[str, tuple[Problem, ...]]]:
        """Say how it is made again in another process."""
        return type(self), (self.file, self.problems)
