"""The contents of refrigerators over the runs in plain sentences, each with the number behind it."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from ampwright.assessment.wording import temperature_text
from ampwright.job.design import Design
from ampwright.said import Said, said
from ampwright.sizing.chance import Chance
from ampwright.sizing.contents import ContentsChance

__all__ = ["contents_sentences", "hold_text", "lower_twentieth"]

TWENTIETH = 0.05


def contents_sentences(design: Design, chance: Chance) -> tuple[Said, ...]:
    """Return temperature, hours out of range and hold-over of each refrigerator over the runs."""
    found: list[Said] = []
    for one in chance.contents:
        found += [_temperature(design, one), _out_of_range(design, one)]
        if one.high_degc is not None:
            found.append(_hold_over(design, one, one.high_degc))
    return tuple(found)


def _temperature(design: Design, one: ContentsChance) -> Said:
    return said(
        "{load}: contents {low} to {high} in the middle run; in the worst twentieth down to {coldest}, up to {warmest}.",
        load=one.name,
        low=temperature_text(design, float(np.median(one.lowest_degc))),
        high=temperature_text(design, float(np.median(one.highest_degc))),
        coldest=temperature_text(design, lower_twentieth(one.lowest_degc)),
        warmest=temperature_text(design, -lower_twentieth(-one.highest_degc)),
    )


def _out_of_range(design: Design, one: ContentsChance) -> Said:
    total, out = one.out_h.size, int(np.count_nonzero(one.out_h))
    limits = _range(design, one)
    if not out:
        return said("They stay {range} in all {count} runs.", range=limits, count=total)
    return said(
        "They do not stay {range} in {out} of {count} runs, for {worst} in the worst one.",
        range=limits,
        out=out,
        count=total,
        worst=hold_text(float(one.out_h.max())),
    )


def _range(design: Design, one: ContentsChance) -> Said:
    low = None if one.low_degc is None else temperature_text(design, one.low_degc)
    high = None if one.high_degc is None else temperature_text(design, one.high_degc)
    if low is not None and high is not None:
        return said("within {low} to {high}", low=low, high=high)
    if high is None:
        return said("above {low}", low=low or "")
    return said("below {high}", high=high) if one.is_stated else said("below the usual {high}", high=high)


def _hold_over(design: Design, one: ContentsChance, high_degc: float) -> Said:
    return said(
        "If its supply fails at the worst moment, {degc} are reached after {middle} in the middle run, {worst} in the "
        "worst twentieth, opened as usual.",
        degc=temperature_text(design, high_degc),
        middle=hold_text(float(np.median(one.hold_over_h))),
        worst=hold_text(lower_twentieth(one.hold_over_h)),
    )


def lower_twentieth(values: NDArray[np.float64]) -> float:
    """Return the value that a twentieth of the runs lies at or below; endless times are allowed.

    Examples
    --------
    >>> lower_twentieth(np.array([3.0, 1.0, np.inf, 2.0]))
    1.0
    """
    return float(np.quantile(values, TWENTIETH, method="inverted_cdf"))


def hold_text(hours: float) -> Said:
    """Return a time to a limit: to a tenth of an hour below ten hours.

    Examples
    --------
    >>> hold_text(1.5337), hold_text(33.4), hold_text(120.0), hold_text(math.inf), hold_text(0.0)
    ('1.5 h', '33 h', '5.0 days', 'more than 60 days', 'no time')
    """
    if math.isinf(hours):
        return said("more than 60 days")
    if hours <= 0.0:
        return said("no time")
    if hours < 10.0:
        return said("{hours_h:.1f} h", hours_h=hours)
    if hours < 48.0:
        return said("{hours_h:.0f} h", hours_h=hours)
    return said("{days:.1f} days", days=hours / 24.0)
