"""The command `ampwright`: which commands there are. Nothing heavy is imported here."""

from __future__ import annotations

import gc
import sys
from io import TextIOWrapper
from typing import Annotated

import typer

from ampwright import __version__
from ampwright.cli.atlas import atlas
from ampwright.cli.backup import backup, restore
from ampwright.cli.cables import cables
from ampwright.cli.channels import channels
from ampwright.cli.check import check
from ampwright.cli.compare import compare
from ampwright.cli.curves import curves
from ampwright.cli.demo import demo
from ampwright.cli.intake import intake
from ampwright.cli.lists import parts, sites
from ampwright.cli.log import log
from ampwright.cli.measure import measure
from ampwright.cli.new import new
from ampwright.cli.page import page
from ampwright.cli.publish import publish
from ampwright.cli.schema import schema
from ampwright.cli.serve import serve
from ampwright.cli.settings import settings
from ampwright.cli.substitute import substitute

__all__ = ["app", "main"]

app = typer.Typer(
    name="ampwright",
    help="Design and prove the auxiliary power system of a touring or working vehicle.",
    epilog="Example: ampwright new my-van.toml, then ampwright check my-van.toml",
    add_completion=False,
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"]},
)
for command in (
    check,
    compare,
    substitute,
    publish,
    page,
    serve,
    backup,
    restore,
    curves,
    cables,
    channels,
    atlas,
    measure,
    log,
    settings,
    new,
    intake,
    demo,
    schema,
    sites,
    parts,
):
    app.command()(command)


def _version(wanted: bool) -> None:  # noqa: FBT001 - typer calls it so
    if wanted:
        typer.echo(f"ampwright {__version__}")
        raise typer.Exit


@app.callback()
def _options(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version and stop.")
    ] = False,
) -> None:
    """Design and prove the auxiliary power system of a touring or working vehicle."""


def main() -> None:
    """Run one command; the process is too short for collecting garbage to pay."""
    gc.disable()
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):  # a terminal that lacks a sign shows "?" for it
            stream.reconfigure(errors="replace")
    app()


if __name__ == "__main__":
    main()
