"""Smallest bending radius of a flexible cable that is laid once.

Answers how many outside diameters the inner side of a bend needs. Cables that move are not held.
"""

from __future__ import annotations

from ampwright.errors import TableError
from ampwright.sources import Source

__all__ = ["SOURCE", "bend_factor"]

SOURCE = Source(
    document="DIN VDE 0298-3",
    place="bending radii, flexible cables, fixed installation",
    standing="second hand",
)
"""Read in a copy whose columns have run together; the row of fixed installation reads 3, 3, 4, 4."""
LIMITS_MM = ((12.0, 3.0), (100.0, 4.0))
"""Largest outside diameter and the factor up to it; the printed classes of 3 and of 4 joined."""


def bend_factor(outside_mm: float) -> float:
    """Return the smallest bending radius over the outside diameter.

    Examples
    --------
    >>> bend_factor(7.0), bend_factor(15.0)
    (3.0, 4.0)
    """
    if not 0.0 < outside_mm <= LIMITS_MM[-1][0]:
        raise TableError(f"no bending radius is held for a cable of {outside_mm:g} mm")
    return next(factor for limit_mm, factor in LIMITS_MM if outside_mm <= limit_mm)
