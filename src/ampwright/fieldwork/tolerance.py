"""How far a reading may be from its prediction: instruments, and what the prediction itself rests on, combined.

Each contribution is a half width within which the true value lies with even chances (JCGM 100:2008, 4.3.7: standard
uncertainty = half width / sqrt 3). They are combined as the root of the sum of squares (5.1.2) and widened by k = 2 (6.3.3).
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Literal

from ampwright.records import record
from ampwright.sources import Source, own_choice

__all__ = [
    "CLAMP",
    "COVERAGE_FACTOR",
    "INSTRUMENTS_SOURCE",
    "MILLIAMPERE_CLAMP",
    "MULTIMETER",
    "TOLERANCE_SOURCE",
    "Cause",
    "Contribution",
    "Instrument",
    "combined_tolerance",
    "reading_half_width",
]

Cause = Literal["instrument", "length", "joints", "temperature", "charge", "load", "device", "sun"]
"""What a contribution comes from."""
COVERAGE_FACTOR = 2.0
"""Standard uncertainties in a tolerance: about 95 of 100 sound builds lie within (JCGM 100:2008, 6.3.3, from memory)."""
TOLERANCE_SOURCE = Source(
    document="JCGM 100", edition="2008", place="4.3.7, 5.1.2, 6.3.3", standing="from memory"
)
INSTRUMENTS_SOURCE = own_choice("test-instruments")


@record
class Contribution:
    """One cause of a difference between reading and prediction."""

    cause: Cause
    """What it comes from."""
    half_width: float
    """How far the reading can be off by it, in the unit of the test."""


@record
class Instrument:
    """What a meter may show wrong: a part of the reading and some steps of its last digit."""

    reading_frac: float
    """Part of the reading."""
    digit_count: int
    """Steps of the last digit shown."""
    full_count: int
    """Largest count of its display: 6000 shows 5.999 and 59.99."""
    finest_digit: float
    """Smallest step it can show, in the unit read."""


MULTIMETER = Instrument(reading_frac=0.005, digit_count=2, full_count=6000, finest_digit=0.0001)
"""Multimeter, direct voltage: 0.5 % and 2 digits (docs/choices.md#test-instruments)."""
CLAMP = Instrument(reading_frac=0.02, digit_count=3, full_count=4000, finest_digit=0.01)
"""Clamp for direct current, set to zero before each reading: 2 % and 3 digits (docs/choices.md#test-instruments)."""
MILLIAMPERE_CLAMP = Instrument(reading_frac=0.01, digit_count=3, full_count=4000, finest_digit=0.001)
"""Clamp for milliamperes: 1 % and 3 digits (docs/choices.md#test-instruments)."""


def reading_half_width(instrument: Instrument, reading: float) -> float:
    """Return how far a reading can be off, on the finest range that shows it.

    Examples
    --------
    12.65 V on a display of 6000 counts is shown in steps of 0.01 V: 0.063 V and 0.02 V.

    >>> round(reading_half_width(MULTIMETER, 12.65), 5)
    0.08325
    >>> round(reading_half_width(CLAMP, 25.0), 5)
    0.53
    """
    digit = instrument.finest_digit
    while digit * instrument.full_count <= abs(reading):
        digit *= 10.0
    return instrument.reading_frac * abs(reading) + instrument.digit_count * digit


def combined_tolerance(contributions: Iterable[Contribution]) -> float:
    """Return the half width in which a sound build is read, all contributions together.

    JCGM 100:2008, 5.1.2: uncorrelated contributions add as squares.

    Examples
    --------
    >>> parts = (Contribution(cause="length", half_width=0.03), Contribution(cause="joints", half_width=0.04))
    >>> round(combined_tolerance(parts), 5)
    0.05774
    """
    return COVERAGE_FACTOR * math.hypot(*(each.half_width for each in contributions)) / math.sqrt(3.0)
