"""What is asked of a part by its place: protection against water, and the class of shaking.

No published table for the auxiliary parts of converted vehicles was read; every row says so.
"""

from __future__ import annotations

from functools import cache

from ampwright.errors import TableError
from ampwright.records import record
from ampwright.sources import Source
from ampwright.standards.csv_table import table_rows

__all__ = ["MountingPlace", "mounting_place"]


@record
class MountingPlace:
    """One kind of place."""

    kind: str
    """Kind of zone."""
    water_digit: int | None
    """Second digit of the IP code asked for (5 = jets); None = none is asked for."""
    vibration_class: str
    """Class of shaking where the job says none."""
    source: Source
    """Where it comes from."""
    reason: str
    """Why."""


@cache
def _places() -> dict[str, MountingPlace]:
    return {
        row["place"]: MountingPlace(
            kind=row["place"],
            water_digit=int(row["water_digit"]) if row["water_digit"] else None,
            vibration_class=row["vibration_class"],
            source=Source(document="common practice, no source", standing=row["standing"]),
            reason=row["reason"],
        )
        for row in table_rows(__package__, "places.csv")
    }


def mounting_place(kind: str) -> MountingPlace:
    """Return what is asked of parts in a kind of place.

    Examples
    --------
    >>> mounting_place("roof").water_digit, mounting_place("cabin").water_digit
    (5, None)
    """
    if kind not in _places():
        raise TableError(f"place '{kind}': use one of {', '.join(_places())}")
    return _places()[kind]
