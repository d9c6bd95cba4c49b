"""`ampwright intake`: a customer's answers become a first job; the form that asks for them."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from ampwright.cli.language import LanguageName

__all__ = ["intake"]


def intake(
    answers: Annotated[
        Path | None, typer.Argument(help="File of answers (JSON).", show_default=False)
    ] = None,
    target: Annotated[
        Path | None, typer.Option("--to", help="Job file to write.", show_default=False)
    ] = None,
    form: Annotated[
        Path | None,
        typer.Option(
            "--form", help="Write the form (HTML) that a customer fills in at home.", show_default=False
        ),
    ] = None,
    language: Annotated[LanguageName, typer.Option(help="Language of the form.")] = LanguageName.EN,
) -> None:
    """Make a first job from what a customer told: vehicle, appliances, place, trip.

    Exit codes: 0 written, 2 bad input.

    Examples: ampwright intake --form questions.html --language de; ampwright intake answers.json --to my-van.toml
    """
    from ampwright.cli.refuse import refusing  # noqa: PLC0415 - only here
    from ampwright.errors import FileError  # noqa: PLC0415 - only here

    with refusing():
        if form is not None and answers is None:
            _write_form(form, language)
        elif answers is not None and target is not None and form is None:
            _write_job(answers, target)
        else:
            raise FileError("give answers and --to JOB.toml, or --form FILE.html")


def _write_job(answers: Path, target: Path) -> None:
    from ampwright import api  # noqa: PLC0415 - heavy
    from ampwright.cli.quick_start import skip_unused_algebra  # noqa: PLC0415 - only here
    from ampwright.cli.run import new_file, today  # noqa: PLC0415 - heavy
    from ampwright.job.intake.answers import load_story  # noqa: PLC0415 - heavy

    skip_unused_algebra()
    story = load_story(answers)
    new_file(target, lambda: api.first_job(story, on=today()))
    typer.echo(f"Wrote {target}. Read what was assumed, then run: ampwright check {target}")


def _write_form(target: Path, language: LanguageName) -> None:
    from ampwright.cli.run import can_be_page, write_file  # noqa: PLC0415 - heavy
    from ampwright.documents.intake.form import intake_form  # noqa: PLC0415 - only here
    from ampwright.documents.words.words import load_words  # noqa: PLC0415 - only here

    can_be_page(target)
    write_file(target, intake_form(load_words(language.value)).encode())
    typer.echo(
        f"Wrote {target}. The customer opens it in a browser, without internet, and sends back a small file."
    )
