"""Strength of metric bolts, M5 to M12.

Answers what one bolt carries across its thread and along it. Whether the sheet or floor it goes through carries as
much is left to whoever fits it.
"""

from __future__ import annotations

from functools import cache

from ampwright.errors import TableError
from ampwright.sources import Source
from ampwright.standards.csv_table import table_rows

__all__ = ["SOURCE", "SOURCE_TOGETHER", "TENSION_WITH_SHEAR", "bolt_shear_n", "bolt_tension_n"]

SOURCE = Source(
    document="EN 1993-1-8", edition="2005", place="table 3.4, shear of bolts", standing="second hand"
)
SOURCE_TOGETHER = Source(
    document="EN 1993-1-8",
    edition="2005",
    place="table 3.4, shear and tension together",
    standing="from memory",
)
TENSION_FACTOR = 0.9  # k_2, bolts without countersunk head (EN 1993-1-8, table 3.4; from memory)
TENSION_WITH_SHEAR = 1.4
"""F_v,Ed / F_v,Rd + F_t,Ed / (1.4 F_t,Rd) <= 1 (EN 1993-1-8, table 3.4; from memory)."""
PARTIAL_FACTOR = 1.25  # γ_M2, EN 1993-1-8, table 2.1, recommended value (second hand)
STRENGTH_MPA = {"4.6": 400.0, "5.6": 500.0, "8.8": 800.0, "10.9": 1000.0}
"""Nominal tensile strength by property class (ISO 898-1; second hand): first figure × 100."""
SHEAR_FACTOR = {"4.6": 0.6, "5.6": 0.6, "8.8": 0.6, "10.9": 0.5}
"""α_v, shear plane through the thread (EN 1993-1-8, table 3.4; second hand)."""


@cache
def _stress_area_mm2() -> dict[int, float]:
    """Return the stress areas once read (a memo: a table never changes)."""
    rows = table_rows("ampwright.standards.en_1993_1_8", "bolts.csv")
    return {int(row["bolt_mm"]): float(row["stress_area_mm2"]) for row in rows}


def bolt_shear_n(bolt_mm: int, *, bolt_class: str) -> float:
    """Return the design shear resistance of one bolt, one shear plane through the thread.

    EN 1993-1-8, table 3.4: F_v,Rd = α_v · f_ub · A_s / γ_M2. It is below the proof load in tension, so it
    serves for a pull along the bolt too.

    Examples
    --------
    >>> round(bolt_shear_n(10, bolt_class="8.8"))
    22272
    """
    strength_n = _strength_n(bolt_mm, bolt_class)
    return SHEAR_FACTOR[bolt_class] * strength_n / PARTIAL_FACTOR


def bolt_tension_n(bolt_mm: int, *, bolt_class: str) -> float:
    """Return the design tension resistance of one bolt.

    EN 1993-1-8, table 3.4: F_t,Rd = 0.9 · f_ub · A_s / γ_M2.

    Examples
    --------
    >>> round(bolt_tension_n(8, bolt_class="4.6"))
    10541
    """
    return TENSION_FACTOR * _strength_n(bolt_mm, bolt_class) / PARTIAL_FACTOR


def _strength_n(bolt_mm: int, bolt_class: str) -> float:
    areas = _stress_area_mm2()
    if bolt_mm not in areas or bolt_class not in STRENGTH_MPA:
        raise TableError(f"no strength is held for M{bolt_mm} of class {bolt_class}")
    return STRENGTH_MPA[bolt_class] * areas[bolt_mm]
