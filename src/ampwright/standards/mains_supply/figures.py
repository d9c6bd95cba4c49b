"""Single figures of the mains side: voltage, residual current, magnetic trip, voltage drop, bonding."""

from __future__ import annotations

from ampwright.sources import Source

__all__ = [
    "BOND_SOURCE",
    "DROP_FRAC",
    "DROP_SOURCE",
    "MAINS_V_BY_REGION",
    "RESIDUAL_A_BY_REGION",
    "RESIDUAL_SOURCE_BY_REGION",
    "RESIDUAL_TYPE_SOURCE",
    "TRIP_FACTOR",
    "TRIP_SOURCE",
    "bond_area_mm2",
]

MAINS_V_BY_REGION = {"au-nz": 230.0, "uk-eu": 230.0, "us-ca": 120.0}
"""Nominal voltage of one phase: IEC 60038 (AS 60038 alike), ANSI C84.1; second hand."""
RESIDUAL_A_BY_REGION = {"au-nz": 0.03, "uk-eu": 0.03, "us-ca": 0.006}
"""Largest rated residual operating current of a device that protects people."""
RESIDUAL_SOURCE_BY_REGION = {
    "au-nz": Source(document="AS/NZS 3001", place="protection of persons, 30 mA", standing="second hand"),
    "uk-eu": Source(document="IEC 60364-4-41", place="415.1, 30 mA", standing="second hand"),
    "us-ca": Source(document="UL 943", place="class A, trips from 4 to 6 mA", standing="from memory"),
}
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
