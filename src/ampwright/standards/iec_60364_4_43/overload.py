"""Whether an overload device fits its load and its cable.

The three conditions of clause 433.1. Whether they are applied is the matter of a set of regional rules;
time of opening in a short circuit is in `iso_8820` and `iec_60949`.
"""

from __future__ import annotations

from ampwright.errors import TableError
from ampwright.records import record
from ampwright.sources import Source

__all__ = ["OVERLOAD_SOURCE", "OverloadConditions", "overload_conditions"]

CONVENTIONAL_FACTOR_LIMIT = 1.45  # clause 433.1, condition 2

OVERLOAD_SOURCE = Source(
    document="IEC 60364-4-43",
    edition="2008",
    place="433.1",
    standing="second hand",
)
"""Read in articles on the national form of the clause (regulation 433.1.1), not in the standard itself."""


@record
class OverloadConditions:
    """Which of the three conditions hold."""

    is_load_carried: bool
    """Load current is not above the device rating."""
    is_rating_within_cable: bool
    """Device rating is not above the cable's current-carrying capacity."""
    is_opening_within_cable: bool
    """Current that surely opens the device is not above 1.45 times the cable's capacity."""
    conventional_current_a: float
    """Current that surely opens the device within its conventional time."""
    conventional_limit_a: float
    """1.45 times the cable's capacity."""
    source: Source
    """Where the conditions come from."""

    @property
    def is_met(self) -> bool:
        """True when all three conditions hold."""
        return self.is_load_carried and self.is_rating_within_cable and self.is_opening_within_cable


def overload_conditions(
    *,
    load_current_a: float,
    device_rating_a: float,
    capacity_a: float,
    conventional_factor: float,
) -> OverloadConditions:
    """Return which conditions hold for one circuit; a broken one is no error.

    IEC 60364-4-43, clause 433.1: I_B ≤ I_n ≤ I_z and I_2 ≤ 1.45 · I_z, with I_2 = conventional_factor · I_n.

    Examples
    --------
    >>> overload_conditions(
    ...     load_current_a=18.0, device_rating_a=20.0, capacity_a=25.0, conventional_factor=1.35
    ... ).is_met
    True
    """
    if conventional_factor < 1.0:
        raise TableError(
            f"conventional factor {conventional_factor:g}: a device opens above its rating, give 1 or more"
        )
    if min(load_current_a, device_rating_a, capacity_a) < 0.0:
        raise TableError("load current, device rating and cable capacity: none may be negative")
    conventional_current_a = conventional_factor * device_rating_a
    conventional_limit_a = CONVENTIONAL_FACTOR_LIMIT * capacity_a
    return OverloadConditions(
        is_load_carried=load_current_a <= device_rating_a,
        is_rating_within_cable=device_rating_a <= capacity_a,
        is_opening_within_cable=conventional_current_a <= conventional_limit_a,
        conventional_current_a=conventional_current_a,
        conventional_limit_a=conventional_limit_a,
        source=OVERLOAD_SOURCE,
    )
