"""Mains supply of a vehicle: plug types, leads, tripping of breakers and what protects people."""

from ampwright.standards.mains_supply.figures import (
    BOND_SOURCE,
    DROP_FRAC,
    DROP_SOURCE,
    RESIDUAL_TYPE_SOURCE,
    TRIP_FACTOR,
    TRIP_SOURCE,
    bond_area_mm2,
)
from ampwright.standards.mains_supply.leads import (
    LeadLimit,
    lead_impedance_ohm_per_km,
    lead_limit,
    lead_resistance_ohm_per_km,
)
from ampwright.standards.mains_supply.plugs import PlugType, plug_type, usual_plugs

__all__ = [
    "BOND_SOURCE",
    "DROP_FRAC",
    "DROP_SOURCE",
    "RESIDUAL_TYPE_SOURCE",
    "TRIP_FACTOR",
    "TRIP_SOURCE",
    "LeadLimit",
    "PlugType",
    "bond_area_mm2",
    "lead_impedance_ohm_per_km",
    "lead_limit",
    "lead_resistance_ohm_per_km",
    "plug_type",
    "usual_plugs",
]
