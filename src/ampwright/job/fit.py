"""What a job says of masses, free rectangles and how a part is held; all of it may be left out."""

from __future__ import annotations

from typing import Annotated, Literal

from annotated_types import MaxLen

from ampwright.job.quantity import Amount, NonNegativeAmount, PositiveAmount
from ampwright.records import Count, NonNegative, Positive, record

__all__ = ["Carried", "Mount", "Rectangle", "VehicleMass"]


@record
class Rectangle:
    """A free rectangle of a roof."""

    length_mm: PositiveAmount
    """Along the vehicle."""
    width_mm: PositiveAmount
    """Across it."""


@record
class Carried:
    """People and goods that are aboard besides the system."""

    what: str
    """Plain words, e.g. "two persons in front"."""
    mass_kg: NonNegativeAmount
    """Their mass."""
    from_front_axle_mm: Amount
    """Their middle behind the front axle; negative ahead of it."""


@record
class VehicleMass:
    """Masses as weighed or declared, and what must not be exceeded."""

    front_kg: NonNegativeAmount | None = None
    """Load of the front axle without this system and what is carried (of a trailer: load on the coupling)."""
    rear_kg: NonNegativeAmount | None = None
    """Load of the rear axle, or of a trailer's axles, likewise."""
    front_limit_kg: PositiveAmount | None = None
    """Most the front axle (the coupling) may carry."""
    rear_limit_kg: PositiveAmount | None = None
    """Most the rear axle (a trailer's axles) may carry."""
    gross_limit_kg: PositiveAmount | None = None
    """Largest permitted mass of the whole vehicle."""
    wheelbase_mm: PositiveAmount | None = None
    """Front to rear axle (of a trailer: coupling to the middle of its axles)."""
    carried: Annotated[tuple[Carried, ...], MaxLen(40)] = ()
    """People and goods aboard."""
    roof_limit_kg: PositiveAmount | None = None
    """Most the roof may carry while driving."""
    roof_other_kg: NonNegativeAmount = 0.0
    """What else is on the roof while driving: rack, boxes, tent."""
    roof_parked_limit_kg: PositiveAmount | None = None
    """Most the roof may carry at a stand."""
    roof_parked_other_kg: NonNegativeAmount = 0.0
    """What else is on the roof at a stand: people in a roof tent too."""
    ground_clearance_mm: PositiveAmount | None = None
    """Least clearance that must stay under the body."""
    front_rate_kg_per_mm: PositiveAmount | None = None
    """Load that lowers the front axle by 1 mm (of a trailer leave it out)."""
    rear_rate_kg_per_mm: PositiveAmount | None = None
    """Load that lowers the rear axle by 1 mm: measure with two people standing over it."""
    restraint_g: PositiveAmount | None = None
    """Deceleration parts must be held against, where customer or code asks for another than the usual."""


@record
class Mount:
    """How a part is held."""

    how: str
    """Plain words, e.g. "steel tray bolted through the floor"."""
    rated_g: Positive | None = None
    """Deceleration the mount was tested or rated for with this mass."""
    rated_side_g: Positive | None = None
    """The same to the side."""
    bolt_mm: Literal[5, 6, 8, 10, 12] | None = None
    """Size of its bolts: 8 for M8."""
    bolt_count: Count | None = None
    """How many hold one case."""
    bolt_class: Literal["4.6", "5.6", "8.8", "10.9"] = "4.6"
    """Property class on the bolts' heads; the weakest where nobody looked."""
    bolt_rows_mm: Positive | None = None
    """Least distance between two rows of its bolts."""
    centre_height_mm: Positive | None = None
    """Centre of mass above the surface it is bolted to; half the part's largest dimension when absent."""
    extra_kg: NonNegative | None = None
    """Mass of tray, rails and fasteners of one case; absent = usual for panels, none for others."""
