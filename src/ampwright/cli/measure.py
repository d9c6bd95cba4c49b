"""`ampwright measure`: what to measure on the vehicle, and which line of the job file each reading replaces."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from ampwright.cli.language import LanguageOption
from ampwright.cli.workshop import WorkshopFolder, workshop_in

__all__ = ["measure"]


def measure(
    job: Annotated[Path, typer.Argument(help="Job file (TOML).", show_default=False)],
    as_json: Annotated[bool, typer.Option("--json", help="Print the procedure as JSON.")] = False,
    pdf: Annotated[
        Path | None,
        typer.Option("--pdf", help="Write it as a sheet to fill in to this PDF file.", show_default=False),
    ] = None,
    language: LanguageOption = None,
    workshop: WorkshopFolder = None,
) -> None:
    """Print what to measure with a clamp meter, what to expect, and where to write it.

    Exit codes: 0 printed, 2 bad input.

    Examples: ampwright measure my-van.toml; ampwright measure my-van.toml --pdf my-van-measuring.pdf
    """
    from ampwright import api  # noqa: PLC0415 - heavy
    from ampwright.cli.refuse import refusing  # noqa: PLC0415 - heavy
    from ampwright.cli.run import can_be_report, document_written  # noqa: PLC0415 - heavy
    from ampwright.cli.show_measuring import measuring_json, measuring_text  # noqa: PLC0415 - heavy

    if pdf is not None:
        can_be_report(pdf)
    with refusing():
        plan = api.measuring(job, workshop=workshop_in(workshop))
    if pdf is not None:
        document_written(job, "measuring", pdf, language=language, workshop=workshop)
    typer.echo(measuring_json(plan) if as_json else measuring_text(plan, written=pdf))
