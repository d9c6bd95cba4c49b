"""How clear the days of a month are, given the month's mean: the distribution that daily sequences are mapped onto."""

from __future__ import annotations

import csv
import math
from functools import cache, lru_cache
from importlib.resources import files
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

__all__ = ["bendt_quantile", "clearness_quantile", "markov_quantile", "markov_ranges"]

Array = NDArray[np.float64]

LEAST_CLEARNESS = 0.05  # P. Bendt, M. Collares-Pereira, A. Rabl, Solar Energy 27 (1981) 1 (from memory)
DULL_MONTH = 0.12
"""Below this monthly mean the lowest clearness is a third of the mean (docs/choices.md#dull-month)."""
DULL_MEAN, BRIGHT_MEAN = 0.28, 0.40
"""Up to the first Bendt's distribution, from the second on the Markov library's, between them a share of both
(docs/choices.md#clearness-distribution)."""
STATES = 10
SETTLING = 5000


class Range(NamedTuple):
    """Days of months in one range of mean clearness, as its Markov chain settles."""

    mean_frac: float
    share_below: Array
    edge_frac: Array


def clearness_quantile(share_frac: Array, mean_frac: float) -> Array:
    """Return the daily clearness below which this share of the days of such a month lies.

    In dull months Bendt's exponential (`bendt_quantile`), in bright ones what the published Markov library settles at
    (`markov_quantile`), which has fewer dull days. The mean is met exactly in both, and so in any share of the two.

    Notes
    -----
    For monthly means of 0.05 to 0.75.

    Examples
    --------
    >>> quantile = clearness_quantile(np.linspace(0.0005, 0.9995, 1000), 0.5)
    >>> round(float(quantile.mean()), 3)
    0.5
    """
    bright = min(max((mean_frac - DULL_MEAN) / (BRIGHT_MEAN - DULL_MEAN), 0.0), 1.0)
    if bright == 0.0:
        return bendt_quantile(share_frac, mean_frac)
    if bright == 1.0:
        return markov_quantile(share_frac, mean_frac)
    mixed: Array = (1.0 - bright) * bendt_quantile(share_frac, mean_frac)
    return mixed + bright * markov_quantile(share_frac, mean_frac)


def markov_quantile(share_frac: Array, mean_frac: float) -> Array:
    """Return the daily clearness below which this share of the days lies, by the Markov library.

    R. Aguiar, M. Collares-Pereira, J. P. Conde, Solar Energy 40 (1988) 269 (second hand, see the data file): the shares in
    which the chain of each range of monthly means visits its states. Between the means of two ranges the quantiles run
    straight, so that the mean is met exactly; beyond the last they shrink towards 1, before the first towards 0.
    """
    ranges = markov_ranges()
    means = [each.mean_frac for each in ranges]
    if mean_frac <= means[0]:
        return _quantile(ranges[0], share_frac) * (mean_frac / means[0])
    if mean_frac >= means[-1]:
        return 1.0 - (1.0 - _quantile(ranges[-1], share_frac)) * ((1.0 - mean_frac) / (1.0 - means[-1]))
    upper = int(np.searchsorted(means, mean_frac))
    weight = (mean_frac - means[upper - 1]) / (means[upper] - means[upper - 1])
    low, high = _quantile(ranges[upper - 1], share_frac), _quantile(ranges[upper], share_frac)
    return low + (high - low) * weight


def _quantile(days: Range, share_frac: Array) -> Array:
    return np.interp(share_frac, days.share_below, days.edge_frac)


@cache
def markov_ranges() -> tuple[Range, ...]:
    """Return what each chain of the library settles at; inside a state all clearnesses are alike likely."""
    text = files("ampwright.climate").joinpath("data/daily_clearness.csv").read_text(encoding="utf-8")
    rows = list(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))
    found = []
    for first in range(0, len(rows), STATES):
        chain = rows[first : first + STATES]
        next_day = np.array([[float(row[f"p{to:02d}"]) for to in range(1, STATES + 1)] for row in chain])
        next_day /= next_day.sum(axis=1, keepdims=True)  # printed to three places
        share = np.full(STATES, 1.0 / STATES) @ np.linalg.matrix_power(next_day, SETTLING)
        edge = np.linspace(float(chain[0]["low_frac"]), float(chain[0]["high_frac"]), STATES + 1)
        mean = float(share @ (0.5 * (edge[1:] + edge[:-1])))
        found.append(Range(mean, np.concatenate([[0.0], np.cumsum(share)]), edge))
    return tuple(found)


def bendt_quantile(share_frac: Array, mean_frac: float) -> Array:
    """Return the daily clearness below which this share of the days lies, by an exponential between two ends.

    P. Bendt, M. Collares-Pereira, A. Rabl, Solar Energy 27 (1981) 1: exponential between a least and a greatest
    clearness; the greatest by K. G. T. Hollands, R. G. Huget, Solar Energy 30 (1983) 195 (both from memory, as in
    Duffie and Beckman, section 2.9). The exponent is solved so that the mean is met exactly.

    Notes
    -----
    For monthly means of 0.05 to 0.75; outside, the greatest clearness is held between mean and 1.

    Examples
    --------
    >>> quantile = clearness_quantile(np.linspace(0.0005, 0.9995, 1000), 0.5)
    >>> round(float(quantile.mean()), 3)
    0.5
    """
    if mean_frac <= 0.0:
        return np.zeros_like(share_frac)
    low, high = _clearness_range(mean_frac)
    exponent = _exponent(low, high, mean_frac)
    if abs(exponent) < 1e-9:
        return low + share_frac * (high - low)
    # relative to the end with the greater weight, so that no power overflows
    if exponent > 0.0:
        near = np.exp(-exponent * (high - low))
        upper: Array = high + np.log(share_frac + (1.0 - share_frac) * near) / exponent
        return upper
    near = np.exp(exponent * (high - low))
    lower: Array = low + np.log((1.0 - share_frac) + share_frac * near) / exponent
    return lower


def _clearness_range(mean_frac: float) -> tuple[float, float]:
    low = LEAST_CLEARNESS if mean_frac >= DULL_MONTH else mean_frac / 3.0
    high = 0.6313 + 0.267 * mean_frac - 11.9 * (mean_frac - 0.75) ** 8
    return low, min(max(high, mean_frac + 0.05), 1.0)


@lru_cache(maxsize=256)
def _exponent(low: float, high: float, mean: float) -> float:
    """Return the exponent of the exponential density between `low` and `high` with this mean."""
    below, above = -400.0, 400.0
    for _ in range(80):
        middle = 0.5 * (below + above)
        below, above = (middle, above) if _mean(low, high, middle) < mean else (below, middle)
    return 0.5 * (below + above)


def _mean(low: float, high: float, exponent: float) -> float:
    """Return the mean of the density proportional to exp(exponent x) between two ends."""
    width = high - low
    if abs(exponent * width) < 1e-6:
        return 0.5 * (low + high)
    if exponent > 0.0:
        return high - 1.0 / exponent + width / math.expm1(min(exponent * width, 700.0))
    return low - 1.0 / exponent - width / math.expm1(min(-exponent * width, 700.0))
