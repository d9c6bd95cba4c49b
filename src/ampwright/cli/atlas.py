"""`ampwright atlas`: jobs checked at many places and in many months."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from ampwright.cli.workshop import WorkshopFolder

__all__ = ["atlas"]

ALL = "all"


def atlas(  # noqa: PLR0913, PLR0917 - one for each option
    jobs: Annotated[list[Path], typer.Argument(help="Job files (TOML).", show_default=False)],
    to: Annotated[
        Path,
        typer.Option("--to", help="Folder for the Parquet files; made where missing.", show_default=False),
    ],
    sites: Annotated[
        str, typer.Option("--sites", help="Ids of shipped places, with commas between, or all.")
    ] = ALL,
    months: Annotated[str, typer.Option("--months", help="Months 1 to 12, as 1,7 or 5-9, or all.")] = ALL,
    workers: Annotated[int, typer.Option("--workers", min=1, max=256, help="Threads, or processes.")] = 2,
    cluster: Annotated[
        str,
        typer.Option(
            "--cluster",
            help='"local" for worker processes here, or the address of a dask scheduler.',
            show_default=False,
        ),
    ] = "",
    workshop: WorkshopFolder = None,
) -> None:
    """Check jobs at many places and in many months, as if they were written for each.

    Each case has the runs of weather and doubt, but no search for changes. What is in the folder already is not
    done again: after an interruption, give the same command once more. Needs ampwright[cluster].

    Example: ampwright atlas my-van.toml --to my-van-atlas --sites denver-us,awassa-et --months 5-9
    """
    from ampwright.cli.run import atlas_made  # noqa: PLC0415 - heavy
    from ampwright.cli.show_atlas import atlas_shown  # noqa: PLC0415 - heavy

    rows, made_count = atlas_made(
        tuple(jobs), to, where=(sites, months), worker_count=workers, cluster=cluster, workshop=workshop
    )
    atlas_shown(rows, to, made_count)
