"""Collects what is wrong in a job, so that everything is reported at once."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches

from ampwright.errors import JobError, Problem
from ampwright.toml_positions import line_of
from ampwright.validation import path_text

__all__ = ["Complaints", "bad_id_message", "is_good_id", "meant"]

Path = tuple[str | int, ...]

MAX_ID_COUNT = 60
"""Most characters of an id; a label holds fewer (our own choice)."""


def meant(wrong: str, known: Iterable[str]) -> str:
    """Return a hint that names the nearest known words, or all of them when few.

    Examples
    --------
    >>> meant("benhc", ["bench", "roof"])
    "did you mean 'bench'?"
    """
    words = sorted(set(known))
    near = [word for word in words if word.casefold() == wrong.casefold()]
    near = near or get_close_matches(wrong, words, n=2, cutoff=0.6)
    if near:
        return "did you mean " + " or ".join(f"'{word}'" for word in near) + "?"
    if not words:
        return "none is defined"
    shown = ", ".join(f"'{word}'" for word in words[:12])
    return f"known: {shown}" + (" ..." if len(words) > 12 else "")


def is_good_id(name: str) -> bool:
    """Say whether a name can be an id: up to 60 letters, digits, dashes and underscores.

    Examples
    --------
    >>> is_good_id("W10"), is_good_id("pm.bar"), is_good_id("")
    (True, False, False)
    """
    return 0 < len(name) <= MAX_ID_COUNT and all(letter.isalnum() or letter in "-_" for letter in name)


def bad_id_message(name: str) -> str:
    """Return the problem with a name that is no id."""
    said = f"{name[:MAX_ID_COUNT]}..." if len(name) > MAX_ID_COUNT else name
    return f"'{said}' is no id; use 1 to {MAX_ID_COUNT} letters, digits, '-' and '_', no space"


class Complaints:
    """A growing list of problems, each with its path in the file."""

    def __init__(self) -> None:
        """Begin without any."""
        self._found: list[tuple[Path, str]] = []

    def add(self, path: Path, message: str) -> None:
        """Note one problem, once, on one line."""
        message = "".join(letter if letter.isprintable() else repr(letter)[1:-1] for letter in message)
        if (path, message) not in self._found:
            self._found.append((path, message))

    def raise_if_any(self, file: str, text: str | None, raw: object) -> None:
        """Raise JobError with all problems, in the order of the file where lines are known."""
        if not self._found:
            return
        problems = [
            Problem(
                path=path_text(path, raw),
                message=message,
                line=line_of(text, path) if text is not None else None,
            )
            for path, message in self._found
        ]
        problems.sort(key=lambda problem: problem.line or 0)
        raise JobError(file, tuple(problems))
