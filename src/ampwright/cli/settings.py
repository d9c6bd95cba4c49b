"""`ampwright settings`: what to set on each device, in the order a fitter sets it."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from ampwright.cli.language import LanguageOption
from ampwright.cli.workshop import WorkshopFolder, workshop_in

__all__ = ["settings"]


def settings(
    job: Annotated[Path, typer.Argument(help="Job file (TOML).", show_default=False)],
    as_json: Annotated[bool, typer.Option("--json", help="Print the sheet as JSON.")] = False,
    pdf: Annotated[
        Path | None, typer.Option("--pdf", help="Write the sheet to this PDF file.", show_default=False)
    ] = None,
    language: LanguageOption = None,
    workshop: WorkshopFolder = None,
) -> None:
    """Print what to set on each device, why, within which window, and what was left.

    Exit codes: 0 printed, 2 bad input.

    Examples: ampwright settings my-van.toml; ampwright settings my-van.toml --pdf my-van-settings.pdf
    """
    from ampwright import api  # noqa: PLC0415 - heavy
    from ampwright.assessment.assess import assess  # noqa: PLC0415 - heavy
    from ampwright.cli.refuse import refusing  # noqa: PLC0415 - heavy
    from ampwright.cli.run import can_be_report, words_for  # noqa: PLC0415 - heavy
    from ampwright.cli.show_settings import settings_json, settings_shown, settings_written  # noqa: PLC0415

    if pdf is not None:
        can_be_report(pdf)
    with refusing():
        loaded = api.load(job, workshop=workshop_in(workshop))
        found = assess(loaded.design, loaded.sun)
        if pdf is not None:
            settings_written(found, pdf, words=words_for(found, language))
    if as_json:
        typer.echo(settings_json(found))
    else:
        settings_shown(found, sheet=pdf)
