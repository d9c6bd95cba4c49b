"""`ampwright log`: a log of the finished vehicle against what its job foretells."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from ampwright.cli.workshop import WorkshopFolder, workshop_in

__all__ = ["log"]


def log(
    job: Annotated[Path, typer.Argument(help="Job file (TOML).", show_default=False)],
    readings: Annotated[Path, typer.Argument(help="Log of the battery (CSV).", show_default=False)],
    columns: Annotated[
        str, typer.Option("--columns", help="Headings in the log: time=...,battery_v=...,battery_a=...")
    ] = "",
    discharge_positive: Annotated[
        bool, typer.Option("--discharge-positive", help="The log counts discharge as positive.")
    ] = False,
    as_json: Annotated[bool, typer.Option("--json", help="Print the comparison as JSON.")] = False,
    *,
    workshop: WorkshopFolder = None,
) -> None:
    """Compare a log of the battery with what the job foretells.

    Exit codes: 0 nothing differs, 1 something differs, 2 bad input.

    Examples: ampwright log my-van.toml october.csv; ampwright log my-van.toml october.csv --columns time=Time,battery_v=U,battery_a=I
    """
    from ampwright import api  # noqa: PLC0415 - heavy
    from ampwright.cli.refuse import refusing  # noqa: PLC0415 - heavy
    from ampwright.cli.show_log import log_json, log_text  # noqa: PLC0415 - heavy

    with refusing():
        study = api.log_study_of(
            job,
            readings,
            names=_names(columns),
            discharge_is_positive=discharge_positive,
            workshop=workshop_in(workshop),
        )
    typer.echo(log_json(study) if as_json else log_text(study))
    raise typer.Exit(1 if study.differing else 0)


def _names(columns: str) -> dict[str, str]:
    """Return the heading of each column named."""
    from ampwright.fieldwork.log_file import COLUMNS  # noqa: PLC0415 - heavy

    names: dict[str, str] = {}
    for pair in filter(None, (each.strip() for each in columns.split(","))):
        name, _, heading = pair.partition("=")
        if name.strip() not in COLUMNS or not heading.strip():
            raise typer.BadParameter(
                f"'{pair}' is not one of {', '.join(f'{known}=heading' for known in COLUMNS)}"
            )
        names[name.strip()] = heading.strip()
    return names
