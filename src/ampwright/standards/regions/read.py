"""Reading the data file of a region.

Each table of the file is one field of `RegionRules`: its value and where it comes from. A field without
`value` is not held; a file that lacks a field, or has one too many, is a mistake of this project.
"""

from __future__ import annotations

import tomllib
from dataclasses import fields
from functools import cache
from importlib.resources import files
from typing import Any, get_args

from ampwright.errors import TableError
from ampwright.sources import Source, own_choice
from ampwright.standards.csv_table import STANDINGS
from ampwright.standards.regions.rules import RegionEntry, RegionName, RegionRules

__all__ = ["REGIONS", "region_rules"]

REGIONS: tuple[RegionName, ...] = get_args(RegionName)
"""Names of the regions held."""
MAY_BE_MISSING = frozenset({"plug_fuse_a", "battery_vent_mm2", "gas_cable_height_m"})


@cache
def region_rules(name: RegionName) -> RegionRules:
    """Return the rules of a region.

    Examples
    --------
    >>> rules = region_rules("us-ca")
    >>> rules.mains_v, rules.source("mains_v").standing
    (120.0, 'second hand')
    """
    if name not in REGIONS:
        raise TableError(f"region '{name}': use one of {', '.join(REGIONS)}")
    text = files(__package__).joinpath(f"{name}.toml").read_text(encoding="utf-8")
    tables = tomllib.loads(text)
    wanted = [each.name for each in fields(RegionRules) if each.name not in {"name", "entries"}]
    if set(tables) != set(wanted):
        raise TableError(f"region '{name}': fields missing or unknown: {sorted(set(tables) ^ set(wanted))}")
    values = {field: _value(name, field, tables[field]) for field in wanted}
    entries = tuple(_entry(name, field, tables[field]) for field in wanted)
    return RegionRules(name=name, entries=entries, **values)


def _value(name: str, field: str, table: dict[str, Any]) -> Any:
    if "value" not in table and field not in MAY_BE_MISSING:
        raise TableError(f"region '{name}', {field}: a value is missing")
    value = table.get("value")
    return tuple(value) if isinstance(value, list) else value


def _entry(name: str, field: str, table: dict[str, Any]) -> RegionEntry:
    if "choice" in table:
        source = own_choice(table["choice"])
    else:
        source = Source(
            document=table["document"],
            edition=table.get("edition", ""),
            place=table.get("place", ""),
            standing=table["standing"],
        )
    if source.standing not in STANDINGS:
        raise TableError(f"region '{name}', {field}: standing '{source.standing}' is not known")
    return RegionEntry(field=field, source=source, note=table.get("note", ""))
