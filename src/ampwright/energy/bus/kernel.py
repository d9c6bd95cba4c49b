"""Current and voltage of the battery's bus in one step: chargers, consumers and battery together.

Unknown is the battery's mean current I (positive = charging). The bus voltage is the mean open-circuit
voltage between the level before and after, plus I times the resistance, so that what the battery takes in
is stored, lost in resistance, in coulombs or in self-discharge, without remainder. The level is the charge at
which a rested battery has the same voltage; lithium is always rested here.
"""

import numpy as np
from numpy.typing import NDArray

from ampwright.energy.compiled import compiled
from ampwright.energy.lanes.values import any_of, no, pick, read1
from ampwright.energy.physics.kernel import (
    Piece,
    charge_after_ah,
    charger_a,
    consumer_a,
    table_mean,
    table_value,
)
from ampwright.energy.tables import ActiveTable, BankTable

__all__ = [
    "battery_current_a",
    "level_at_balance_ah",
    "sagging_v",
    "surplus_a",
]

Floats = NDArray[np.float64]
Now = tuple[float, float, float, float, float, float, float, int, Piece]
"""Level, level after the step without current, how long a current moves it, lowest level, self-discharge, ..."""
SOLVE_REL = 1e-13
MOST_ITERATIONS = 80
BALANCE_REL = 1e-12  # of the charge: how close the level at balance is told
TINY_A = 1e-300
COLLAPSED = 0.25  # of the nominal voltage: below this no bus is left


@compiled(forceinline=True)
def consumers_a(active: ActiveTable, powers: Floats, count: int, nominal_v: float, bus_v: float) -> float:
    """Mean current of the first `count` active consumers at these powers."""
    total = 0.0
    for i in range(count):
        total += read1(active.duty_frac, i) * consumer_a(
            active.kind[i], read1(powers, i), read1(active.path_ohm, i), nominal_v, bus_v
        )
    return total


@compiled(forceinline=True)
def chargers_a(active: ActiveTable, live: int, bus_v: float) -> float:
    """Return the current of the first `live` chargers together."""
    total = 0.0
    for k in range(live):
        total += charger_a(
            read1(active.set_v, k),
            read1(active.source_ohm, k),
            read1(active.limit_a, k),
            read1(active.available_w, k),
            bus_v,
        )
    return total


@compiled(forceinline=True)
def bus_balance(
    current_a: float,
    bank: BankTable,
    now: Now,
    active: ActiveTable,
    live: int,
    count: int,
    nominal_v: float,
) -> tuple[float, float, float]:
    """Return the current left over at the bus for a guess of the battery's, the bus voltage, and the scale."""
    level_ah, rested_ah, span_h, _, self_a, ohm, fixed_w, lowest, piece = now
    after = charge_after_ah(rested_ah, current_a, bank.efficiency_frac, self_a, span_h)
    mean_v = table_mean(bank.table_ah, bank.table_v, bank.slopes, lowest, piece, level_ah, after)
    bus_v = max(mean_v + current_a * ohm, COLLAPSED * nominal_v)
    given = chargers_a(active, live, bus_v)
    taken = consumers_a(active, active.power_w, count, nominal_v, bus_v) + fixed_w / bus_v
    return given - taken - current_a, bus_v, given + taken + abs(current_a)


@compiled()
def battery_current_a(
    guess_a: float,
    most_a: float,
    limits: tuple[float, float],
    bank: BankTable,
    now: Now,
    active: ActiveTable,
    live: int,
    count: int,
    nominal_v: float,
) -> tuple[float, float, float, bool]:
    """Solve one step: battery current, bus voltage, share of the chargers used, and whether it is empty.

    Safeguarded secant: bracketed between the current that empties the battery and the one that fills it. Lanes that
    are done stay as they are while the others go on.
    """
    _, rested_ah, span_h, floor_ah, self_a, _, _, _, _ = now
    hi, noise_a = limits
    used = 0.0 * most_a + 1.0
    is_full = hi > most_a
    is_filled = is_full
    hi = min(hi, most_a)
    if any_of(is_full):
        rest, bus_v, scale = bus_balance(hi, bank, now, active, live, count, nominal_v)
        is_filled = is_full & (rest >= 0.0)
        if any_of(is_filled):
            given = chargers_a(active, live, bus_v)
            used = pick(is_filled, pick(given > 0.0, (given - rest) / max(given, TINY_A), 0.0), 1.0)
            if not any_of(no(is_filled)):
                return hi, bus_v, used, no(is_filled)
    # Below what the cold leaves it gives nothing, but nobody has to replace what it loses by itself.
    lo = min(self_a - max(rested_ah - floor_ah, 0.0) / span_h, 0.0)
    x = pick(is_filled, hi, min(max(guess_a, lo), hi))
    f, bus_v, scale = bus_balance(x, bank, now, active, live, count, nominal_v)
    next_x = x + f
    goes_on = no(is_filled)
    for iteration in range(MOST_ITERATIONS):
        goes_on = goes_on & (abs(f) > SOLVE_REL * scale + noise_a)
        if not any_of(goes_on):
            break
        lo, hi = pick(f > 0.0, max(lo, x), lo), pick(f > 0.0, hi, min(hi, x))
        goes_on = goes_on & (hi - lo > 4e-16 * max(abs(hi), abs(lo)))
        if not any_of(goes_on):
            break
        is_within = (lo < next_x) & (next_x < hi) & (iteration % 6 != 5)
        old_x, old_f = x, f
        x = pick(goes_on, pick(is_within, next_x, 0.5 * (lo + hi)), x)
        f, bus_v, scale = bus_balance(x, bank, now, active, live, count, nominal_v)
        moved = f != old_f
        next_x = pick(moved, x - f * (x - old_x) / pick(moved, f - old_f, 1.0), 0.5 * (lo + hi))
    is_empty = no(is_filled) & ((f < -1e-9 * scale) | (bus_v <= COLLAPSED * nominal_v))
    return x, bus_v, used, is_empty


@compiled(forceinline=True)
def surplus_a(
    bus_v: float, fixed_w: float, active: ActiveTable, live: int, count: int, nominal_v: float
) -> float:
    """Return what the chargers give at a bus voltage less what the consumers take."""
    taken = consumers_a(active, active.power_w, count, nominal_v, bus_v) + fixed_w / bus_v
    return chargers_a(active, live, bus_v) - taken


@compiled()
def level_at_balance_ah(
    after_ah: float,
    goes_on: bool,  # noqa: FBT001
    bank: BankTable,
    now: Now,
    active: ActiveTable,
    live: int,
    count: int,
    nominal_v: float,
) -> float:
    """Return the level between two at which chargers and consumers balance at rest voltage.

    False position, the gap of an end that stays twice halved; the answer is the end where chargers give more.
    """
    level_ah, rested_ah, _, _, _, _, fixed_w, lowest, piece = now
    lo, hi = min(level_ah, rested_ah), after_ah
    rest_v = table_value(bank.table_ah, bank.table_v, bank.slopes, lowest, piece, lo)
    low_gap = surplus_a(rest_v, fixed_w, active, live, count, nominal_v)
    high_gap, side, middle = 0.0 * low_gap, 0.0 * low_gap, hi
    for _ in range(MOST_ITERATIONS):
        rest_v = table_value(bank.table_ah, bank.table_v, bank.slopes, lowest, piece, middle)
        gap = surplus_a(rest_v, fixed_w, active, live, count, nominal_v)
        rises, falls = goes_on & (gap > 0.0), goes_on & (gap <= 0.0)
        high_gap = pick(falls, gap, pick(rises & (side > 0.0), 0.5 * high_gap, high_gap))
        low_gap = pick(rises, gap, pick(falls & (side < 0.0), 0.5 * low_gap, low_gap))
        lo, hi = pick(rises, middle, lo), pick(falls, middle, hi)
        side = pick(rises, 1.0, pick(falls, -1.0, side))
        goes_on = goes_on & (low_gap > 0.0) & (hi - lo > BALANCE_REL * hi)
        if not any_of(goes_on):
            break
        # Always a thousandth of the width from either end, so that both ends move.
        width = max(low_gap - high_gap, TINY_A)
        middle = lo + (hi - lo) * min(max(low_gap / width, 0.001), 0.999)
    return lo


@compiled()
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
    goes_on = rest_v > 0.0
    for _ in range(30):
        taken = fixed_w / v
        for i in range(count):
            taken += consumer_a(active.kind[i], read1(powers, i), read1(active.path_ohm, i), nominal_v, v)
        gap = rest_v - ohm * taken - v
        goes_on = goes_on & (abs(gap) > 1e-7 * rest_v)
        if not any_of(goes_on):
            break
        rises = gap > 0.0
        lo, hi = pick(goes_on & rises, v, lo), pick(goes_on & no(rises), v, hi)
        # Newton with the slope of constant power behind a short cable.
        slope = ohm * taken / v - 1.0
        next_v = pick(slope < 0.0, v - gap / min(slope, -TINY_A), lo)
        next_v = pick((lo < next_v) & (next_v < hi), next_v, 0.5 * (lo + hi))
        v = pick(goes_on, next_v, v)
    return v
