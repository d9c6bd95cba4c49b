"""`ampwright check`: one job, two verdicts, findings, report."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from ampwright.cli.language import LanguageOption
from ampwright.cli.workshop import WorkshopFolder

__all__ = ["check"]


def check(  # noqa: PLR0913 - one for each option
    job: Annotated[Path, typer.Argument(help="Job file (TOML).", show_default=False)],
    as_json: Annotated[bool, typer.Option("--json", help="Print the answer as JSON.")] = False,
    report: Annotated[
        Path | None, typer.Option("--report", help="Write the two-page report to this PDF file.")
    ] = None,
    *,
    with_curves: Annotated[
        bool, typer.Option("--with-curves", help="Append the charts of all fuses and breakers to the report.")
    ] = False,
    language: LanguageOption = None,
    every: Annotated[
        bool, typer.Option("--all", help="Show passes too, not only what needs attention.")
    ] = False,
    workshop: WorkshopFolder = None,
) -> None:
    """Check a job: is it fit for the use, is there a fault in wiring or protection.

    Exit codes: 0 suits and no fault found, 1 does not suit, 2 bad input, 3 do not energise, 4 not fully
    checked.

    Examples: ampwright check my-van.toml; ampwright check my-van.toml --report my-van.pdf;
    ampwright check my-van.toml --json
    """
    from ampwright.cli.run import can_be_report, checked, exit_code, needs_report, written  # noqa: PLC0415 - heavy
    from ampwright.cli.show import shown, shown_json  # noqa: PLC0415 - heavy

    needs_report(report, with_curves=with_curves)
    if report is not None:
        can_be_report(report)
    answer = checked(job, workshop=workshop)
    if report is not None:
        written(answer, report, with_curves=with_curves, language=language)
    if as_json:
        typer.echo(shown_json(answer))
    else:
        shown(answer, every=every, report=report)
    raise typer.Exit(exit_code(answer))
