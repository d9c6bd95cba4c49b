"""Relays and contactors that carry the main current: split-charge relays between two batteries, battery contactors."""

from __future__ import annotations

from typing import Literal

from ampwright.parts.base import PartBase
from ampwright.records import NonNegative, Positive, record

__all__ = ["Relay"]


@record
class Relay(PartBase):
    """A relay or contactor; terminals "in" and "out" are its main contacts."""

    kind: Literal["relay"]
    """Kind of part."""
    nominal_v: Positive
    """Nominal voltage of its coil."""
    pick_up: Literal["run-signal", "voltage", "manual"]
    """What closes it: a wire that is live while the engine runs, the voltage of a battery, or a hand switch."""
    rating_a: Positive
    """Continuous current of the contacts."""
    peak_a: Positive
    """Largest current of the closed contacts for a short time."""
    peak_s: Positive
    """How long they carry it."""
    rated_dc_v: Positive
    """Rated DC voltage of the contacts."""
    breaking_capacity_a: Positive
    """Largest DC current the contacts open at that voltage, load current and not a fault's."""
    resistance_ohm: NonNegative
    """Resistance when closed."""
    coil_a: NonNegative
    """Current of the coil while it is closed; 0 where it is bistable. Own electronics are standby_a."""
    is_bistable: bool = False
    """True when it stays as it is without current."""
    close_v: NonNegative = 0.0
    """Voltage above which it closes (pick-up by voltage); 0 = none."""
    open_v: NonNegative = 0.0
    """Voltage below which it opens (pick-up by voltage); 0 = none."""
    delay_s: NonNegative = 0.0
    """Time the voltage must stay low before it opens."""
    is_two_way: bool = False
    """True when it closes on the voltage of either side, so a mains charger fills the starter battery too."""
    is_open_while_starting: bool = False
    """True when a wire from the starter holds it open while the engine is started."""

    @property
    def own_a(self) -> float:
        """What it draws while it is closed: its coil too."""
        return self.standby_a + self.coil_a
