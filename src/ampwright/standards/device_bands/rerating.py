"""What a protective device carries in hotter or colder air, and for how much of it a circuit may count.

The rerating is a rule of thumb of the trade (docs/standards.md); a data sheet of the device is better.
"""

from __future__ import annotations

import itertools
from functools import cache

from ampwright.errors import TableError
from ampwright.records import record
from ampwright.sources import Source
from ampwright.standards.csv_table import table_rows, weakest_standing
from ampwright.standards.device_bands.classes import known_class

__all__ = ["CONTINUOUS_FACTOR", "ContinuousLimit", "Rerating", "continuous_limit", "rerating"]

CONTINUOUS_FACTOR = 0.8
"""Continuous current over the rated current in the air around the device (common practice, no source)."""


@record
class Rerating:
    """What a device carries in air of one temperature."""

    rating_factor: float
    """Current it carries there over its rated current."""
    source: Source
    """Where the factor comes from."""


@record
class ContinuousLimit:
    """Largest continuous current of a device in its holder."""

    current_a: float
    """Largest current that may flow for hours."""
    is_holder: bool
    """True when the holder sets it, not the link."""
    source: Source
    """Where it comes from."""


@cache
def _rows(device_class: str) -> tuple[tuple[float, float, str, str], ...]:
    """Temperature, factor, standing and place by rising temperature."""
    name = "iso-8820" if device_class.startswith("iso-8820") else device_class
    return tuple(
        (float(row["ambient_degc"]), float(row["rating_factor"]), row["standing"], row["place"])
        for row in table_rows(__package__, "rerating.csv")
        if row["device_class"] == name
    )


def rerating(device_class: str, *, ambient_degc: float) -> Rerating | None:
    """Return the rerating of a class, straight between the rows of its table; None outside them.

    Examples
    --------
    >>> round(rerating("thermal", ambient_degc=50.0).rating_factor, 3)
    0.862
    >>> rerating("thermal", ambient_degc=80.0) is None
    True
    """
    rows = _rows(known_class(device_class))
    for (low_degc, low_factor, standing, place), (high_degc, high_factor, other, _) in itertools.pairwise(
        rows
    ):
        if low_degc <= ambient_degc <= high_degc:
            share = (ambient_degc - low_degc) / (high_degc - low_degc)
            return Rerating(
                rating_factor=low_factor + share * (high_factor - low_factor),
                source=Source(
                    document="rerating of protective devices, rules of the trade",
                    place=place,
                    standing=weakest_standing(standing, other),
                ),
            )
    return None


def continuous_limit(
    device_class: str, *, rating_a: float, ambient_degc: float, holder_max_a: float | None = None
) -> ContinuousLimit | None:
    """Return the largest continuous current of a device in hot air; None where its rerating is not held.

    0.8 of what it carries there, and no more than its holder allows.

    Examples
    --------
    >>> limit = continuous_limit("iso-8820-3-c", rating_a=20.0, ambient_degc=65.0, holder_max_a=30.0)
    >>> round(limit.current_a, 2), limit.is_holder
    (14.72, False)
    """
    if rating_a <= 0.0 or (holder_max_a is not None and holder_max_a <= 0.0):
        raise TableError(f"device of {rating_a:g} A in a holder of {holder_max_a} A: give ratings above 0")
    found = rerating(device_class, ambient_degc=ambient_degc)
    if found is None:
        return None
    link_a = CONTINUOUS_FACTOR * min(found.rating_factor, 1.0) * rating_a
    if holder_max_a is not None and holder_max_a < link_a:
        return ContinuousLimit(
            current_a=holder_max_a, is_holder=True, source=Source(document="part data", place="holder_max_a")
        )
    return ContinuousLimit(current_a=link_a, is_holder=False, source=found.source)
