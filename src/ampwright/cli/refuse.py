"""Turns the project's errors into text and the exit code 2; nothing else is caught."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import typer

from ampwright.errors import AmpwrightError, JobError

__all__ = ["BAD_INPUT", "refusing"]

BAD_INPUT = 2
SHOWN_PROBLEMS = 40


@contextmanager
def refusing() -> Iterator[None]:
    """Print what is wrong with the input, all of it, and leave with exit code 2."""
    try:
        yield
    except JobError as error:
        count = len(error.problems)
        typer.echo(f"{error.file}: {count} problem{'s' if count != 1 else ''}", err=True)
        for problem in error.problems[:SHOWN_PROBLEMS]:
            typer.echo(f"  {problem}", err=True)
        if count > SHOWN_PROBLEMS:
            typer.echo(f"  ... and {count - SHOWN_PROBLEMS} more", err=True)
        raise typer.Exit(BAD_INPUT) from None
    except AmpwrightError as error:
        typer.echo(str(error), err=True)
        raise typer.Exit(BAD_INPUT) from None
