"""Electronic switching: output modules, button panels, remotes, sensors."""

from __future__ import annotations

from typing import Literal

from ampwright.parts.base import SuppliedPart
from ampwright.records import Count, NonNegative, Positive, record

__all__ = ["ButtonPanel", "OutputGroup", "OutputModule", "Remote", "Sensor"]


@record
class OutputGroup:
    """Output channels of one module that are alike."""

    first: Count
    """Number of the first channel of the group."""
    last: Count
    """Number of the last channel of the group."""
    max_a: Positive
    """Largest continuous current of each."""
    is_dimmable: bool = False
    """True when it can dim by pulse width."""
    side: Literal["high", "low"] = "high"
    """Switches the positive (high) or the negative (low) lead."""
    resistance_ohm: NonNegative = 0.005
    """On-resistance of one channel."""


@record
class OutputModule(SuppliedPart):
    """Electronic switching module; terminal "in" and one node per channel, "id.1", "id.2" ..."""

    kind: Literal["output-module"]
    """Kind of part."""
    nominal_v: Positive
    """Nominal voltage."""
    outputs: tuple[OutputGroup, ...]
    """Its channels, in groups."""
    total_max_a: Positive
    """Largest current of all channels together."""
    feed_fuse_max_a: Positive
    """Largest fuse allowed in its feed."""
    channel_min_mm2: NonNegative = 0.0
    """Smallest conductor the clamp of a channel takes; its other terminal fields are those of the feed."""
    channel_max_mm2: NonNegative = 0.0
    """Largest conductor the clamp of a channel takes; 0 = not said."""
    bus: str = ""
    """Data connection, e.g. "CAN"; empty = none."""
    bit_rate_kbit_s: NonNegative = 0.0
    """Bit rate of the data connection; 0 = none."""


@record
class ButtonPanel(SuppliedPart):
    """A panel of push buttons on the data bus."""

    kind: Literal["button-panel"]
    """Kind of part."""
    nominal_v: Positive
    """Nominal voltage."""
    button_count: Count
    """Number of buttons."""
    legend_max_count: Count
    """Characters that fit on a button's legend."""
    bus: str
    """Data connection."""
    bit_rate_kbit_s: NonNegative = 0.0
    """Bit rate of the data connection."""


@record
class Remote(SuppliedPart):
    """A wireless or wired hand control, or its receiver."""

    kind: Literal["remote"]
    """Kind of part."""
    nominal_v: Positive
    """Nominal voltage of the receiver."""
    button_count: Count
    """Number of buttons."""
    is_wireless: bool
    """True when it works by radio."""


@record
class Sensor(SuppliedPart):
    """A sensor: current shunt, temperature, tank level, voltage."""

    kind: Literal["sensor"]
    """Kind of part."""
    senses: Literal["current", "temperature", "level", "voltage"]
    """What it measures."""
    rating_a: NonNegative = 0.0
    """Continuous current through it (current sensors); 0 = carries no load current."""
    resistance_ohm: NonNegative = 0.0
    """Resistance in the current path (current sensors)."""
