"""`ampwright compare`: two jobs, or two states of one, side by side."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from ampwright.cli.workshop import WorkshopFolder

__all__ = ["compare"]


def compare(
    before: Annotated[Path, typer.Argument(help="Job file (TOML).", show_default=False)],
    after: Annotated[Path, typer.Argument(help="The other job file.", show_default=False)],
    as_json: Annotated[bool, typer.Option("--json", help="Print the comparison as JSON.")] = False,
    every: Annotated[
        bool, typer.Option("--all", help="Show passes whose figure moved too, and what did not change.")
    ] = False,
    workshop: WorkshopFolder = None,
) -> None:
    """Say what two jobs do not have alike, and what that does to verdicts, margins, energy and cost.

    Exit codes, of the second job: 0 suits and no fault found, 1 does not suit, 2 bad input, 3 do not
    energise, 4 not fully checked.

    Examples: ampwright compare my-van.toml my-van-with-two-panels.toml; ampwright compare old.toml new.toml --json
    """
    from ampwright.cli.run import code_of, compared  # noqa: PLC0415 - heavy
    from ampwright.cli.show_comparison import comparison_json, comparison_text  # noqa: PLC0415 - heavy

    found = compared(before, after, workshop=workshop)
    typer.echo(comparison_json(found) if as_json else comparison_text(found, every=every))
    raise typer.Exit(code_of(found.after.wiring_verdict, found.after.use_verdict))
