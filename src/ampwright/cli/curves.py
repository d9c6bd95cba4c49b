"""`ampwright curves`: which of two fuses or breakers opens first, and the time-current chart of every circuit."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from ampwright.cli.language import LanguageOption
from ampwright.cli.workshop import WorkshopFolder, workshop_in

__all__ = ["curves"]


def curves(
    job: Annotated[Path, typer.Argument(help="Job file (TOML).", show_default=False)],
    to: Annotated[
        Path | None, typer.Option("--to", help="Write the charts to this PDF file.", show_default=False)
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print devices and pairs as JSON.")] = False,
    language: LanguageOption = None,
    workshop: WorkshopFolder = None,
) -> None:
    """Say which of two fuses or breakers in series opens first, and draw each against its cable.

    Exit codes: 0 done, 2 bad input.

    Examples: ampwright curves my-van.toml; ampwright curves my-van.toml --to my-van-curves.pdf
    """
    from ampwright import api  # noqa: PLC0415 - heavy
    from ampwright.assessment.assess import assess  # noqa: PLC0415 - heavy
    from ampwright.cli.refuse import refusing  # noqa: PLC0415 - heavy
    from ampwright.cli.run import can_be_report, today, words_for, write_file  # noqa: PLC0415 - heavy
    from ampwright.cli.show_curves import curves_json, curves_text  # noqa: PLC0415 - heavy

    if to is not None:
        can_be_report(to)
    with refusing():
        loaded = api.load(job, workshop=workshop_in(workshop))
        found = assess(loaded.design, loaded.sun, on=today())
        if to is not None:
            from ampwright.documents.curve_sheets import curves_pdf  # noqa: PLC0415 - heavy

            write_file(to, curves_pdf(found, words_for(found, language)))
    typer.echo(curves_json(found) if as_json else curves_text(found, written=to))
