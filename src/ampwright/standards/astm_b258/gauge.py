"""Diameter and area of the American wire gauge, 18 AWG to 4/0 AWG.

Answers what a gauge name means in millimetres. Resistance is in `resistance.py`; current is the
matter of `cfr_33_183`.
"""

from __future__ import annotations

import math

from ampwright.errors import TableError
from ampwright.sources import Source

__all__ = ["AWG_NAMES", "SOURCE", "area_mm2", "awg_number", "diameter_mm"]

SOURCE = Source(
    document="ASTM B258",
    edition="2002",
    place="formula of the gauge",
    standing="second hand",
)
"""Read in encyclopaedia and forum texts that cite the 2002 edition; the printed diameters agree."""

AWG_NAMES = (*(str(number) for number in range(18, 0, -1)), "1/0", "2/0", "3/0", "4/0")
"""Gauges held, from thin to thick."""

_NUMBER_BY_NAME = {
    **{str(number): number for number in range(19)},
    "1/0": 0,
    "2/0": -1,
    "3/0": -2,
    "4/0": -3,
    "00": -1,
    "000": -2,
    "0000": -3,
}

MM_PER_INCH = 25.4  # international inch, exact


def awg_number(name: str) -> int:
    """Return the gauge number of a name, 0 for 1/0 and negative for larger sizes.

    Examples
    --------
    >>> awg_number("10"), awg_number("1/0"), awg_number("0000")
    (10, 0, -3)
    """
    try:
        return _NUMBER_BY_NAME[name.strip()]
    except KeyError:
        raise TableError(
            f'AWG size "{name}" is not held: use "18" to "1", then "1/0" to "4/0" (also "0" to "0000")'
        ) from None


def diameter_mm(name: str) -> float:
    """Return the diameter of the solid round wire of a gauge.

    ASTM B258: d = 0.005 in × 92^((36 − n)/39), n = gauge number; 36 AWG and 4/0 AWG are the fixed points.

    Examples
    --------
    >>> round(diameter_mm("4/0") / 25.4, 4), round(diameter_mm("10") / 25.4, 4)
    (0.46, 0.1019)
    """
    return float(0.005 * MM_PER_INCH * 92.0 ** ((36 - awg_number(name)) / 39.0))


def area_mm2(name: str) -> float:
    """Return the copper area of a gauge; a stranded conductor has the area of its solid wire.

    Examples
    --------
    >>> round(area_mm2("10"), 3)
    5.261
    """
    return math.pi / 4.0 * diameter_mm(name) ** 2
