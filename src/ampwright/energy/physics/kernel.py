"""Laws of battery, consumers, chargers and refrigerators on plain numbers, each written once.

What they do together in a step is in `ampwright.energy.kernel`.
"""

import math

import numpy as np
from numpy.typing import NDArray

from ampwright.energy.compiled import compiled

__all__ = [
    "charge_after_ah",
    "charger_a",
    "coefficient_of_performance",
    "cold_factor",
    "consumer_a",
    "fridge_step",
    "level_span_h",
    "periodic_start",
    "piece_of",
    "table_mean",
    "table_value",
    "wanted_cooling_w",
]

Floats = NDArray[np.float64]
HELD_K = 1e-12
"""A cabinet whose cooling would move it by less within a step is held at its set temperature."""


@compiled(inline="always")
def piece_of(x_table: Floats, x: float, near: int) -> int:
    """Piece of a table in which an abscissa lies, looked for from a piece near by; the end pieces go on beyond the ends."""
    i = near
    while i < x_table.size - 2 and x > x_table[i + 1]:
        i += 1
    while i > 0 and x <= x_table[i]:
        i -= 1
    return i


@compiled(inline="always")
def table_value(x_table: Floats, y_table: Floats, slopes: Floats, near: int, x: float) -> float:
    """Value of a piecewise linear table; `near` = any piece, the nearer the faster."""
    i = piece_of(x_table, x, near)
    return float(y_table[i] + slopes[i] * (x - x_table[i]))


@compiled(forceinline=True)
def table_mean(x_table: Floats, y_table: Floats, slopes: Floats, near: int, x0: float, x1: float) -> float:
    """Mean of a piecewise linear table between two abscissas, without cancellation."""
    low, high = min(x0, x1), max(x0, x1)
    i = piece_of(x_table, low, near)
    last = x_table.size - 2
    if high <= x_table[i + 1] or i == last:
        return float(y_table[i] + slopes[i] * (0.5 * (low + high) - x_table[i]))
    area = 0.5 * (y_table[i] + slopes[i] * (low - x_table[i]) + y_table[i + 1]) * (x_table[i + 1] - low)
    i += 1
    while i < last and high > x_table[i + 1]:
        area += 0.5 * (y_table[i] + y_table[i + 1]) * (x_table[i + 1] - x_table[i])
        i += 1
    area += (y_table[i] + 0.5 * slopes[i] * (high - x_table[i])) * (high - x_table[i])
    return float(area / (high - low))


@compiled(inline="always")
def consumer_a(kind: int, on_w: float, path_ohm: float, nominal_v: float, bus_v: float) -> float:
    """Return the current of a consumer behind a cable; at most what the cable lets through (maximum power)."""
    if kind == 0:
        rest = bus_v * bus_v - 4.0 * path_ohm * on_w
        if rest <= 0.0:
            return 0.5 * bus_v / path_ohm
        return 2.0 * on_w / (bus_v + math.sqrt(rest))
    if kind == 1:
        wanted = on_w / nominal_v
        return wanted if wanted * path_ohm < bus_v else bus_v / path_ohm
    return bus_v * on_w / (nominal_v * nominal_v + path_ohm * on_w)


@compiled(inline="always")
def charger_a(set_v: float, path_ohm: float, limit_a: float, available_w: float, bus_v: float) -> float:
    """Return the current of a charger: tapering through its cable, up to its current limit and its power."""
    taper = (set_v - bus_v) / path_ohm
    by_power = 2.0 * available_w / (bus_v + math.sqrt(bus_v * bus_v + 4.0 * path_ohm * available_w))
    return max(min(taper, limit_a, by_power), 0.0)


@compiled(inline="always")
def cold_factor(cell_degc: float, doubling_k: float) -> float:
    """Factor on the battery's resistance below 25 degC."""
    return float(2.0 ** (max(25.0 - cell_degc, 0.0) / doubling_k))


@compiled(inline="always")
def coefficient_of_performance(
    cabinet_degc: float, air_degc: float, carnot_frac: float, below_k: float, above_k: float
) -> float:
    """Heat pumped per work: a fraction of the ideal cycle, span at least 10 K (docs/choices.md#energy-cop-span)."""
    cold_k = cabinet_degc - below_k + 273.15
    span_k = max(air_degc + above_k - (cabinet_degc - below_k), 10.0)
    return carnot_frac * cold_k / span_k


@compiled(forceinline=True)
def wanted_cooling_w(
    cabinet_degc: float,
    ice_wh: float,
    air_degc: float,
    leak_w_per_k: float,
    capacity: float,
    set_degc: float,
    ice_full_wh: float,
    step_h: float,
) -> float:
    """Cooling that brings the cabinet to its set temperature, or refreezes the ice, within the step."""
    if cabinet_degc == set_degc:
        return max(leak_w_per_k * (air_degc - set_degc) + (ice_full_wh - ice_wh) / step_h, 0.0)
    keep = math.exp(-step_h * leak_w_per_k / capacity)
    target = (set_degc - cabinet_degc * keep) / (1.0 - keep)
    return max(leak_w_per_k * (air_degc - target), 0.0)


@compiled(forceinline=True)
def fridge_step(
    cabinet_degc: float,
    ice_wh: float,
    cooling_w: float,
    air_degc: float,
    leak_w_per_k: float,
    capacity: float,
    set_degc: float,
    ice_full_wh: float,
    step_h: float,
) -> tuple[float, float, float]:
    """Cabinet temperature, ice and heat leaked in after a step of constant cooling; exact.

    With ice in the lining the cabinet stays at its set temperature while ice melts or forms.
    """
    held_w = leak_w_per_k * (air_degc - set_degc)
    if cabinet_degc == set_degc and abs(held_w - cooling_w) * step_h <= HELD_K * capacity:
        return set_degc, ice_wh, held_w * step_h
    temp = cabinet_degc
    left_h = step_h
    leaked_wh = 0.0
    rate = leak_w_per_k / capacity
    goal = air_degc - cooling_w / leak_w_per_k
    for _ in range(4):
        if left_h <= 0.0:
            break
        if temp == set_degc and ice_full_wh > 0.0:
            net_w = leak_w_per_k * (air_degc - set_degc) - cooling_w
            if (net_w >= 0.0 and ice_wh > 0.0) or (net_w <= 0.0 and ice_wh < ice_full_wh) or net_w == 0.0:
                room_wh = ice_wh if net_w > 0.0 else ice_full_wh - ice_wh
                used_h = min(left_h, room_wh / abs(net_w)) if net_w != 0.0 else left_h
                leaked_wh += leak_w_per_k * (air_degc - set_degc) * used_h
                if used_h < left_h:
                    ice_wh = 0.0 if net_w > 0.0 else ice_full_wh
                else:
                    ice_wh = min(max(ice_wh - net_w * used_h, 0.0), ice_full_wh)
                left_h -= used_h
                continue
        used_h = left_h
        end = goal + (temp - goal) * math.exp(-rate * left_h)
        crosses = (temp < set_degc < end and ice_wh > 0.0) or (temp > set_degc > end and ice_wh < ice_full_wh)
        if ice_full_wh > 0.0 and crosses:
            used_h = min(left_h, -math.log((set_degc - goal) / (temp - goal)) / rate)
            end = set_degc
        mean = goal + (temp - goal) * (-math.expm1(-rate * used_h)) / (rate * used_h)
        leaked_wh += leak_w_per_k * (air_degc - mean) * used_h
        temp = end
        left_h -= used_h
    return temp, ice_wh, leaked_wh


@compiled(inline="always")
def charge_after_ah(
    charge_ah: float, current_a: float, efficiency_frac: float, self_a: float, step_h: float
) -> float:
    """Charge after a step of constant current."""
    return charge_ah + (current_a * (efficiency_frac if current_a > 0.0 else 1.0) - self_a) * step_h


@compiled(inline="always")
def level_span_h(available_frac: float, exchange_per_h: float, step_h: float) -> float:
    """Return by how many Ah each ampere of a step moves the level: the step itself, and more while charge is on its way.

    Kinetic battery model, J. F. Manwell and J. G. McGowan, Solar Energy 50 (1993) 399, its exact step for constant
    current written for the level h = (charge available) / c: h' = q + (h - q) exp(-k dt) + I times this.
    """
    if available_frac >= 1.0:
        return step_h
    lag_h = -math.expm1(-exchange_per_h * step_h) / exchange_per_h
    return step_h + (1.0 - available_frac) / available_frac * lag_h


@compiled()
def periodic_start(values: Floats, step_h: float, lag_h: float) -> float:
    """State that a first-order lag starts from when the series repeats for ever."""
    keep = math.exp(-step_h / lag_h)
    state = values[0]
    weight = 1.0
    for value in values:
        state = value + (state - value) * keep
        weight *= keep
    return float((state - values[0] * weight) / (1.0 - weight))
