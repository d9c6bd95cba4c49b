"""`ampwright curves`: the time-current chart of every protected circuit, as PDF."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

__all__ = ["curves"]


def curves(
    job: Annotated[Path, typer.Argument(help="Job file (TOML).", show_default=False)],
    to: Annotated[Path, typer.Option("--to", help="Write the charts to this PDF file.", show_default=False)],
) -> None:
    """Draw what each fuse and breaker does against its cable, its load and its fault currents.

    Exit codes: 0 written, 2 bad input.

    Example: ampwright curves my-van.toml --to my-van-curves.pdf
    """
    from ampwright import api  # noqa: PLC0415 - heavy
    from ampwright.assessment.assess import assess  # noqa: PLC0415 - heavy
    from ampwright.cli.refuse import refusing  # noqa: PLC0415 - heavy
    from ampwright.cli.run import can_be_report, today  # noqa: PLC0415 - heavy
    from ampwright.documents.curve_sheets import curves_pdf  # noqa: PLC0415 - heavy
    from ampwright.errors import FileError  # noqa: PLC0415 - heavy

    can_be_report(to)
    with refusing():
        loaded = api.load(job)
        content = curves_pdf(assess(loaded.design, loaded.sun, on=today()))
        try:
            to.write_bytes(content)
        except OSError as error:
            raise FileError(f"{to}: cannot be written ({error.strerror}); choose another place") from error
    typer.echo(f"Charts: {to}")
