"""An inverter's overload as a thermal budget with a memory.

Heat of the square of the load fills a level that leaks away with a time constant; at 1 the inverter switches
off. A pause empties it only as far as its time constants go, so a short one gives little back.
"""

from __future__ import annotations

import math

from ampwright.parts.inverter import Inverter
from ampwright.records import record
from ampwright.sources import Source

__all__ = [
    "OVERLOAD_SOURCE",
    "Stretch",
    "ThermalBudget",
    "highest_start_level",
    "level_after",
    "overload_budget",
    "pause_s",
    "time_to_limit_s",
]

OVERLOAD_SOURCE = Source(
    document="IEC 60255-149",
    edition="2013",
    place="thermal level with memory, first order; fitted as in docs/choices.md#inverter-overload-budget",
    standing="second hand",
)
RECOVERY_CONSTANTS = 3.0
"""A stated recovery time is this many time constants (docs/choices.md#inverter-overload-budget)."""


@record
class ThermalBudget:
    """The model of one inverter in air of one temperature."""

    continuous_w: float
    """Power it gives for ever in that air."""
    continuous_va: float
    """Apparent power likewise."""
    heating_s: float
    """Time constant while the level rises."""
    cooling_s: float
    """Time constant while it falls."""

    def ratio(self, power_w: float, power_va: float) -> float:
        """Return the load over what it gives for ever, watts or volt-amperes, whichever is more."""
        return max(power_w / self.continuous_w, power_va / self.continuous_va)


@record
class Stretch:
    """A stretch of constant load."""

    lasts_s: float
    """How long."""
    load_factor: float
    """Load over the continuous one."""


def overload_budget(inverter: Inverter, *, output_frac: float) -> ThermalBudget:
    """Return the budget that is spent from cold in exactly the time of the tightest overload point.

    Parameters
    ----------
    output_frac : share of the continuous power at 25 degC that is left in the air it stands in

    Notes
    -----
    From cold t = τ ln(r² / (r² - 1)) with r the power over the continuous one, so each point gives a τ. The
    smallest heats (no point is ever exceeded), the largest cools, unless the part states its recovery time.
    """
    points = [(inverter.overload_w, inverter.overload_s)]
    points += [(point.power_w, point.lasts_s) for point in inverter.overload_more]
    constants = [_constant_s(power_w / inverter.continuous_w, lasts_s) for power_w, lasts_s in points]
    known = [constant for constant in constants if constant > 0.0]
    heating_s, slowest_s = min(known, default=0.0), max(known, default=0.0)
    stated_s = inverter.overload_recovery_s / RECOVERY_CONSTANTS
    return ThermalBudget(
        continuous_w=inverter.continuous_w * output_frac,
        continuous_va=inverter.continuous_va * output_frac,
        heating_s=heating_s,
        cooling_s=stated_s or slowest_s,
    )


def _constant_s(ratio: float, lasts_s: float) -> float:
    """Return the time constant of one point; 0 where it is no overload at all."""
    return lasts_s / math.log(ratio**2 / (ratio**2 - 1.0)) if ratio > 1.0 else 0.0


def level_after(budget: ThermalBudget, stretches: tuple[Stretch, ...], *, start: float = 0.0) -> float:
    """Return the level after some stretches; 1 = switches off.

    Examples
    --------
    >>> budget = ThermalBudget(continuous_w=1000, continuous_va=1000, heating_s=60, cooling_s=60)
    >>> round(level_after(budget, (Stretch(lasts_s=60, load_factor=1.0),)), 3)
    0.632
    """
    level = start
    for stretch in stretches:
        end = stretch.load_factor**2
        constant_s = budget.heating_s if end > level else budget.cooling_s
        left = math.exp(-stretch.lasts_s / constant_s) if constant_s > 0.0 else 0.0
        level = end + (level - end) * left
    return level


def time_to_limit_s(budget: ThermalBudget, stretches: tuple[Stretch, ...], *, start: float = 0.0) -> float:
    """Return the time until the level reaches 1; infinite where it never does.

    Examples
    --------
    >>> budget = ThermalBudget(continuous_w=1000, continuous_va=1000, heating_s=60, cooling_s=60)
    >>> round(time_to_limit_s(budget, (Stretch(lasts_s=600, load_factor=1.25),)), 1)
    61.3
    """
    level, passed_s = start, 0.0
    if level > 1.0:
        return 0.0
    for stretch in stretches:
        end = stretch.load_factor**2
        if end > 1.0:
            needed_s = budget.heating_s * math.log((end - level) / (end - 1.0))
            if needed_s <= stretch.lasts_s:
                return passed_s + needed_s
        level = level_after(budget, (stretch,), start=level)
        passed_s += stretch.lasts_s
    return math.inf


def highest_start_level(budget: ThermalBudget, stretches: tuple[Stretch, ...]) -> float:
    """Return the highest level from which some stretches still fit; negative where they do not even from cold.

    Going back from a level of 1 at the end; a load that cools is left out, which never gives a higher level.
    """
    level = 1.0
    for stretch in reversed(stretches):
        end = stretch.load_factor**2
        if end <= level:
            continue
        level = end - (end - level) * math.exp(min(stretch.lasts_s / budget.heating_s, 700.0))
    return level


def pause_s(budget: ThermalBudget, *, level: float, wanted: float, rest_ratio: float) -> float:
    """Return the pause that brings the level down to the wanted one while a lighter load goes on.

    Examples
    --------
    >>> budget = ThermalBudget(continuous_w=1000, continuous_va=1000, heating_s=60, cooling_s=60)
    >>> round(pause_s(budget, level=1.0, wanted=0.5, rest_ratio=0.0), 1)
    41.6
    """
    if level <= wanted:
        return 0.0
    rest = rest_ratio**2
    return budget.cooling_s * math.log((level - rest) / (wanted - rest)) if wanted > rest else math.inf
