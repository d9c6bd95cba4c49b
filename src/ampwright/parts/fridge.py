"""Compressor refrigerators on DC."""

from __future__ import annotations

from typing import Literal

from ampwright.parts.base import SuppliedPart
from ampwright.records import Fraction, NonNegative, Positive, Temperature, record

__all__ = ["Fridge"]


@record
class Fridge(SuppliedPart):
    """A compressor refrigerator described by its heat leak and its cooling machine."""

    kind: Literal["fridge"]
    """Kind of part."""
    volume_l: Positive
    """Net volume."""
    running_w: Positive
    """Electrical power while the compressor runs."""
    start_a: Positive
    """Current peak at compressor start, at nominal voltage."""
    leak_w_per_k: Positive
    """Heat leak of the closed cabinet per kelvin."""
    opening_factor: Positive
    """Factor on the leak for door openings and warm goods in ordinary use, 1 = never opened."""
    carnot_frac: Fraction
    """Cooling machine's efficiency as a fraction of the ideal cycle's, between evaporator and condenser."""
    evaporator_below_k: Positive
    """The evaporator is this much colder than the cabinet."""
    condenser_above_k: Positive
    """The condenser is this much hotter than the air at it."""
    contents_wh_per_k: Positive
    """Heat capacity of cabinet and usual contents."""
    cold_store_wh: NonNegative = 0.0
    """Latent heat of a built-in ice lining at its melting point; 0 = none."""
    set_degc: Temperature
    """Usual cabinet temperature."""
    min_v: Positive
    """Terminal voltage below which the compressor stops."""
    restart_v: Positive
    """Terminal voltage at which it starts again."""
