"""What a log of the battery says by itself: charge in and out, the quiet draw at night, resistance, extremes."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ampwright.fieldwork.log_file import BatteryLog
from ampwright.records import record

__all__ = ["NIGHT_H", "LogFacts", "log_facts"]

Array = NDArray[np.float64]
NIGHT_H = (1.0, 5.0)
"""Hours of the night in which most is off and no sun shines (docs/choices.md#log-night)."""
GAP_S, GAP_STEPS = 900.0, 10.0
"""A pause between readings longer than both is a gap: nothing is known of it (docs/choices.md#log-night)."""
BIN_S, QUIET_PERCENT, FEWEST_BINS = 300.0, 10.0, 12
"""Means over five minutes, of which the lowest tenth is the quiet draw; fewer than an hour tell nothing."""
STRONG_S = 900.0
JUMP_A, JUMP_FRAC, JUMP_S, FEWEST_JUMPS = 5.0, 0.05, 60.0, 8
"""Least jump of current, also as part of the range, longest time between its readings, fewest jumps that tell."""
TOP_PERCENT = 99.5
SOC_SWING_FRAC = 0.3


@record
class LogFacts:
    """Figures of a log; NaN = it does not tell."""

    covered_h: float
    """Hours with readings."""
    gap_h: float
    """Hours without."""
    in_ah_per_day: float
    """Charge put in, for each 24 h with readings."""
    out_ah_per_day: float
    """Charge taken out, for each 24 h with readings."""
    quiet_a: float
    """Draw at night while nothing cycles."""
    night_a: float
    """Mean draw at night while nothing charges."""
    night_count: int
    """Nights with readings."""
    strongest_charge_a: float
    """Largest charging current, mean over a quarter of an hour."""
    top_v: float
    """Voltage that one reading in 200 exceeds."""
    low_v: float
    """Lowest voltage."""
    resistance_ohm: float
    """Middle of jumps of voltage over jumps of current."""
    jump_count: int
    """Jumps it is taken from."""
    capacity_ah: float
    """Charge that moved over the widest swing of the battery's own state of charge, for the whole of it."""


def log_facts(log: BatteryLog) -> LogFacts:
    """Return what a log says."""
    step_s = np.diff(log.time_s)
    gap_s = max(GAP_S, GAP_STEPS * float(np.median(step_s)))
    held_s = np.append(np.where(step_s <= gap_s, step_s, 0.0), 0.0)
    hours = held_s / 3600.0
    covered_h = float(hours.sum())
    quiet_a, night_a, night_count = _night(log, held_s)
    resistance_ohm, jump_count = _resistance(log)
    return LogFacts(
        covered_h=covered_h,
        gap_h=float(log.time_s[-1]) / 3600.0 - covered_h,
        in_ah_per_day=_per_day(np.maximum(log.battery_a, 0.0), hours),
        out_ah_per_day=_per_day(np.maximum(-log.battery_a, 0.0), hours),
        quiet_a=quiet_a,
        night_a=night_a,
        night_count=night_count,
        strongest_charge_a=float(
            max(_binned(log.time_s, log.battery_a, held_s, STRONG_S)[1], default=np.nan)
        ),
        top_v=float(np.percentile(log.battery_v, TOP_PERCENT)),
        low_v=float(log.battery_v.min()),
        resistance_ohm=resistance_ohm,
        jump_count=jump_count,
        capacity_ah=_capacity_ah(log, hours, gap_s),
    )


def _per_day(amps: Array, hours: Array) -> float:
    return float(amps @ hours) / float(hours.sum()) * 24.0 if hours.sum() > 0.0 else np.nan


def _binned(time_s: Array, values: Array, held_s: Array, bin_s: float) -> tuple[Array, Array]:
    """Return the mean of each stretch that is mostly covered after its start, weighted by how long a reading holds."""
    number = (time_s // bin_s).astype(np.int64)
    weight = np.bincount(number, weights=held_s)
    total = np.bincount(number, weights=held_s * values)
    # A reading that holds longer than a stretch fills its own stretch alone.
    is_full = weight >= 0.5 * bin_s
    since, means = np.flatnonzero(is_full) * bin_s, total[is_full] / weight[is_full]
    return since.astype(np.float64), means.astype(np.float64)


def _night(log: BatteryLog, held_s: Array) -> tuple[float, float, int]:
    """Return the quiet draw, the mean draw and the number of nights."""
    start_s = log.start.hour * 3600.0 + log.start.minute * 60.0 + log.start.second
    day_s = log.time_s + start_s
    since, amps = _binned(day_s, log.battery_a, held_s, BIN_S)
    hour = (since / 3600.0) % 24.0
    is_night = (hour >= NIGHT_H[0]) & (hour < NIGHT_H[1]) & (amps <= 0.0)
    if np.count_nonzero(is_night) < FEWEST_BINS:
        return np.nan, np.nan, 0
    draws = -amps[is_night]
    nights = np.unique(since[is_night] // 86400.0)
    return float(np.percentile(draws, QUIET_PERCENT)), float(draws.mean()), nights.size


def _resistance(log: BatteryLog) -> tuple[float, int]:
    """Return the middle of the jumps, both directions alike; NaN where too few are large and quick enough."""
    jump_a, jump_v = np.diff(log.battery_a), np.diff(log.battery_v)
    least_a = max(JUMP_A, JUMP_FRAC * float(np.ptp(log.battery_a)))
    is_jump = (np.abs(jump_a) >= least_a) & (np.diff(log.time_s) <= JUMP_S)
    count = int(np.count_nonzero(is_jump))
    if count < FEWEST_JUMPS:
        return np.nan, count
    return float(np.median(jump_v[is_jump] / jump_a[is_jump])), count


def _capacity_ah(log: BatteryLog, hours: Array, gap_s: float) -> float:
    """Return the charge between the lowest and the highest state of charge of the longest stretch without a gap."""
    if log.soc_frac is None:
        return np.nan
    breaks = np.flatnonzero(np.diff(log.time_s) > gap_s) + 1
    stretch = max(np.split(np.arange(log.time_s.size), breaks), key=len)
    soc = log.soc_frac[stretch]
    charge_ah = np.concatenate([[0.0], np.cumsum(log.battery_a[stretch] * hours[stretch])])
    low, high = int(np.argmin(soc)), int(np.argmax(soc))
    swing = float(soc[high] - soc[low])
    if swing < SOC_SWING_FRAC:
        return np.nan
    return float(charge_ah[high] - charge_ah[low]) / swing
