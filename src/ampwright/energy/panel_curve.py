"""Current of a panel by its voltage, and what shade on some of its sections leaves.

Figures are those of the data sheet alone: short circuit, maximum power, open circuit.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from ampwright.parts.panel import Panel
from ampwright.records import record

__all__ = ["PanelCurve", "current_a", "panel_curve", "section_power_frac", "sectioned_current_a"]

Array = NDArray[np.float64]

BYPASS_V = 0.5
"""Forward voltage of a bypass diode (common practice for Schottky diodes, no source)."""


@record
class PanelCurve:
    """Two constants of the explicit curve through the three points of a data sheet."""

    steep_factor: float
    """Scale of the exponential, times the open-circuit voltage."""
    small_factor: float
    """Its share of the short-circuit current at no voltage."""


def panel_curve(panel: Panel) -> PanelCurve:
    """Return the curve I = Isc (1 - C1 (exp(V / (C2 Voc)) - 1)) through the rated points.

    H. S. Rauschenbach, Solar Cell Array Design Handbook (1980), from memory: C2 = (Vmp / Voc - 1) / ln(1 - Imp / Isc),
    C1 = (1 - Imp / Isc) exp(-Vmp / (C2 Voc)). It meets short circuit and maximum power, and open circuit to about C1.
    """
    left = max(1.0 - panel.max_power_a / panel.short_circuit_a, 1e-6)
    at_best = panel.max_power_v / panel.open_circuit_v
    steep = (at_best - 1.0) / math.log(left)
    return PanelCurve(steep_factor=steep, small_factor=left * math.exp(-at_best / steep))


def current_a(panel: Panel, voltage_v: Array, *, light_frac: Array, volt_factor: Array) -> Array:
    """Return the current of one panel at a voltage, never below nought.

    Light shifts the curve down, heat shifts it to the left.

    Parameters
    ----------
    light_frac : light over 1000 W/m²
    volt_factor : open-circuit voltage by heat over that at 25 °C
    """
    curve = panel_curve(panel)
    rated_v = np.maximum(voltage_v, 0.0) / np.maximum(volt_factor, 1e-3)
    lost = curve.small_factor * np.expm1(
        np.minimum(rated_v / (curve.steep_factor * panel.open_circuit_v), 50.0)
    )
    found: Array = np.maximum(panel.short_circuit_a * (light_frac - lost), 0.0)
    return found


def section_power_frac(panel: Panel, lost_frac: tuple[float, ...]) -> float:
    """Return the part of its power a panel gives with light lost on some sections, tracked to its best point.

    Either all sections carry the current of the darkest, or darker ones are passed by through their diodes; the best
    of these points is taken.
    """
    count = len(lost_frac)
    light = sorted((1.0 - lost for lost in lost_frac), reverse=True)
    best = 0.0
    for kept, carried in enumerate(light, start=1):
        voltage_frac = kept / count - (count - kept) * BYPASS_V / panel.max_power_v
        best = max(best, carried * max(voltage_frac, 0.0))
    return best


def sectioned_current_a(
    panel: Panel, voltage_v: Array, lost_frac: tuple[float, ...], *, light_frac: Array, volt_factor: Array
) -> Array:
    """Return the current of a panel held at a voltage with light lost on some sections."""
    count = len(lost_frac)
    if count == 0:
        return current_a(panel, voltage_v, light_frac=light_frac, volt_factor=volt_factor)
    light = sorted((1.0 - lost for lost in lost_frac), reverse=True)
    best = np.zeros_like(light_frac)
    for kept, carried in enumerate(light, start=1):
        whole_v = (voltage_v + (count - kept) * BYPASS_V) * count / kept
        given = current_a(panel, whole_v, light_frac=light_frac * carried, volt_factor=volt_factor)
        best = np.maximum(best, given)
    return best
