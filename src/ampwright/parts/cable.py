"""Cable by the metre."""

from __future__ import annotations

from typing import Literal

from ampwright.parts.base import PartBase
from ampwright.records import Count, NonNegative, Positive, Temperature, record

__all__ = ["Cable"]


@record
class Cable(PartBase):
    """Stranded copper cable; its area is a figure of the part, never read from a trade name."""

    kind: Literal["cable"]
    """Kind of part."""
    sold_as: str
    """Trade name of the size, e.g. "16 mm2", "6 AWG", "6 mm outside"."""
    system: Literal["metric", "awg", "automotive"]
    """Size series: IEC 60228 class 5, ASTM B258, or reduced automotive areas."""
    area_mm2: Positive
    """Copper cross-section of one conductor."""
    resistance_ohm_per_km: Positive
    """Resistance of one conductor at 20 degC."""
    core_count: Count = 1
    """Conductors in one sheath."""
    insulation_degc: Temperature
    """Highest continuous conductor temperature of the insulation."""
    outside_mm: Positive
    """Outside diameter over insulation or sheath."""
    mass_kg_per_m: NonNegative
    """Mass per metre of cable."""
    price_eur_per_m: NonNegative
    """Price per metre of cable."""
    short_time_degc: Temperature
    """Highest conductor temperature in a fault of up to 5 s."""
    bend_factor: Positive | None = None
    """Smallest bending radius over the outside diameter, laid once; absent = by the book."""
