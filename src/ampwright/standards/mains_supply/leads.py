"""How long and thin a lead may be, by region and rating, and what resistance it has."""

from __future__ import annotations

import math
from functools import cache

from ampwright.records import record
from ampwright.sources import Source
from ampwright.standards.csv_table import table_rows
from ampwright.standards.iec_60228 import (
    conductor_areas_mm2,
    resistance_20_ohm_per_km,
    resistance_at_ohm_per_km,
)

__all__ = ["LeadLimit", "lead_impedance_ohm_per_km", "lead_limit", "lead_resistance_ohm_per_km"]

DOCUMENT_BY_REGION = {"au-nz": "AS/NZS 3001, table 5.1", "uk-eu": "IEC 60364-7-721, table 721.1"}
LEAD_REACTANCE_OHM_PER_KM = 0.08
"""Reactance of one conductor beside its return (IEC 60364-5-52, annex G: 0.08 mΩ/m where nothing better is known; second hand)."""
LEAD_DEGC = 70.0
"""Highest working temperature of a lead with thermoplastic insulation (IEC 60364-5-52, from memory)."""


@record
class LeadLimit:
    """What a region says of a lead for one rating."""

    area_mm2: float
    """Smallest area held for this rating and length; the largest held where none is enough."""
    length_max_m: float
    """Longest lead of that area."""
    source: Source
    """Where it stands."""


@cache
def _rows(region: str) -> tuple[tuple[float, float, float, str], ...]:
    return tuple(
        (float(row["rating_a"]), float(row["area_mm2"]), float(row["length_max_m"]), row["standing"])
        for row in table_rows(__package__, "leads.csv")
        if row["region"] == region
    )


def lead_limit(region: str, rating_a: float, length_m: float) -> LeadLimit | None:
    """Return the smallest lead for a rating and a length; None where the region's table does not reach.

    The next higher rating of the table counts; a rating above the table has no answer.

    Examples
    --------
    >>> lead_limit("au-nz", 15.0, 30.0).area_mm2
    2.5
    >>> lead_limit("us-ca", 15.0, 10.0) is None
    True
    """
    ratings = sorted({row[0] for row in _rows(region) if row[0] >= rating_a})
    if not ratings:
        return None
    own = sorted(row for row in _rows(region) if row[0] == ratings[0])
    _, area_mm2, length_max_m, standing = next((row for row in own if row[2] >= length_m), own[-1])
    return LeadLimit(
        area_mm2=area_mm2,
        length_max_m=length_max_m,
        source=Source(document=DOCUMENT_BY_REGION[region], standing=standing),
    )


def lead_resistance_ohm_per_km(area_mm2: float) -> float:
    """Return the resistance of one flexible copper conductor of a lead, hot.

    IEC 60228 class 5 at 70 °C. An area between two nominal ones (wire gauges) has the resistance of the next
    smaller one scaled by the areas, below the smallest that of the smallest scaled likewise.

    Examples
    --------
    >>> round(lead_resistance_ohm_per_km(2.5), 3), round(lead_resistance_ohm_per_km(3.31), 3)
    (9.548, 7.212)
    """
    areas = conductor_areas_mm2()
    below = max((area for area in areas if area <= area_mm2), default=areas[0])
    cold = resistance_20_ohm_per_km(below, "class-5") * below / area_mm2
    return resistance_at_ohm_per_km(cold, conductor_degc=LEAD_DEGC)


def lead_impedance_ohm_per_km(area_mm2: float) -> float:
    """Return the impedance of one flexible copper conductor of a lead, hot.

    IEC 60364-5-52, annex G: u = b (ρ L cos φ / S + λ L sin φ) I. Its largest value over every power factor is the
    impedance, sqrt(R² + X²), which is taken here: the power factor of all that runs together is not known.

    Notes
    -----
    Up to 35 mm² the reactance adds less than 1 %; at 2.5 mm² it adds 0.004 %.

    Examples
    --------
    >>> round(lead_impedance_ohm_per_km(2.5), 3), round(lead_impedance_ohm_per_km(35.0) / lead_resistance_ohm_per_km(35.0), 4)
    (9.548, 1.0072)
    """
    return math.hypot(lead_resistance_ohm_per_km(area_mm2), LEAD_REACTANCE_OHM_PER_KM)
