"""How strings in parallel share a current: Kirchhoff's laws on the ladder of their links."""

from __future__ import annotations

from typing import Literal

import numpy as np
from numpy.typing import NDArray

__all__ = ["string_shares_frac"]

Array = NDArray[np.float64]
NO_LINK_FRAC = 1e-6
"""Links below this part of a string's resistance count as none: the equations could not tell."""


def string_shares_frac(
    string_ohm: Array, link_ohm: float, tapped: Literal["same-end", "diagonal", "bus-bars"]
) -> Array:
    """Return the part of the whole current that each string carries; (n_strings,), sum 1.

    Parameters
    ----------
    string_ohm : inner resistance of each string (n_strings,); their rest voltages are alike
    link_ohm : one link, the same on the positive and the negative side

    Examples
    --------
    Two strings of 4 mΩ, links of 1 mΩ, both leads at the first: the second has 6 mΩ on its way.

    >>> [round(float(x), 3) for x in string_shares_frac(np.array([0.004, 0.004]), 0.001, "same-end")]
    [0.6, 0.4]
    """
    count = string_ohm.size
    if tapped == "bus-bars" or count == 1:
        conductance = 1.0 / (string_ohm + 2.0 * link_ohm)
        found: Array = conductance / conductance.sum()
        return found
    if link_ohm <= NO_LINK_FRAC * string_ohm.min():
        return string_shares_frac(string_ohm, 0.0, "bus-bars")
    # nodes: positive posts 0..n-1, negative posts n..2n-1
    laplacian = np.zeros((2 * count, 2 * count))
    rungs = [(k, count + k, 1.0 / string_ohm[k]) for k in range(count)]
    rails = [(side + k, side + k + 1, 1.0 / link_ohm) for side in (0, count) for k in range(count - 1)]
    for a, b, siemens in (*rungs, *rails):
        laplacian[[a, b], [a, b]] += siemens
        laplacian[[a, b], [b, a]] -= siemens
    drawn = np.zeros(2 * count)
    last = 2 * count - 1 if tapped == "diagonal" else count
    drawn[0], drawn[last] = -1.0, 1.0
    volts = np.zeros(2 * count)
    volts[1:] = np.linalg.solve(laplacian[1:, 1:], drawn[1:])
    shares: Array = (volts[count:] - volts[:count]) / string_ohm
    return shares
