"""`ampwright page`: the job as one page in one file, to hand over."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from ampwright.cli.language import LanguageOption
from ampwright.cli.workshop import WorkshopFolder

__all__ = ["page"]


def page(
    job: Annotated[Path, typer.Argument(help="Job file (TOML).", show_default=False)],
    target: Annotated[Path, typer.Option("--to", help="File to write (HTML).", show_default=False)],
    language: LanguageOption = None,
    workshop: WorkshopFolder = None,
) -> None:
    """Write the job as one page in one file: verdicts, charts, diagram, circuits, handover, cautions.

    Exit codes: 0 written, 2 bad input. While a fault or an open rule stands, the page says DRAFT.

    Example: ampwright page my-van.toml --to my-van.html
    """
    from ampwright.cli.run import can_be_page, document_written  # noqa: PLC0415 - heavy

    can_be_page(target)
    document_written(job, "page", target, language=language, workshop=workshop)
    typer.echo(f"Wrote {target}. It opens in any browser without internet, and prints.")
