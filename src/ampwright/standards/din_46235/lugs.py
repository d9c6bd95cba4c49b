"""Which cable lugs there are for a conductor and a stud."""

from __future__ import annotations

from functools import cache

from ampwright.records import record
from ampwright.sources import Source
from ampwright.standards.csv_table import table_rows

__all__ = ["LUG_SOURCE", "Lug", "lug_for"]

LUG_SOURCE = Source(
    document="DIN 46234 and DIN 46235",
    place="holes of ring terminals and lugs as usually sold",
    standing="from memory",
)
NEARLY_FRAC = 0.95
"""A barrel takes a conductor up to 5 % above its name, for the roundings of trade sizes (own choice)."""


@record
class Lug:
    """The smallest barrel that takes a conductor, and the studs it is made for."""

    barrel_mm2: float
    """Conductor the barrel is made for."""
    stud_min_mm: float
    """Smallest stud it is sold for: 6 = M6."""
    stud_max_mm: float
    """Largest stud it is sold for."""

    def fits(self, stud_mm: float) -> bool:
        """Tell whether the lug is sold for a stud."""
        return self.stud_min_mm <= stud_mm <= self.stud_max_mm


@cache
def _lugs() -> tuple[Lug, ...]:
    return tuple(
        Lug(
            barrel_mm2=float(row["barrel_mm2"]),
            stud_min_mm=float(row["stud_min_mm"]),
            stud_max_mm=float(row["stud_max_mm"]),
        )
        for row in table_rows(__package__, "lugs.csv")
    )


def lug_for(area_mm2: float) -> Lug | None:
    """Return the lug for a conductor; None where the table ends.

    Examples
    --------
    >>> lug_for(33.6).barrel_mm2, lug_for(33.6).fits(8.0), lug_for(70.0).fits(6.0)
    (35.0, True, False)
    >>> lug_for(300.0) is None
    True
    """
    return next((lug for lug in _lugs() if lug.barrel_mm2 >= NEARLY_FRAC * area_mm2), None)
