"""What follows from two times: a device clears before the cable is too hot, or before the device above it.

Functions of bands and times alone; which devices stand in series is the caller's matter.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

from ampwright.errors import TableError
from ampwright.records import record
from ampwright.standards.iso_8820.band import OpeningBand

__all__ = ["Discrimination", "clears_in_time", "discrimination"]


@record
class Discrimination:
    """Currents at which the device below surely opens alone."""

    from_a: float | None
    """Smallest of the currents at which the device below must open; None = at none of them."""
    up_to_a: float | None
    """Largest current up to which, from there on without a gap, only it opens; None = at no current."""
    breaks_at_a: float | None
    """First current at which both may open; None = at none of those asked."""

    @property
    def is_total(self) -> bool:
        """True when it holds at every current asked at which the device below must open."""
        return self.from_a is not None and self.breaks_at_a is None


def clears_in_time(opening_max_s: float | None, cable_s: float) -> bool:
    """Tell whether a device surely opens before a cable is too hot; a cable that endures for ever needs none.

    Parameters
    ----------
    opening_max_s : None = the device need not open
    """
    return math.isinf(cable_s) or (opening_max_s is not None and opening_max_s <= cable_s)


def discrimination(
    upstream: Sequence[OpeningBand | None],
    downstream: Sequence[OpeningBand | None],
    *,
    currents_a: Sequence[float],
) -> Discrimination:
    """Return up to which current the device below opens before the one above it can.

    Parameters
    ----------
    upstream, downstream : bands at `currents_a`, which ascend; None = no table, never taken as selective
    """
    if not len(upstream) == len(downstream) == len(currents_a):
        raise TableError("discrimination: give one band of each device for every current")
    if any(b <= a for a, b in itertools.pairwise(currents_a)):
        raise TableError("discrimination: the currents must ascend")
    from_a = up_to_a = breaks_at_a = None
    for above, below, current_a in zip(upstream, downstream, currents_a, strict=True):
        if from_a is None and (below is None or below.opening_max_s is None):
            continue
        from_a = current_a if from_a is None else from_a
        longest_s = math.inf if below is None or below.opening_max_s is None else below.opening_max_s
        if above is None or above.opening_min_s <= longest_s:
            breaks_at_a = current_a
            break
        up_to_a = current_a
    return Discrimination(from_a=from_a, up_to_a=up_to_a, breaks_at_a=breaks_at_a)
