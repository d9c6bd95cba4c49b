"""IEC 60949: heating of conductors by short-circuit current, adiabatic form."""

from ampwright.standards.iec_60949.adiabatic import (
    FaultArea,
    adiabatic_constant_a_s05_per_mm2,
    fault_area,
    withstand_s,
)

__all__ = ["FaultArea", "adiabatic_constant_a_s05_per_mm2", "fault_area", "withstand_s"]
