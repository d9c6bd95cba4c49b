"""Protective and switching devices in a cable run: fuses, circuit breakers, isolators."""

from __future__ import annotations

from typing import Literal

from ampwright.parts.base import PartBase
from ampwright.records import NonNegative, Positive, record

__all__ = ["Breaker", "Fuse", "Isolator"]


@record
class Fuse(PartBase):
    """One fuse link with its holder's resistance."""

    kind: Literal["fuse"]
    """Kind of part."""
    family: Literal[
        "iso-8820-3-c",
        "iso-8820-3-e",
        "iso-8820-3-f",
        "iso-8820-5-sf30",
        "iso-8820-5-sf51",
        "ul-248-15-t",
        "iec-60269-6-gpv",
    ]
    """Standard and type of the fuse."""
    rating_a: Positive
    """Rated current."""
    rated_dc_v: Positive
    """Rated DC voltage."""
    breaking_capacity_a: Positive
    """Largest DC fault current it is rated to interrupt at its rated voltage."""
    resistance_ohm: NonNegative
    """Cold resistance of link and holder contacts."""
    holder_max_a: Positive
    """Largest continuous current of the holder."""


@record
class Breaker(PartBase):
    """A circuit breaker for DC."""

    kind: Literal["breaker"]
    """Kind of part."""
    principle: Literal["thermal", "hydraulic-magnetic", "thermal-magnetic"]
    """How it measures current."""
    rating_a: Positive
    """Rated current."""
    rated_dc_v: Positive
    """Rated DC voltage."""
    breaking_capacity_a: Positive
    """Largest DC fault current it is rated to interrupt at its rated voltage."""
    resistance_ohm: NonNegative
    """Resistance when closed."""
    is_polarised: bool | None = None
    """True when it breaks only in the marked direction of current; absent = not stated."""
    is_auto_reset: bool = False
    """True when it closes again by itself."""


@record
class Isolator(PartBase):
    """A hand-operated battery switch; not a protective device."""

    kind: Literal["isolator"]
    """Kind of part."""
    rating_a: Positive
    """Continuous current."""
    rated_dc_v: Positive
    """Rated DC voltage."""
    resistance_ohm: NonNegative
    """Resistance when closed."""
