"""How long the battery lasts in years: age by heat and charge first, cycles second.

Answers after which time it holds 80 % of its label if the year is made of such uses and the storage between them.
Sudden failures, misuse and a bad batch are not in it.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from ampwright.energy.rainflow import rainflow_cycles
from ampwright.energy.result import EnergyResult
from ampwright.job.design import Design
from ampwright.parts.battery import Battery, CyclePoint
from ampwright.records import record
from ampwright.sources import Source

__all__ = ["AGEING_SOURCE", "LEAD_SOURCE", "BatteryLife", "battery_life", "cycles_to_end", "longest_gap_days"]

Array = NDArray[np.float64]

AGEING_SOURCE = Source(
    document="M. Naumann and others, J. Energy Storage 17 (2018) 153",
    place="capacity loss in storage of an LFP/graphite cell",
    standing="second hand",
)
LEAD_SOURCE = Source(document="docs/choices.md", place="lead-acid-age", standing="common practice")

GAS_J_PER_MOL_K = 8.314462618  # exact, 2019 SI
ZERO_DEGC_K = 273.15
REFERENCE_K = 298.15
# Naumann 2018: loss = k exp(-Ea/R (1/T - 1/298.15 K)) (c (SOC - 0.5)^3 + d) sqrt(t in s); second hand
LOSS_PER_ROOT_S = 1.2571e-5
ACTIVATION_J_PER_MOL = 17126.0
CHARGE_CUBIC = 2.8575
CHARGE_LEVEL = 0.60225

END_LOSS_FRAC = 0.2
"""A battery is at its end when this much of its label is lost (common practice, no source)."""
LEAD_REFERENCE_DEGC = 20.0
LEAD_HALVING_K = 10.0  # docs/choices.md#lead-acid-age
SPREAD_FACTOR = 1.5  # docs/choices.md#ageing-spread
MOST_YEARS = 15.0  # docs/choices.md#ageing-most-years
SECONDS_PER_DAY = 86400.0
DAYS_PER_YEAR = 365.25
FULL_FRAC = 0.97  # docs/choices.md#called-full


@record
class BatteryLife:
    """Expected life of the bank to 80 % of its label."""

    low_years: float
    """Lower end of the range."""
    high_years: float
    """Upper end of the range."""
    age_share_frac: float
    """Share of the loss that age takes, the rest is cycles."""
    full_cycles_per_year_count: float
    """Equivalent full cycles a year."""
    mean_degc: float
    """Mean cell temperature in use."""
    has_age: bool
    """False for lead-acid without a stated life in float service: cycles alone."""
    has_cycles: bool
    """False without a stated cycle life: age alone."""


def battery_life(design: Design, energy: EnergyResult) -> BatteryLife | None:
    """Return the expected life if uses follow one another with the season's storage days between; None without any figure.

    In storage the battery keeps the charge and the mean temperature it has at the end of the use.
    """
    part = design.battery_part()
    use_days, store_days = float(energy.day_count), float(design.job.season.storage_days)
    share = use_days / (use_days + store_days)
    cycles = rainflow_cycles(energy.soc_frac)
    uses_per_year = DAYS_PER_YEAR / (use_days + store_days)
    wear_per_year = uses_per_year * _wear(part.cycle_life, cycles.range_frac, cycles.count_factor)
    is_lfp = part.chemistry == "lfp"
    has_age, has_cycles = is_lfp or part.float_life_years > 0.0, bool(part.cycle_life)
    if not (has_age or has_cycles):
        return None
    age = _lfp_age(energy, share) if is_lfp else _lead_age(part, energy, share)
    years, age_share = _years(age, wear_per_year, is_root=is_lfp)
    return BatteryLife(
        low_years=min(years / SPREAD_FACTOR, MOST_YEARS),
        high_years=min(years * SPREAD_FACTOR, MOST_YEARS),
        age_share_frac=age_share,
        full_cycles_per_year_count=uses_per_year * float(cycles.range_frac @ cycles.count_factor),
        mean_degc=float(energy.cell_degc.mean()),
        has_age=has_age,
        has_cycles=has_cycles,
    )


def _years(age: float, wear_per_year: float, *, is_root: bool) -> tuple[float, float]:
    """Return the years to the end and the share of age in the loss.

    Parameters
    ----------
    age : loss by age over the loss allowed; per root of a year (`is_root`), else per year
    """
    if not is_root:
        total = age + wear_per_year
        return (1.0 / total if total > 0.0 else math.inf), (age / total if total > 0.0 else 0.0)
    if wear_per_year <= 0.0:
        return 1.0 / (age * age), 1.0
    root = (math.sqrt(age * age + 4.0 * wear_per_year) - age) / (2.0 * wear_per_year)
    return root * root, age * root


def _lfp_age(energy: EnergyResult, share: float) -> float:
    """Return the loss per root of a year over what may be lost.

    With changing stress the squares of the rate add up over time (square-root law, continued at equal loss).
    """
    used = float(np.mean(lfp_rate(energy.cell_degc, energy.soc_frac[:-1]) ** 2))
    stored = float(lfp_rate(np.array([energy.cell_degc.mean()]), energy.soc_frac[-1:])[0] ** 2)
    rate = math.sqrt(share * used + (1.0 - share) * stored)
    return rate * math.sqrt(DAYS_PER_YEAR * SECONDS_PER_DAY) / END_LOSS_FRAC


def lfp_rate(cell_degc: Array, soc_frac: Array) -> Array:
    """Return the loss of capacity per root of a second of a lithium iron phosphate cell at rest.

    M. Naumann and others (2018); fitted from 0 to 60 °C. Beyond that range it is no more than a guide.

    Examples
    --------
    >>> rate = lfp_rate(np.array([25.0]), np.array([0.5]))
    >>> round(float(rate[0]) * (365.25 * 86400) ** 0.5, 4)
    0.0425
    """
    heat = np.exp(
        -ACTIVATION_J_PER_MOL / GAS_J_PER_MOL_K * (1.0 / (cell_degc + ZERO_DEGC_K) - 1.0 / REFERENCE_K)
    )
    rate: Array = LOSS_PER_ROOT_S * heat * (CHARGE_CUBIC * (soc_frac - 0.5) ** 3 + CHARGE_LEVEL)
    return rate


def _lead_age(part: Battery, energy: EnergyResult, share: float) -> float:
    """Return the part of its life in float service that a year takes: twice as much for each 10 K above 20 °C."""
    if part.float_life_years <= 0.0:
        return 0.0
    warmer = np.maximum(energy.cell_degc - LEAD_REFERENCE_DEGC, 0.0) / LEAD_HALVING_K
    at_mean = max(float(energy.cell_degc.mean()) - LEAD_REFERENCE_DEGC, 0.0) / LEAD_HALVING_K
    return (
        share * float(np.mean(2.0**warmer)) + (1.0 - share) * math.pow(2.0, at_mean)
    ) / part.float_life_years


def _wear(points: tuple[CyclePoint, ...], depth_frac: Array, count: Array) -> float:
    """Return the share of the cycle life that cycles take (M. A. Miner, J. Appl. Mech. 12 (1945) A159, from memory)."""
    if not points:
        return 0.0
    return float(np.sum(count / cycles_to_end(points, np.maximum(depth_frac, 1e-6))))


def cycles_to_end(points: tuple[CyclePoint, ...], depth_frac: Array) -> Array:
    """Return the cycles of each depth to the end of life: straight between the points on logarithmic axes.

    Shallower than the first point the charge moved in all stays that of the first point (docs/choices.md#shallow-cycles).
    """
    depth = np.array([point.depth_frac for point in points])
    count = np.array([float(point.cycle_count) for point in points])
    inside = np.exp(np.interp(np.log(depth_frac), np.log(depth), np.log(count)))
    found: Array = np.where(depth_frac < depth[0], count[0] * depth[0] / depth_frac, inside)
    return found


def longest_gap_days(energy: EnergyResult) -> float:
    """Return the longest time without a full battery within the use; the start counts as the end of none."""
    full = np.flatnonzero(energy.soc_frac >= FULL_FRAC)
    edges = np.concatenate([[0], full, [energy.soc_frac.size - 1]])
    return float(np.diff(edges).max()) * energy.step_h / 24.0
