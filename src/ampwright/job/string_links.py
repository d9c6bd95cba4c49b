"""How the strings of a battery are joined: cables between their posts, and where the leads to the system leave."""

from __future__ import annotations

from typing import Literal

from ampwright.job.quantity import NonNegativeAmount, PositiveAmount
from ampwright.parts.cable import Cable
from ampwright.records import record

__all__ = ["DesignStringLinks", "StringLinks", "Tapped"]

Tapped = Literal["same-end", "diagonal", "bus-bars"]


@record
class StringLinks:
    """Links between the strings of a battery, alike on the positive and the negative side."""

    tapped: Tapped
    """Where the leads to the system leave: both at the first string, positive at the first and negative at the last, or each string has its own pair to bus bars."""
    cable: str
    """Catalogue id of the cable of the links."""
    length_m: PositiveAmount
    """Length of one link: from string to string, or from a string to its bus bar."""
    joint_ohm: NonNegativeAmount = 0.0002
    """Both joints of one link together."""


@record
class DesignStringLinks:
    """The same with the cable resolved."""

    tapped: Tapped
    """Where the leads to the system leave."""
    cable: Cable
    """Cable of the links."""
    length_m: float
    """Length of one link."""
    joint_ohm: float
    """Both joints of one link."""

    @property
    def link_ohm(self) -> float:
        """Resistance of one link at 20 degC."""
        return self.cable.resistance_ohm_per_km * self.length_m / 1000.0 + self.joint_ohm
