"""A zone of a design: where parts, runs and loads are, and how warm it is there."""

from __future__ import annotations

from typing import Literal

from ampwright.job.vehicle import Zone
from ampwright.records import record

__all__ = ["DesignZone"]


@record
class DesignZone:
    """A place in the vehicle, amounts resolved."""

    id: str
    """Name."""
    kind: Literal["cabin", "body", "locker", "engine", "roof", "outside", "underbody"]
    """Sort of place."""
    ambient_max_degc: float
    """Highest air temperature to be reckoned with."""
    rise_k: float
    """Hotter than inside air (cabin, body, locker) or outside air (others)."""
    written: Zone
    """As written in the job: space, distances and reach."""

    @property
    def is_inside(self) -> bool:
        """True when its air follows the inside of the body."""
        return self.kind in {"cabin", "body", "locker"}
