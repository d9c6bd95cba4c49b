"""What an inverter takes from the battery for a given AC power.

Loss = idle + a·P + b·P²: idle covers the electronics, the linear part the constant drops of the switches,
the square the resistances. The two coefficients pass through the two efficiencies of the part's record.
"""

from __future__ import annotations

from ampwright.parts.inverter import Inverter
from ampwright.sources import Source, own_choice

__all__ = ["LOSS_SOURCE", "inverter_dc_w", "inverter_loss_coefficients"]

LOSS_SOURCE: Source = own_choice("inverter-loss")
"""Loss of idle, linear and square part fitted to two efficiencies: this project's own choice of form."""

PART_LOAD_FRAC = 0.3
"""Load of `efficiency_30_frac`, by the definition of that field."""


def inverter_loss_coefficients(inverter: Inverter) -> tuple[float, float, float]:
    """Return idle power in W, a and b of loss = idle + a·P + b·P² (P in W of AC).

    Notes
    -----
    Passes through both efficiencies. Where the figures contradict each other (a loss that bends
    downward, or falls below zero between the points) only the full-load figure is kept and the rest of the
    loss is linear. Neither the loss nor its growth is ever negative then, also above continuous power.
    """
    full_w = inverter.continuous_w
    part_w = PART_LOAD_FRAC * full_w
    idle_w = inverter.idle_w
    at_part = 1.0 / inverter.efficiency_30_frac - 1.0 - idle_w / part_w
    at_full = 1.0 / inverter.efficiency_100_frac - 1.0 - idle_w / full_w
    square = (at_full - at_part) / (full_w - part_w)
    linear = at_full - square * full_w
    is_consistent = square >= 0.0 and (linear >= 0.0 or linear * linear <= 4.0 * square * idle_w)
    return (idle_w, linear, square) if is_consistent else (idle_w, max(at_full, 0.0), 0.0)


def inverter_dc_w(inverter: Inverter, ac_w: float) -> float:
    """Return the DC power for an AC power; idle power at no load, negative AC power counts as none.

    Notes
    -----
    Between zero and continuous power it interpolates; above, the same curve is used up to the overload
    power, where the true loss is a little higher because the inverter is hotter.
    """
    idle_w, linear, square = inverter_loss_coefficients(inverter)
    power_w = max(ac_w, 0.0)
    return idle_w + power_w * (1.0 + linear + square * power_w)
