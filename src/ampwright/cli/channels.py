"""`ampwright channels`: which circuit on which output channel."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from ampwright.cli.workshop import WorkshopFolder, workshop_in

__all__ = ["channels"]


def channels(
    job: Annotated[Path, typer.Argument(help="Job file (TOML).", show_default=False)],
    spare: Annotated[int, typer.Option("--spare", min=0, max=1000, help="Channels to be kept free.")] = 0,
    as_json: Annotated[bool, typer.Option("--json", help="Print the proposal as JSON.")] = False,
    write: Annotated[
        Path | None, typer.Option("--write", help="Write the job with the moved circuits to this new file.")
    ] = None,
    workshop: WorkshopFolder = None,
) -> None:
    """Propose an output channel for every circuit and every load not wired yet.

    Exit codes: 0 every one has a channel that carries it, 1 one or more have none, 2 bad input.

    Examples: ampwright channels my-van.toml; ampwright channels my-van.toml --spare 2 --write my-new-van.toml
    """
    from ampwright import api  # noqa: PLC0415 - heavy
    from ampwright.cli.refuse import refusing  # noqa: PLC0415 - heavy
    from ampwright.cli.show_channels import channels_json, channels_text  # noqa: PLC0415 - heavy

    with refusing():
        answer = api.channels(job, spare_count=spare, workshop=workshop_in(workshop))
        if write is not None:
            api.write_channels(job, answer, write, workshop=workshop_in(workshop))
    typer.echo(channels_json(answer) if as_json else channels_text(answer, written=write))
    raise typer.Exit(1 if answer.lacking else 0)
