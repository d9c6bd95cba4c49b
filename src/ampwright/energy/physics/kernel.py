"""Laws of battery, consumers, chargers and refrigerators on plain numbers, each written once.

What they do together in a step is in `ampwright.energy.kernel`.
"""

import math

import numpy as np
from numpy.typing import NDArray

from ampwright.energy.compiled import compiled
from ampwright.energy.lanes.values import all_of, any_of, in_lane, lane_count, lane_of, pick, read1

__all__ = [
    "charge_after_ah",
    "charger_a",
    "coefficient_of_performance",
    "cold_factor",
    "consumer_a",
    "fridge_step",
    "kept_frac",
    "level_kept_frac",
    "level_span_h",
    "periodic_start",
    "piece_at",
    "piece_of",
    "table_mean",
    "table_value",
    "wanted_cooling_w",
]

Floats = NDArray[np.float64]
Piece = tuple[float, float, float, float, float]
"""Bounds of a piece of a table, its first point, its slope; the end pieces go on beyond the ends."""
BEYOND = 1e30
HELD_K = 1e-12
"""A cabinet whose cooling would move it by less within a step is held at its set temperature."""


@compiled(inline="always")
def piece_of(x_table: Floats, x: float, near: int) -> int:
    """Piece of a table in which an abscissa lies, the lowest of all lanes, looked for from a piece near by.

    The end pieces go on beyond the ends.
    """
    i = near
    while i < x_table.shape[0] - 2 and all_of(x > read1(x_table, i + 1)):
        i += 1
    while i > 0 and any_of(x <= read1(x_table, i)):
        i -= 1
    return i


@compiled()
def piece_at(x_table: Floats, y_table: Floats, slopes: Floats, lowest: int, x: float) -> Piece:
    """Bounds, first point and slope of the piece in which an abscissa lies; `lowest` is of `piece_of`."""
    i, last = lowest, x_table.shape[0] - 2
    start, y, slope = read1(x_table, i), read1(y_table, i), read1(slopes, i)
    bottom = start if i > 0 else start - BEYOND
    top = read1(x_table, i + 1) if i < last else start + BEYOND
    while i < last and any_of(x > top):
        i += 1
        next_x = read1(x_table, i)
        is_above = x > next_x
        bottom, start = pick(is_above, next_x, bottom), pick(is_above, next_x, start)
        y, slope = pick(is_above, read1(y_table, i), y), pick(is_above, read1(slopes, i), slope)
        top = pick(is_above, read1(x_table, i + 1) if i < last else start + BEYOND, top)
    return bottom, top, start, y, slope


@compiled(forceinline=True)
def table_value(
    x_table: Floats, y_table: Floats, slopes: Floats, lowest: int, piece: Piece, x: float
) -> float:
    """Value of a piecewise linear table; `piece` = any piece, the nearer the faster."""
    bottom, top, start, y, slope = piece
    if not all_of((x > bottom) & (x <= top)):
        bottom, top, start, y, slope = piece_at(x_table, y_table, slopes, piece_of(x_table, x, lowest), x)
    return y + slope * (x - start)


@compiled()
def mean_across(
    x_table: Floats, y_table: Floats, slopes: Floats, near: int, low: float, high: float
) -> float:
    """Mean of a piecewise linear table over several pieces, without cancellation."""
    i, last = piece_of(x_table, low, near), x_table.shape[0] - 2
    area: float = 0.0 * low
    bottom = low
    while True:
        top = min(high, read1(x_table, i + 1)) if i < last else high
        start = read1(x_table, i)
        width = max(top - bottom, 0.0)
        area += width * (read1(y_table, i) + read1(slopes, i) * (0.5 * (bottom + top) - start))
        if i == last or not any_of(high > top):
            break
        i += 1
        bottom = max(low, top)
    mean: float = area / (high - low)
    return mean


@compiled(forceinline=True)
def table_mean(
    x_table: Floats, y_table: Floats, slopes: Floats, lowest: int, piece: Piece, x0: float, x1: float
) -> float:
    """Mean of a piecewise linear table between two abscissas; `piece` is that of the first."""
    bottom, top, start, y, slope = piece
    value = y + slope * (0.5 * (x0 + x1) - start)
    is_inside = (x1 > bottom) & (x1 <= top)
    if not all_of(is_inside):
        across = mean_across(x_table, y_table, slopes, lowest, min(x0, x1), max(x0, x1))
        value = pick(is_inside, value, across)
    return value


@compiled(inline="always")
def consumer_a(kind: int, on_w: float, path_ohm: float, nominal_v: float, bus_v: float) -> float:
    """Return the current of a consumer behind a cable; at most what the cable lets through (maximum power)."""
    if kind == 0:
        rest = bus_v * bus_v - 4.0 * path_ohm * on_w
        amp = 2.0 * on_w / (bus_v + math.sqrt(max(rest, 0.0)))
        is_collapsed = rest <= 0.0
        if any_of(is_collapsed):
            amp = pick(is_collapsed, 0.5 * bus_v / path_ohm, amp)
    elif kind == 1:
        amp = on_w / nominal_v + 0.0 * bus_v
        is_collapsed = amp * path_ohm >= bus_v
        if any_of(is_collapsed):
            amp = pick(is_collapsed, bus_v / path_ohm, amp)
    else:
        amp = bus_v * on_w / (nominal_v * nominal_v + path_ohm * on_w)
    return amp


@compiled(inline="always")
def charger_a(set_v: float, path_ohm: float, limit_a: float, available_w: float, bus_v: float) -> float:
    """Return the current of a charger: tapering through its cable, up to its current limit and its power."""
    taper = (set_v - bus_v) / path_ohm
    by_power = 2.0 * available_w / (bus_v + math.sqrt(bus_v * bus_v + 4.0 * path_ohm * available_w))
    limited = min(taper, limit_a)
    return max(min(limited, by_power), 0.0)


@compiled(inline="always")
def cold_factor(cell_degc: float, doubling_k: float) -> float:
    """Factor on the battery's resistance below 25 degC."""
    doublings = max(25.0 - cell_degc, 0.0) / doubling_k
    factor = 0.0 * doublings + 1.0
    if any_of(doublings > 0.0):
        for lane in range(lane_count(doublings)):
            factor = in_lane(factor, lane, 2.0 ** lane_of(doublings, lane))
    return factor


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
    cabinet_degc: float, air_degc: float, leak_w_per_k: float, capacity: float, set_degc: float, step_h: float
) -> float:
    """Cooling that brings a cabinet that is not at its set temperature to it within the step."""
    keep = math.exp(-step_h * leak_w_per_k / capacity)
    target = (set_degc - cabinet_degc * keep) / (1.0 - keep)
    return max(leak_w_per_k * (air_degc - target), 0.0)


@compiled()
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
    return charge_ah + (current_a * pick(current_a > 0.0, efficiency_frac, 1.0) - self_a) * step_h


@compiled(inline="always")
def level_span_h(available_frac: float, exchange_per_h: float, step_h: float) -> float:
    """Return by how many Ah each ampere of a step moves the level: the step itself, and more while charge is on its way.

    Kinetic battery model, J. F. Manwell and J. G. McGowan, Solar Energy 50 (1993) 399, its exact step for constant
    current written for the level h = (charge available) / c: h' = q + (h - q) exp(-k dt) + I times this.
    """
    span_h = 0.0 * available_frac + step_h
    for lane in range(lane_count(available_frac)):
        share, rate = lane_of(available_frac, lane), lane_of(exchange_per_h, lane)
        if share < 1.0:
            lag_h = -math.expm1(-rate * step_h) / rate
            span_h = in_lane(span_h, lane, step_h + (1.0 - share) / share * lag_h)
    return span_h


@compiled(inline="always")
def level_kept_frac(exchange_per_h: float, step_h: float) -> float:
    """Share of the level's way to the charge that is still before it after a step without current."""
    kept = 0.0 * exchange_per_h
    for lane in range(lane_count(kept)):
        kept = in_lane(kept, lane, math.exp(-lane_of(exchange_per_h, lane) * step_h))
    return kept


@compiled(inline="always")
def kept_frac(lag_h: float, step_h: float) -> float:
    """Share of a first-order lag's way that is still before it after a step; none without a lag."""
    kept = 0.0 * lag_h
    for lane in range(lane_count(kept)):
        if lane_of(lag_h, lane) > 0.0:
            kept = in_lane(kept, lane, math.exp(-step_h / lane_of(lag_h, lane)))
    return kept


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
