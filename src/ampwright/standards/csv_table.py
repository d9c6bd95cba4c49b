"""Reading the tables that stand beside the modules of this room.

A table is a CSV with a header row; lines that start with "#" name the document and the standing of
its figures and are for people. Look-ups and their errors are left to the packages of the documents.
"""

from __future__ import annotations

import csv
from importlib.resources import files

from ampwright.errors import TableError

__all__ = ["STANDINGS", "table_rows", "weakest_standing"]

STANDINGS = ("read", "second hand", "derived", "common practice", "from memory")
"""How a figure was obtained, from strong to weak."""


def table_rows(package: str, file: str) -> tuple[dict[str, str], ...]:
    """Return the rows of a table shipped in `package`, as text by column name."""
    text = files(package).joinpath(file).read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if line.strip() and not line.startswith("#")]
    return tuple(csv.DictReader(lines))


def weakest_standing(*standings: str) -> str:
    """Return the weakest of the standings of figures that were used together.

    Examples
    --------
    >>> weakest_standing("read", "from memory", "second hand")
    'from memory'
    """
    unknown = [standing for standing in standings if standing not in STANDINGS]
    if unknown or not standings:
        raise TableError(f"standing {unknown or 'missing'}: use one of {', '.join(STANDINGS)}")
    return max(standings, key=STANDINGS.index)
