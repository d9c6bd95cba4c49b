"""Table 5 of 33 CFR 183.425: current at 30 °C ambient by copper area and insulation rating.

Metric and automotive areas stand between two AWG rows and are interpolated. Ambient, engine space and
bundling are in `allowable_current.py`.
"""

from __future__ import annotations

from bisect import bisect_right
from functools import cache

from ampwright.errors import TableError
from ampwright.records import record
from ampwright.said import said
from ampwright.sources import Source
from ampwright.standards.astm_b258.gauge import area_mm2 as awg_area_mm2
from ampwright.standards.csv_table import table_rows

__all__ = [
    "TABLE_5_RATINGS_DEGC",
    "TABLE_5_SOURCE",
    "Table5Current",
    "table_5_current",
    "table_5_rating_degc",
]

TABLE_5_RATINGS_DEGC = (60.0, 75.0, 80.0, 90.0, 105.0, 125.0, 200.0)
"""Insulation ratings of the columns."""

ROUNDED_AREA_FRAC = 0.005
"""An area this near to an AWG row is that row: sizes are sold as 0.82, 8.4 or 21.2 mm² (own choice)."""

TABLE_5_SOURCE = Source(document="33 CFR 183.425", edition="text in force", place="Table 5")


@record
class Table5Current:
    """A current read in Table 5."""

    current_a: float
    """Current at 30 degC ambient."""
    rating_degc: float
    """Column used: highest rating not above that of the insulation."""
    lower_awg: str
    """Row used, or the thinner of two."""
    upper_awg: str
    """The thicker row when interpolated, else the same row."""
    source: Source
    """Where the current comes from."""


@cache
def _rows() -> tuple[tuple[str, float, dict[str, str]], ...]:
    """Name, area and cells of each row, thin to thick."""
    return tuple(
        (row["awg"], awg_area_mm2(row["awg"]), row) for row in table_rows(__package__, "table_5.csv")
    )


def table_5_rating_degc(insulation_degc: float) -> float:
    """Return the column for an insulation rating: the highest one not above it.

    Examples
    --------
    >>> table_5_rating_degc(70.0), table_5_rating_degc(105.0)
    (60.0, 105.0)
    """
    if not insulation_degc >= TABLE_5_RATINGS_DEGC[0]:
        raise TableError(
            said(
                "insulation of {insulation_degc:g} degC: 33 CFR 183.425 Table 5 begins at 60 degC; use "
                "better insulation",
                insulation_degc=insulation_degc,
            )
        )
    return TABLE_5_RATINGS_DEGC[bisect_right(TABLE_5_RATINGS_DEGC, insulation_degc) - 1]


def table_5_current(area_mm2: float, *, insulation_degc: float) -> Table5Current:
    """Return the allowable current at 30 °C ambient of one conductor.

    33 CFR 183.425, Table 5.

    Notes
    -----
    Between two rows the current is interpolated linearly over the areas of ASTM B258; current grows more
    slowly than area, so the straight line lies on the safe side of the true curve, to within the table's
    rounding to 5 A. Never outside 18 AWG to 4/0 AWG.

    Examples
    --------
    >>> table_5_current(5.26, insulation_degc=90.0).current_a
    55.0
    """
    rating_degc = table_5_rating_degc(insulation_degc)
    column = f"insulation_{rating_degc:g}_a"
    rows = _rows()
    for name, row_mm2, cells in rows:
        if abs(area_mm2 / row_mm2 - 1.0) <= ROUNDED_AREA_FRAC:
            return _read(float(cells[column]), rating_degc, name, name)
    if not rows[0][1] < area_mm2 < rows[-1][1]:
        raise TableError(
            said(
                "{area_mm2:g} mm²: 33 CFR 183.425 Table 5 holds 18 AWG (0.82 mm²) to 4/0 AWG (107.2 "
                "mm²); use parallel runs or another table",
                area_mm2=area_mm2,
            )
        )
    thick = next(place for place, (_, row_mm2, _) in enumerate(rows) if row_mm2 > area_mm2)
    (lower_name, lower_mm2, lower), (upper_name, upper_mm2, upper) = rows[thick - 1], rows[thick]
    share = (area_mm2 - lower_mm2) / (upper_mm2 - lower_mm2)
    lower_a, upper_a = float(lower[column]), float(upper[column])
    return _read(lower_a + share * (upper_a - lower_a), rating_degc, lower_name, upper_name)


def _read(current_a: float, rating_degc: float, lower_awg: str, upper_awg: str) -> Table5Current:
    """Return the record of one look-up."""
    return Table5Current(
        current_a=current_a,
        rating_degc=rating_degc,
        lower_awg=lower_awg,
        upper_awg=upper_awg,
        source=TABLE_5_SOURCE,
    )
