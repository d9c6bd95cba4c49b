"""`ampwright sites` and `ampwright parts`: what comes with the program."""

from __future__ import annotations

from typing import Annotated

import typer

from ampwright.cli.workshop import WorkshopFolder, workshop_in

__all__ = ["parts", "sites"]


def sites(
    word: Annotated[
        str, typer.Argument(help="Show only places whose id, name or country has this word.")
    ] = "",
) -> None:
    """List the places whose sun and temperatures come with the program.

    Countries are written as ISO 3166 alpha-3 codes: AUS, DEU, USA.

    Example: ampwright sites denver
    """
    from ampwright.climate.sources import shipped_sites  # noqa: PLC0415 - reads a table

    wanted = word.casefold()
    found = [
        site
        for site in shipped_sites().values()
        if wanted in f"{site.id} {site.name} {site.country}".casefold()
    ]
    for site in found:
        low, high = min(site.ghi_kwh_m2_day), max(site.ghi_kwh_m2_day)
        sun = f"{low:.1f} to {high:.1f} kWh/m²"
        typer.echo(
            f"{site.id:25} {site.name[:22]:22} {site.country:3} {site.latitude_deg:3.0f} "
            f"{site.longitude_deg:4.0f} {sun}"
        )
    if found:
        typer.echo("Id, name, country (ISO 3166 alpha-3), degrees north and east, sun a day.")
    else:
        typer.echo(
            f"No shipped place has '{word}'. Type your own twelve monthly figures: see docs/climate.md."
        )


def parts(
    word: Annotated[str, typer.Argument(help="Show only parts whose id, kind or name has this word.")] = "",
    workshop: WorkshopFolder = None,
) -> None:
    """List the generic parts that come with the program, and a workshop's own.

    Example: ampwright parts battery
    """
    from ampwright.cli.refuse import refusing  # noqa: PLC0415 - heavy
    from ampwright.parts.catalogue import shipped_catalogue  # noqa: PLC0415 - reads data

    wanted = word.casefold()
    with refusing():
        own = workshop_in(workshop)
    catalogue = shipped_catalogue() if own is None else own.catalogue
    found = [
        part for part in catalogue.parts.values() if wanted in f"{part.id} {part.kind} {part.name}".casefold()
    ]
    for part in found:
        typer.echo(f"{part.id:22} {part.kind:19} {part.name}"[:100])
    if not found:
        typer.echo(f"No part has '{word}'. Bring your own parts: see docs/parts.md.")
