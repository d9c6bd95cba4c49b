"""`ampwright cables`: cheaper or lighter cables for the whole job."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

import typer

from ampwright.cli.workshop import WorkshopFolder, workshop_in

__all__ = ["cables"]


def cables(
    job: Annotated[Path, typer.Argument(help="Job file (TOML).", show_default=False)],
    by: Annotated[Literal["price", "mass"], typer.Option("--by", help="What shall be less.")] = "price",
    as_json: Annotated[bool, typer.Option("--json", help="Print the set as JSON.")] = False,
    write: Annotated[
        Path | None, typer.Option("--write", help="Write the job with these cables to this new file.")
    ] = None,
    workshop: WorkshopFolder = None,
) -> None:
    """Choose the cables of all runs together, as cheap or light as every rule allows.

    Exit codes, of the job with these cables at its likely values: 0 suits and no fault found, 1 does not
    suit, 2 bad input, 3 do not energise, 4 not fully checked.

    Examples: ampwright cables my-van.toml; ampwright cables my-van.toml --by mass --write my-light-van.toml
    """
    from ampwright import api  # noqa: PLC0415 - heavy
    from ampwright.cli.refuse import refusing  # noqa: PLC0415 - heavy
    from ampwright.cli.run import code_of, today  # noqa: PLC0415 - heavy
    from ampwright.cli.show_cables import cables_json, cables_text  # noqa: PLC0415 - heavy

    with refusing():
        answer = api.cables(job, by=by, on=today(), workshop=workshop_in(workshop))
        if write is not None:
            api.write_cables(job, answer, write, workshop=workshop_in(workshop))
    typer.echo(cables_json(answer) if as_json else cables_text(answer, written=write))
    raise typer.Exit(code_of(answer.wiring_after, answer.use_after))
