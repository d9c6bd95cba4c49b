"""ASTM B258: American wire gauge (AWG) sizes of round wire, and copper resistance from them."""

from ampwright.standards.astm_b258.gauge import AWG_NAMES, area_mm2, awg_number, diameter_mm
from ampwright.standards.astm_b258.resistance import (
    area_from_resistance_mm2,
    solid_resistance_20_ohm_per_km,
    stranded_resistance_20_ohm_per_km,
)

__all__ = [
    "AWG_NAMES",
    "area_from_resistance_mm2",
    "area_mm2",
    "awg_number",
    "diameter_mm",
    "solid_resistance_20_ohm_per_km",
    "stranded_resistance_20_ohm_per_km",
]
