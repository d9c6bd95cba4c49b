"""What a corner is: one steady condition of one or more islands."""

from __future__ import annotations

import math

from ampwright.job.wiring import Attached
from ampwright.network.demand import Demand
from ampwright.network.tree import EVERYTHING, Tree
from ampwright.records import record

__all__ = ["Corner"]


@record
class Corner:
    """One steady condition of one or more islands."""

    name: str
    """In words."""
    sources: tuple[tuple[Tree, float], ...]
    """Islands solved here, each with the voltage of its root."""
    demand: Demand
    """What every node takes or gives."""
    lasts_s: float = math.inf
    """How long it can last."""
    present: frozenset[Attached] = EVERYTHING
    """What is attached."""
