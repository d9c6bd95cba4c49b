"""Smallest copper area for a fault current and its duration, and the time a cable endures.

Adiabatic: all heat stays in the copper. Stated for faults up to 5 s; beyond that heat escapes and the
answer is on the safe side, which the result says.
"""

from __future__ import annotations

import math

from ampwright.errors import TableError
from ampwright.records import record
from ampwright.sources import Source

__all__ = [
    "ADIABATIC_SOURCE",
    "FaultArea",
    "adiabatic_constant_a_s05_per_mm2",
    "fault_area",
    "withstand_s",
]

COPPER_K = 226.0  # A·s^½/mm²; IEC 60949, copper (second hand, anonymous web pages)
COPPER_BETA_K = 234.5  # IEC 60949, reciprocal of α of copper at 0 °C (second hand, same pages)
ADIABATIC_LIMIT_S = 5.0  # IEC 60364-4-43 and IEC 60949 treat faults up to 5 s (second hand)

ADIABATIC_SOURCE = Source(
    document="IEC 60949",
    edition="1988",
    place="adiabatic short-circuit current",
    standing="second hand",
)


@record
class FaultArea:
    """Smallest copper area that a fault does not overheat."""

    area_mm2: float
    """Smallest copper area of one conductor."""
    source: Source
    """Where the formula comes from."""
    note: str
    """What the reader must know; empty when nothing."""


def adiabatic_constant_a_s05_per_mm2(*, start_degc: float, end_degc: float) -> float:
    """Return k of k²S² = I²t for copper between two temperatures.

    IEC 60949: k = 226 · √ln((234.5 + θ_end)/(234.5 + θ_start)).

    Examples
    --------
    >>> round(adiabatic_constant_a_s05_per_mm2(start_degc=70.0, end_degc=160.0))
    115
    """
    if not -COPPER_BETA_K < start_degc < end_degc:
        raise TableError(
            f"fault from {start_degc:g} degC to {end_degc:g} degC: the end must be above the start, "
            "use the insulation's limits, e.g. 70 and 160 degC for PVC"
        )
    return COPPER_K * math.sqrt(math.log((COPPER_BETA_K + end_degc) / (COPPER_BETA_K + start_degc)))


def fault_area(current_a: float, *, duration_s: float, start_degc: float, end_degc: float) -> FaultArea:
    """Return the smallest copper area that a fault of constant current does not overheat.

    IEC 60949: S = √(I² t) / k.

    Examples
    --------
    >>> round(fault_area(2500.0, duration_s=0.1, start_degc=70.0, end_degc=160.0).area_mm2, 1)
    6.9
    """
    if current_a < 0.0 or duration_s < 0.0:
        raise TableError(f"fault of {current_a:g} A for {duration_s:g} s: neither may be negative")
    constant = adiabatic_constant_a_s05_per_mm2(start_degc=start_degc, end_degc=end_degc)
    return FaultArea(
        area_mm2=current_a * math.sqrt(duration_s) / constant,
        source=ADIABATIC_SOURCE,
        note="longer than 5 s: escaping heat is not counted, the area is on the safe side"
        if duration_s > ADIABATIC_LIMIT_S
        else "",
    )


def withstand_s(area_mm2: float, *, current_a: float, start_degc: float, end_degc: float) -> float:
    """Return how long a conductor endures a constant current; longer than 5 s is a lower bound.

    IEC 60949: t = (k S / I)². No current is endured for ever.

    Examples
    --------
    >>> round(withstand_s(4.0, current_a=460.0, start_degc=70.0, end_degc=160.0), 2)
    1.0
    """
    if area_mm2 <= 0.0 or current_a < 0.0:
        raise TableError(f"{area_mm2:g} mm² with {current_a:g} A: area above 0 and current not negative")
    if current_a == 0.0:
        return math.inf
    constant = adiabatic_constant_a_s05_per_mm2(start_degc=start_degc, end_degc=end_degc)
    return (constant * area_mm2 / current_a) ** 2
