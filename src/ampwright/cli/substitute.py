"""`ampwright substitute`: one part for another, and what that changes."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from ampwright.cli.workshop import WorkshopFolder

__all__ = ["substitute"]


def substitute(
    job: Annotated[Path, typer.Argument(help="Job file (TOML).", show_default=False)],
    old: Annotated[str, typer.Argument(help="Id of the part to be replaced.", show_default=False)],
    new: Annotated[str, typer.Argument(help="Id of the part in its place.", show_default=False)],
    to: Annotated[
        Path | None,
        typer.Option("--to", help="Write the job with the other part to this new file.", show_default=False),
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print what changes as JSON.")] = False,
    *,
    workshop: WorkshopFolder = None,
) -> None:
    """Put one part for another wherever a job names it, and say what that changes.

    The job itself stays as it is. Exit codes, of the job with the other part: 0 suits and no fault found, 1
    does not suit, 2 bad input, 3 do not energise, 4 not fully checked.

    Examples: ampwright substitute my-van.toml panel-200 panel-100; ampwright substitute my-van.toml cable-4 cable-6
    --to my-van-6.toml
    """
    from ampwright.cli.run import code_of, substituted  # noqa: PLC0415 - heavy
    from ampwright.cli.show_comparison import comparison_json, comparison_text  # noqa: PLC0415 - heavy

    found = substituted(job, (old, new), to=to, workshop=workshop)
    typer.echo(comparison_json(found) if as_json else comparison_text(found))
    if to is not None and not as_json:
        typer.echo(f"\nWrote {to}. Now run: ampwright check {to}")
    raise typer.Exit(code_of(found.after.wiring_verdict, found.after.use_verdict))
