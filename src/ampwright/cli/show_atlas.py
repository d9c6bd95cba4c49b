"""An atlas on a terminal of 80 columns: places down, months across."""

from __future__ import annotations

import textwrap
from collections import Counter
from pathlib import Path

import typer

from ampwright.atlas.records import Row

__all__ = ["atlas_shown"]

SHOWN_PLACES = 40
NAME_WIDTH = 19
SIGNS = {"suits": "+", "suits with conditions": "o", "does not suit": "x"}
LEGEND = (
    "+ suits, o with conditions, x does not suit; the figure is the share of the runs in per cent in which every "
    "essential load is served. ? no answer, see the column problem. Coldest and hottest air stay those of the job."
)


def atlas_shown(rows: tuple[Row, ...], folder: Path, made_count: int) -> None:
    """Print one table for each job, and where the rows lie."""
    for job in dict.fromkeys(row.job for row in rows):
        mine = [row for row in rows if row.job == job]
        months = sorted({row.month for row in mine})
        typer.echo(f"{job}\n{'month':<{NAME_WIDTH}}" + "".join(f"{month:>5}" for month in months))
        places = sorted({row.site for row in mine})
        for site in places[:SHOWN_PLACES]:
            found = {row.month: row for row in mine if row.site == site}
            typer.echo(
                f"{site[:NAME_WIDTH]:<{NAME_WIDTH}}" + "".join(_cell(found[month]) for month in months)
            )
        if len(places) > SHOWN_PLACES:
            typer.echo(f"... and {len(places) - SHOWN_PLACES} places more in {folder}")
    typer.echo(textwrap.fill(LEGEND, 80))
    problems = [row for row in rows if row.problem]
    if problems:
        typer.echo(textwrap.fill(f"{len(problems)} without an answer, the first: {problems[0].problem}", 80))
    for verdict, count in Counter(row.wiring_verdict for row in rows if not row.problem).most_common():
        typer.echo(f"Wiring at the likely values: {verdict} in {count} of {len(rows)} cases.")
    typer.echo(f"{len(rows)} cases in {folder}; files made now: {made_count}.")


def _cell(row: Row) -> str:
    if row.problem:
        return "    ?"
    share = f"{100 * row.held_count / row.run_count:.0f}" if row.run_count else ""
    return f"{share:>4}{SIGNS[row.use_verdict]}"
