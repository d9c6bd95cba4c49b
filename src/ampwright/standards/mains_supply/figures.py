"""Single figures of the mains side: magnetic trip, voltage drop, bonding, types of device."""

from __future__ import annotations

from ampwright.sources import Source

__all__ = [
    "BOND_SOURCE",
    "DROP_FRAC",
    "DROP_SOURCE",
    "RESIDUAL_TYPE_SOURCE",
    "TRIP_FACTOR",
    "TRIP_SOURCE",
    "bond_area_mm2",
]

TRIP_FACTOR = {"B": 5.0, "C": 10.0, "D": 20.0}
"""Multiple of the rated current at which a breaker of this characteristic surely opens at once."""
TRIP_SOURCE = Source(
    document="IEC 60898-1",
    place="instantaneous tripping of types B, C and D, upper ends",
    standing="second hand",
)
DROP_FRAC = 0.05
"""Voltage drop between the origin of an installation and a load that is not lighting."""
DROP_SOURCE = Source(
    document="IEC 60364-5-52",
    edition="2009",
    place="annex G, table G.52.1, supplied from a public network, other uses (informative)",
    standing="from memory",
)
RESIDUAL_TYPE_SOURCE = Source(
    document="IEC 60364-5-53",
    place="531.3.3, types AC, A, F and B by the wave of the residual current",
    standing="second hand",
)
BOND_SOURCE = Source(
    document="IEC 60364-7-721; in North America NEC article 551",
    place="bonding of the vehicle's metal: 4 mm² copper; 8 AWG copper",
    standing="from memory",
)


def bond_area_mm2(region: str) -> float:
    """Return the smallest copper conductor between the mains earth and the vehicle's metal.

    Examples
    --------
    >>> bond_area_mm2("uk-eu"), bond_area_mm2("us-ca")
    (4.0, 8.37)
    """
    return 8.37 if region == "us-ca" else 4.0
