"""Passive hardware: bus bars, outlets, inlets, plugs, enclosures."""

from __future__ import annotations

from typing import Literal

from ampwright.parts.base import PartBase
from ampwright.records import Count, NonNegative, Positive, record

__all__ = ["BusBar", "CableEntry", "Enclosure", "Inlet", "Outlet", "Plug"]


@record
class BusBar(PartBase):
    """Distribution bar; one node."""

    kind: Literal["bus-bar"]
    """Kind of part."""
    rating_a: Positive
    """Continuous current."""
    rated_dc_v: Positive
    """Rated DC voltage."""
    stud_count: Count
    """Number of studs or screws."""
    resistance_ohm: NonNegative
    """Resistance between the two furthest studs."""


@record
class Outlet(PartBase):
    """Socket for the user's plugs, DC or AC."""

    kind: Literal["outlet"]
    """Kind of part."""
    supply: Literal["dc", "ac"]
    """Kind of current."""
    rated_v: Positive
    """Rated voltage."""
    rating_a: Positive
    """Continuous current."""
    resistance_ohm: NonNegative = 0.0
    """Contact resistance, both poles."""


@record
class Inlet(PartBase):
    """Inlet for mains or a generator lead, on the vehicle's outside."""

    kind: Literal["inlet"]
    """Kind of part."""
    rated_v: Positive
    """Rated voltage."""
    rating_a: Positive
    """Continuous current."""


@record
class Plug(PartBase):
    """Connector pair in a DC cable run."""

    kind: Literal["plug"]
    """Kind of part."""
    rated_dc_v: Positive
    """Rated DC voltage."""
    rating_a: Positive
    """Continuous current at 25 degC ambient."""
    pole_count: Count
    """Poles."""
    resistance_ohm: NonNegative
    """Contact resistance of one mated pole."""
    area_max_mm2: Positive
    """Largest conductor that fits its contacts."""


@record
class CableEntry:
    """Holes or glands of one size in an enclosure, one cable each."""

    cable_max_mm: Positive
    """Largest outside diameter that passes."""
    count: Count
    """How many."""


@record
class Enclosure(PartBase):
    """Box or compartment that holds parts."""

    kind: Literal["enclosure"]
    """Kind of part."""
    inside_length_mm: Positive
    """Clear inside length."""
    inside_width_mm: Positive
    """Clear inside width."""
    inside_height_mm: Positive
    """Clear inside height."""
    heat_loss_w_per_k: Positive
    """Heat the closed box gives to the air around it per kelvin."""
    vent_area_mm2: NonNegative = 0.0
    """Free area of its vents; 0 = closed."""
    fan_m3_h: NonNegative = 0.0
    """Outside air its fan draws through it while it is warm; 0 = no fan."""
    finish: Literal["pale", "dark"] = "dark"
    """Colour towards the sun; counts where it stands on the roof or outside."""
    entries: tuple[CableEntry, ...] = ()
    """Cable entries; empty = not stated."""
