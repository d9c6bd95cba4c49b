"""IEC 60949: heating of conductors by short-circuit current; the longer model beside it is derived."""

from ampwright.standards.iec_60949.adiabatic import (
    FaultArea,
    adiabatic_constant_a_s05_per_mm2,
    fault_area,
    withstand_s,
)
from ampwright.standards.iec_60949.heating import LaidConductor, cable_time_s

__all__ = [
    "FaultArea",
    "LaidConductor",
    "adiabatic_constant_a_s05_per_mm2",
    "cable_time_s",
    "fault_area",
    "withstand_s",
]
