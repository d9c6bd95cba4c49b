"""Current and voltage of the battery's bus in one step: chargers, consumers and battery together.

Unknown is the battery's mean current I (positive = charging). The bus voltage is the mean open-circuit
voltage between the level before and after, plus I times the resistance, so that what the battery takes in
is stored, lost in resistance, in coulombs or in self-discharge, without remainder. The level is the charge at
which a rested battery has the same voltage; lithium is always rested here.
"""

import numpy as np
from numpy.typing import NDArray

from ampwright.energy.compiled import compiled
from ampwright.energy.physics.kernel import (
    charge_after_ah,
    charger_a,
    consumer_a,
    table_mean,
    table_value,
)
from ampwright.energy.tables import (
    ActiveTable,
    BankTable,
    SourceTable,
)

__all__ = [
    "battery_current_a",
    "level_at_balance_ah",
    "sagging_v",
    "surplus_a",
]

Floats = NDArray[np.float64]
Now = tuple[float, float, float, float, float, float, float, int]
"""Level, level after the step without current, how long a current moves it, lowest level, self-discharge, ..."""
SOLVE_REL = 1e-13
MOST_ITERATIONS = 80
BALANCE_REL = 1e-12  # of the charge: how close the level at balance is told
COLLAPSED = 0.25  # of the nominal voltage: below this no bus is left


@compiled(forceinline=True)
def consumers_a(active: ActiveTable, powers: Floats, count: int, nominal_v: float, bus_v: float) -> float:
    """Mean current of the first `count` active consumers at these powers."""
    total = 0.0
    for i in range(count):
        total += active.duty_frac[i] * consumer_a(
            active.kind[i], powers[i], active.path_ohm[i], nominal_v, bus_v
        )
    return total


@compiled(forceinline=True)
def chargers_a(sources: SourceTable, limits_a: Floats, available_w: Floats, bus_v: float) -> float:
    """Return the current of all chargers together."""
    total = 0.0
    for k in range(limits_a.size):
        if limits_a[k] > 0.0 and available_w[k] > 0.0:
            total += charger_a(sources.set_v[k], sources.path_ohm[k], limits_a[k], available_w[k], bus_v)
    return total


@compiled(forceinline=True)
def bus_balance(
    current_a: float,
    bank: BankTable,
    now: Now,
    sources: SourceTable,
    limits_a: Floats,
    available_w: Floats,
    active: ActiveTable,
    count: int,
    nominal_v: float,
) -> tuple[float, float, float]:
    """Return the current left over at the bus for a guess of the battery's, the bus voltage, and the scale."""
    level_ah, rested_ah, span_h, _, self_a, ohm, fixed_w, piece = now
    after = charge_after_ah(rested_ah, current_a, bank.efficiency_frac, self_a, span_h)
    bus_v = table_mean(bank.table_ah, bank.table_v, bank.slopes, piece, level_ah, after) + current_a * ohm
    bus_v = max(bus_v, COLLAPSED * nominal_v)
    given = chargers_a(sources, limits_a, available_w, bus_v)
    taken = consumers_a(active, active.power_w, count, nominal_v, bus_v) + fixed_w / bus_v
    return given - taken - current_a, bus_v, given + taken + abs(current_a)


@compiled(forceinline=True)
def battery_current_a(
    guess_a: float,
    most_a: float,
    bank: BankTable,
    now: Now,
    sources: SourceTable,
    limits_a: Floats,
    available_w: Floats,
    active: ActiveTable,
    count: int,
    nominal_v: float,
) -> tuple[float, float, float, bool]:
    """Solve one step: battery current, bus voltage, share of the chargers used, and whether it is empty.

    Safeguarded secant: bracketed between the current that empties the battery and the one that fills it.
    """
    _, rested_ah, span_h, floor_ah, self_a, _, _, _ = now
    bottom = self_a - max(rested_ah - floor_ah, 0.0) / span_h
    hi, noise_a = 0.0, 0.0
    for k in range(limits_a.size):
        if limits_a[k] > 0.0 and available_w[k] > 0.0:
            hi += limits_a[k]
            noise_a = max(noise_a, 4e-16 * sources.set_v[k] / sources.path_ohm[k])
    if hi > most_a:
        hi = most_a
        rest, bus_v, scale = bus_balance(
            hi, bank, now, sources, limits_a, available_w, active, count, nominal_v
        )
        if rest >= 0.0:
            given = chargers_a(sources, limits_a, available_w, bus_v)
            return hi, bus_v, (given - rest) / given if given > 0.0 else 0.0, False
    lo = bottom
    x = min(max(guess_a, lo), hi)
    f, bus_v, scale = bus_balance(x, bank, now, sources, limits_a, available_w, active, count, nominal_v)
    next_x = x + f
    for iteration in range(MOST_ITERATIONS):
        if abs(f) <= SOLVE_REL * scale + noise_a:
            break
        lo, hi = (max(lo, x), hi) if f > 0.0 else (lo, min(hi, x))
        if hi - lo <= 4e-16 * max(abs(hi), abs(lo)):
            break
        if not (lo < next_x < hi) or iteration % 6 == 5:
            next_x = 0.5 * (lo + hi)
        old_x, old_f = x, f
        x = next_x
        f, bus_v, scale = bus_balance(x, bank, now, sources, limits_a, available_w, active, count, nominal_v)
        next_x = x - f * (x - old_x) / (f - old_f) if f != old_f else 0.5 * (lo + hi)
    is_empty = f < -1e-9 * scale or bus_v <= COLLAPSED * nominal_v
    return x, bus_v, 1.0, is_empty


@compiled(forceinline=True)
def surplus_a(
    bus_v: float,
    fixed_w: float,
    sources: SourceTable,
    limits_a: Floats,
    available_w: Floats,
    active: ActiveTable,
    count: int,
    nominal_v: float,
) -> float:
    """Return what the chargers give at a bus voltage less what the consumers take."""
    taken = consumers_a(active, active.power_w, count, nominal_v, bus_v) + fixed_w / bus_v
    return chargers_a(sources, limits_a, available_w, bus_v) - taken


@compiled()
def level_at_balance_ah(
    level_ah: float,
    after_ah: float,
    fixed_w: float,
    piece: int,
    bank: BankTable,
    sources: SourceTable,
    limits_a: Floats,
    available_w: Floats,
    active: ActiveTable,
    count: int,
    nominal_v: float,
) -> float:
    """Return the level between two at which chargers and consumers balance at rest voltage.

    False position, the gap of an end that stays twice halved; the answer is the end where chargers give more.
    """
    lo, hi, low_gap, high_gap = level_ah, after_ah, 0.0, 0.0
    middle, side = lo, 0
    for turn in range(MOST_ITERATIONS):
        rest_v = table_value(bank.table_ah, bank.table_v, bank.slopes, piece, middle)
        gap = surplus_a(rest_v, fixed_w, sources, limits_a, available_w, active, count, nominal_v)
        if turn == 0:
            low_gap, middle = gap, hi
            continue
        if gap > 0.0:
            high_gap *= 0.5 if side > 0 else 1.0
            lo, low_gap, side = middle, gap, 1
        else:
            low_gap *= 0.5 if side < 0 else 1.0
            hi, high_gap, side = middle, gap, -1
        if low_gap <= 0.0 or hi - lo <= BALANCE_REL * hi:
            break
        # Always a thousandth of the width from either end, so that both ends move.
        middle = lo + (hi - lo) * min(max(low_gap / (low_gap - high_gap), 0.001), 0.999)
    return lo


@compiled(forceinline=True)
def sagging_v(
    rest_v: float,
    ohm: float,
    fixed_w: float,
    active: ActiveTable,
    powers: Floats,
    count: int,
    nominal_v: float,
) -> float:
    """Terminal voltage when the battery alone feeds these powers; half its rest voltage if it cannot."""
    lo, hi, v = 0.5 * rest_v, rest_v, rest_v
    for _ in range(30):
        taken = fixed_w / v
        for i in range(count):
            taken += consumer_a(active.kind[i], powers[i], active.path_ohm[i], nominal_v, v)
        gap = rest_v - ohm * taken - v
        if abs(gap) <= 1e-7 * rest_v:
            break
        lo, hi = (v, hi) if gap > 0.0 else (lo, v)
        # Newton with the slope of constant power behind a short cable.
        slope = ohm * taken / v - 1.0
        v = v - gap / slope if slope < 0.0 else lo
        if not lo < v < hi:
            v = 0.5 * (lo + hi)
    return v
