"""`ampwright new`: a commented starting job that checks."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

__all__ = ["new"]


def new(
    target: Annotated[Path, typer.Argument(help="File to write, e.g. my-van.toml.", show_default=False)],
) -> None:
    """Write a commented starting job that can be checked at once.

    Example: ampwright new my-van.toml
    """
    from importlib.resources import files  # noqa: PLC0415 - only here

    from ampwright.cli.refuse import refusing  # noqa: PLC0415 - only here
    from ampwright.errors import FileError  # noqa: PLC0415 - only here

    text = (files("ampwright.job") / "starting_job.toml").read_text(encoding="utf-8")
    with refusing():
        try:
            with target.open("x", encoding="utf-8", newline="\n") as stream:
                stream.write(text)
        except FileExistsError:
            raise FileError(f"{target} exists already; choose another name") from None
        except OSError as error:
            reason = error.strerror or "unknown reason"
            raise FileError(f"{target}: cannot be written ({reason}); choose another place") from error
    typer.echo(f"Wrote {target}. Change it, then run: ampwright check {target}")
