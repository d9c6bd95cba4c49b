"""`ampwright publish`: every document of a job into one folder."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from ampwright.cli.language import LanguageOption
from ampwright.cli.workshop import WorkshopFolder

__all__ = ["publish"]


def publish(
    job: Annotated[Path, typer.Argument(help="Job file (TOML).", show_default=False)],
    to: Annotated[
        Path, typer.Option("--to", help="Folder for the documents; made where missing.", show_default=False)
    ],
    only: Annotated[
        list[str] | None,
        typer.Option("--only", help="Make only this document; may be given again.", show_default=False),
    ] = None,
    language: LanguageOption = None,
    workshop: WorkshopFolder = None,
) -> None:
    """Write the build pack: what bench, fitter, electrician and customer need on paper.

    Exit codes: 2 bad input; else those of check: 0 suits and no fault found, 1 does not suit, 3 do not energise,
    4 not fully checked. While a fault or an open rule stands, every page says DRAFT.

    Examples: ampwright publish my-van.toml --to my-van-pack; ampwright publish my-van.toml --to cards --only
    first-responder --language de
    """
    from ampwright.cli.run import code_of, published  # noqa: PLC0415 - heavy
    from ampwright.cli.show_pack import pack_shown  # noqa: PLC0415 - heavy

    pack = published(job, to, only=tuple(only or ()), language=language, workshop=workshop)
    pack_shown(pack, to)
    raise typer.Exit(code_of(pack.wiring_verdict, pack.use_verdict))
