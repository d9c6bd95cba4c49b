"""`ampwright measure`: what to measure on the vehicle, and which line of the job file each reading replaces."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

__all__ = ["measure"]


def measure(
    job: Annotated[Path, typer.Argument(help="Job file (TOML).", show_default=False)],
    as_json: Annotated[bool, typer.Option("--json", help="Print the procedure as JSON.")] = False,
) -> None:
    """Print what to measure with a clamp meter, what to expect, and where to write it.

    Exit codes: 0 printed, 2 bad input.

    Example: ampwright measure my-van.toml
    """
    from ampwright import api  # noqa: PLC0415 - heavy
    from ampwright.cli.refuse import refusing  # noqa: PLC0415 - heavy
    from ampwright.cli.show_measuring import measuring_json, measuring_text  # noqa: PLC0415 - heavy

    with refusing():
        plan = api.measuring(job)
    typer.echo(measuring_json(plan) if as_json else measuring_text(plan))
