"""How long a cable endures a current: adiabatic up to 5 s, beyond that with the heat its surface gives off.

The longer model is one heat store, the copper, that warms by its own loss and cools through the path that
carries its continuous capacity. Both figures are those of the cable itself, so nothing is fitted.
"""

from __future__ import annotations

import math

from ampwright.errors import TableError
from ampwright.records import record
from ampwright.standards.iec_60949.adiabatic import (
    ADIABATIC_LIMIT_S,
    COPPER_BETA_K,
    COPPER_K,
    withstand_s,
)

__all__ = ["LaidConductor", "cable_time_s"]


@record
class LaidConductor:
    """A conductor with what it carries for ever where it lies."""

    area_mm2: float
    """Copper area."""
    capacity_a: float
    """Continuous current that warms it to `rated_degc`; 0 = no heat is counted as given off."""
    rated_degc: float
    """Highest continuous temperature of the insulation."""
    ambient_degc: float
    """Air around it, for which the capacity holds."""


def cable_time_s(conductor: LaidConductor, *, current_a: float, start_degc: float, end_degc: float) -> float:
    """Return how long a conductor takes from one temperature to another; infinite when it never gets there.

    Up to 5 s IEC 60949, adiabatic. Beyond, derived: C dθ/dt = I² R(θ) - G (θ - θ_a), with R(θ) in proportion
    to β + θ, C R from I² t = k² S² and G from the balance at the continuous capacity.

    Notes
    -----
    On the safe side: the insulation's own heat capacity, which delays the warming, is not counted, and a
    table's capacity is not above the real one. Never below the adiabatic time.

    Examples
    --------
    >>> wire = LaidConductor(area_mm2=2.5, capacity_a=25.0, rated_degc=70.0, ambient_degc=30.0)
    >>> round(cable_time_s(wire, current_a=50.0, start_degc=70.0, end_degc=160.0))
    62
    """
    held_s = withstand_s(conductor.area_mm2, current_a=current_a, start_degc=start_degc, end_degc=end_degc)
    if held_s <= ADIABATIC_LIMIT_S or conductor.capacity_a <= 0.0:
        return held_s
    if conductor.rated_degc <= conductor.ambient_degc:
        raise TableError(
            f"conductor of {conductor.rated_degc:g} degC in air of {conductor.ambient_degc:g} degC carries "
            "nothing: give a capacity of 0"
        )
    inertia = (COPPER_K * conductor.area_mm2) ** 2  # A²·s for each unit of ln(β + θ)
    warming = current_a**2 / inertia  # 1/s
    cooling = (
        conductor.capacity_a**2
        * (COPPER_BETA_K + conductor.rated_degc)
        / (inertia * (conductor.rated_degc - conductor.ambient_degc))
    )
    first = warming * (COPPER_BETA_K + start_degc) - cooling * (start_degc - conductor.ambient_degc)
    last = warming * (COPPER_BETA_K + end_degc) - cooling * (end_degc - conductor.ambient_degc)
    if first <= 0.0 or last <= 0.0:
        return math.inf
    growth = warming - cooling
    if math.isclose(first, last, rel_tol=1e-9):
        return (end_degc - start_degc) / first
    return math.log(last / first) / growth
