"""`ampwright intake`: a customer's answers become a first job."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

__all__ = ["intake"]


def intake(
    answers: Annotated[Path, typer.Argument(help="File of answers (JSON).", show_default=False)],
    target: Annotated[Path, typer.Option("--to", help="Job file to write.", show_default=False)],
) -> None:
    """Make a first job from what a customer told: vehicle, appliances, place, trip.

    Exit codes: 0 written, 2 bad input.

    Example: ampwright intake answers.json --to my-van.toml
    """
    from ampwright import api  # noqa: PLC0415 - heavy
    from ampwright.cli.quick_start import skip_unused_algebra  # noqa: PLC0415 - only here
    from ampwright.cli.refuse import refusing  # noqa: PLC0415 - only here
    from ampwright.cli.run import new_file, today  # noqa: PLC0415 - heavy
    from ampwright.job.intake.answers import load_story  # noqa: PLC0415 - heavy

    skip_unused_algebra()
    with refusing():
        story = load_story(answers)
        new_file(target, lambda: api.first_job(story, on=today()))
    typer.echo(f"Wrote {target}. Read what was assumed, then run: ampwright check {target}")
