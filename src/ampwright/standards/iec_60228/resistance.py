"""Largest resistance of a copper conductor at 20 °C by nominal area and class.

Only the sizes of the table are answered: a nominal area says nothing about one that is not in it.
"""

from __future__ import annotations

from functools import cache
from typing import Literal

from ampwright.errors import TableError
from ampwright.sources import Source
from ampwright.standards.csv_table import table_rows

__all__ = ["RESISTANCE_SOURCE", "ConductorClass", "conductor_areas_mm2", "resistance_20_ohm_per_km"]

ConductorClass = Literal["class-2", "class-5", "class-5-tinned"]
"""Stranded for fixed wiring; flexible, plain wires; flexible, tinned wires."""

RESISTANCE_SOURCE = Source(
    document="IEC 60228",
    edition="edition not stated by the reprints",
    place="maximum conductor resistance at 20 degC",
    standing="second hand",
)

_COLUMN_BY_CLASS = {
    "class-2": "class_2_plain_ohm_per_km",
    "class-5": "class_5_plain_ohm_per_km",
    "class-5-tinned": "class_5_tinned_ohm_per_km",
}


@cache
def _rows() -> dict[float, dict[str, str]]:
    """Rows of the table by nominal area."""
    return {float(row["area_mm2"]): row for row in table_rows(__package__, "resistance.csv")}


def conductor_areas_mm2() -> tuple[float, ...]:
    """Return the nominal areas held, ascending.

    Examples
    --------
    >>> conductor_areas_mm2()[:4]
    (0.5, 0.75, 1.0, 1.5)
    """
    return tuple(sorted(_rows()))


def resistance_20_ohm_per_km(area_mm2: float, conductor_class: ConductorClass) -> float:
    """Return the largest resistance at 20 °C of one conductor of a nominal area.

    IEC 60228, tables for class 2 and class 5 copper. Exact sizes only.

    Examples
    --------
    >>> resistance_20_ohm_per_km(16.0, "class-5")
    1.21
    """
    if conductor_class not in _COLUMN_BY_CLASS:
        raise TableError(f'conductor class "{conductor_class}": use one of {", ".join(_COLUMN_BY_CLASS)}')
    row = _rows().get(area_mm2)
    if row is None:
        sizes = ", ".join(f"{size:g}" for size in conductor_areas_mm2())
        raise TableError(
            f"IEC 60228 table holds no {area_mm2:g} mm²: sizes are {sizes} mm²; "
            "state the cable's own resistance"
        )
    return float(row[_COLUMN_BY_CLASS[conductor_class]])
