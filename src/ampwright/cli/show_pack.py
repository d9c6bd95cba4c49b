"""What was written into the folder, on a terminal of 80 columns."""

from __future__ import annotations

import textwrap
from pathlib import Path

import typer

from ampwright.documents.pack.records import Pack

__all__ = ["pack_shown"]


def pack_shown(pack: Pack, folder: Path) -> None:
    """Print the files, what was left out and why, and both verdicts."""
    typer.echo(f"{len(pack.files)} files in {folder}:")
    for file in pack.files:
        typer.echo(f"  {file.name:<32}{len(file.content) / 1000:>8.0f} kB")
    for name, reason in pack.left_out:
        typer.echo(textwrap.fill(f"  no {name}: {reason}", 80, subsequent_indent="    "))
    typer.echo(f"Use: {pack.use_verdict}. Wiring: {pack.wiring_verdict}.")
    if pack.wiring_verdict != "no fault found":
        typer.echo("Every page says DRAFT, DO NOT ENERGISE.")
