"""Plugs of mains leads by the designation of their standard: rated current, voltage and region."""

from __future__ import annotations

from functools import cache

from ampwright.errors import TableError
from ampwright.records import record
from ampwright.sources import Source
from ampwright.standards.csv_table import table_rows

__all__ = ["PlugType", "plug_type", "usual_plugs"]


@record
class PlugType:
    """One kind of plug and socket."""

    type: str
    """Designation used in job files."""
    sold_as: str
    """Plain words."""
    rating_a: float
    """Rated current."""
    rated_v: float
    """Rated voltage."""
    regions: tuple[str, ...]
    """Where it is usual on the lead of a vehicle."""
    source: Source
    """Its standard."""


@cache
def _plugs() -> dict[str, PlugType]:
    return {
        row["type"]: PlugType(
            type=row["type"],
            sold_as=row["sold_as"],
            rating_a=float(row["rating_a"]),
            rated_v=float(row["rated_v"]),
            regions=tuple(row["regions"].split()),
            source=Source(document=row["document"], standing="from memory"),
        )
        for row in table_rows(__package__, "plugs.csv")
    }


def plug_type(name: str) -> PlugType:
    """Return a kind of plug.

    Examples
    --------
    >>> plug_type("bs-1363").rating_a
    13.0
    """
    if name not in _plugs():
        raise TableError(f"plug '{name}': use one of {', '.join(_plugs())}")
    return _plugs()[name]


def usual_plugs(region: str) -> tuple[PlugType, ...]:
    """Return the plugs usual in a region.

    Examples
    --------
    >>> [plug.type for plug in usual_plugs("au-nz")][:2]
    ['as-3112-10', 'as-3112-15']
    """
    return tuple(plug for plug in _plugs().values() if region in plug.regions)
