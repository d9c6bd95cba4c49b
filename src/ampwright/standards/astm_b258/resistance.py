"""Resistance of copper conductors of the American wire gauge at 20 °C.

Correction to the working temperature is in `iec_60228`.
"""

from __future__ import annotations

from ampwright.errors import TableError
from ampwright.sources import Source
from ampwright.standards.astm_b258.gauge import area_mm2

__all__ = [
    "COPPER_OHM_MM2_PER_KM",
    "LAY_FACTOR",
    "RESISTANCE_SOURCE",
    "area_from_resistance_mm2",
    "solid_resistance_20_ohm_per_km",
    "stranded_resistance_20_ohm_per_km",
]

COPPER_OHM_MM2_PER_KM = 1000.0 / 58.0
"""Annealed copper at 20 °C: 1/58 Ω·mm²/m = 17.241 Ω·mm²/km (IEC 60028:1925, second hand)."""

LAY_FACTOR = 1.02
"""Longer path of stranded wires: NFPA 70 chapter 9 table 8 is 1.018 to 1.025 times solid (derived)."""

RESISTANCE_SOURCE = Source(
    document="ASTM B258 area with IEC 60028 copper",
    edition="2002; 1925",
    place="stranded: 2 % longer path",
    standing="derived",
)


def solid_resistance_20_ohm_per_km(name: str) -> float:
    """Return the resistance at 20 °C of a solid copper wire of a gauge.

    Examples
    --------
    >>> round(solid_resistance_20_ohm_per_km("10"), 3)
    3.277
    """
    return COPPER_OHM_MM2_PER_KM / area_mm2(name)


def stranded_resistance_20_ohm_per_km(name: str) -> float:
    """Return the resistance at 20 °C of a stranded uncoated copper conductor of a gauge.

    Examples
    --------
    >>> round(stranded_resistance_20_ohm_per_km("10"), 3)
    3.343
    """
    return LAY_FACTOR * solid_resistance_20_ohm_per_km(name)


def area_from_resistance_mm2(resistance_20_ohm_per_km: float) -> float:
    """Return the area of the stranded AWG-style conductor that has this resistance at 20 °C.

    Tells how much copper a cable really carries when its nominal area flatters it: a 2.5 mm² conductor
    of IEC 60228 class 5 may have 7.98 Ω/km.

    Examples
    --------
    >>> round(area_from_resistance_mm2(7.98), 2)
    2.2
    """
    if resistance_20_ohm_per_km <= 0.0:
        raise TableError(f"resistance {resistance_20_ohm_per_km:g} Ω/km: give a figure above 0")
    return LAY_FACTOR * COPPER_OHM_MM2_PER_KM / resistance_20_ohm_per_km
