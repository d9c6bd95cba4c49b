"""Closed forms of a capacitor that is connected to a battery through the resistance of its loop.

Inductance of the loop lowers and delays the peak and lets the voltage swing over, but changes neither the energy
left in the resistance nor the integral of the current's square: all the source gives beyond ½CV² is lost there.
"""

from __future__ import annotations

from ampwright.errors import TableError
from ampwright.records import record

__all__ = ["SETTLED_TIME_CONSTANTS", "CapacitorCharge", "capacitor_charge"]

SETTLED_TIME_CONSTANTS = 5.0
"""After five time constants 0.7 % of the voltage is missing: exp(-5)."""


@record
class CapacitorCharge:
    """What happens when an empty capacitor is connected."""

    peak_a: float
    """Largest current, V / R; less with inductance."""
    time_constant_s: float
    """R·C."""
    energy_ws: float
    """½·C·V²: stored in the capacitor, and as much left in the resistance."""
    square_a2s: float
    """Integral of the current's square, V²·C / (2·R)."""


def capacitor_charge(*, open_v: float, loop_ohm: float, capacitance_uf: float) -> CapacitorCharge:
    """Return peak, time constant, energy and current-square integral of charging an empty capacitor.

    Notes
    -----
    i(t) = V/R·exp(-t/(R·C)); its square integrates to V²·C/(2·R) (textbook, e.g. any on transients of RC circuits).

    Examples
    --------
    >>> found = capacitor_charge(open_v=12.0, loop_ohm=0.01, capacitance_uf=10_000.0)
    >>> found.peak_a, round(found.time_constant_s, 9), round(found.energy_ws, 9), round(found.square_a2s, 9)
    (1200.0, 0.0001, 0.72, 72.0)
    """
    if not (open_v > 0.0 and loop_ohm > 0.0 and capacitance_uf > 0.0):
        raise TableError("charging a capacitor: voltage, resistance and capacitance must be above zero")
    capacitance_f = capacitance_uf * 1e-6
    energy_ws = 0.5 * capacitance_f * open_v**2
    return CapacitorCharge(
        peak_a=open_v / loop_ohm,
        time_constant_s=loop_ohm * capacitance_f,
        energy_ws=energy_ws,
        square_a2s=energy_ws / loop_ohm,
    )
