"""The option that names a workshop's own parts and modules; several commands have it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from ampwright.job.workshop import Workshop

__all__ = ["WorkshopFolder", "workshop_in"]

WorkshopFolder = Annotated[
    Path | None,
    typer.Option(
        "--workshop",
        envvar="AMPWRIGHT_WORKSHOP_DIR",
        help="Folder with the workshop's own parts and modules, as the web app keeps them.",
        show_default=False,
    ),
]


def workshop_in(folder: Path | None) -> Workshop | None:
    """Return what a workshop's folder holds; None where no folder is named."""
    from ampwright.job.workshop import load_workshop  # noqa: PLC0415 - heavy

    return None if folder is None else load_workshop(folder)
