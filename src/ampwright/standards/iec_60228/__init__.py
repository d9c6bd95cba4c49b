"""IEC 60228: conductors of insulated cables, resistance by nominal area and at working temperature."""

from ampwright.standards.iec_60228.resistance import (
    RESISTANCE_SOURCE,
    conductor_areas_mm2,
    resistance_20_ohm_per_km,
)
from ampwright.standards.iec_60228.temperature import (
    COPPER_ALPHA_FRAC_PER_K,
    TEMPERATURE_SOURCE,
    resistance_at_ohm_per_km,
)

__all__ = [
    "COPPER_ALPHA_FRAC_PER_K",
    "RESISTANCE_SOURCE",
    "TEMPERATURE_SOURCE",
    "conductor_areas_mm2",
    "resistance_20_ohm_per_km",
    "resistance_at_ohm_per_km",
]
