"""Gear plates and fronts: which parts are mounted on them, and where."""

from __future__ import annotations

from typing import Literal

from ampwright.records import NonNegative, Positive, record

__all__ = ["OnPlate", "Plate"]


@record
class OnPlate:
    """A placed part on a plate, seen from its front."""

    part: str
    """Id of the placed part."""
    x_mm: NonNegative | None = None
    """Left edge of its face from the left edge of the plate; absent together with y_mm = a place is proposed."""
    y_mm: NonNegative | None = None
    """Lower edge of its face from the lower edge of the plate."""
    is_turned: bool = False
    """True when it is turned by a quarter to the left."""


@record
class Plate:
    """A flat board or front."""

    id: str
    """Name, as on the template."""
    kind: Literal["gear", "front"] = "gear"
    """Board that parts are set onto, or a front that outlets and buttons look through."""
    width_mm: Positive
    """Width."""
    height_mm: Positive
    """Height."""
    edge_mm: NonNegative = 10.0
    """Strip along its edges that stays free."""
    place: tuple[OnPlate, ...]
    """Parts on it."""
